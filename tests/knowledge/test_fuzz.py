"""Shipped files, torn about at random: read, or told in messages, never a traceback."""

import random
from pathlib import Path

import pytest

from advisor.engine import compile_engine
from advisor.knowledge import open_knowledge, shipped
from advisor.terms import Faulty, Problem

FILES = sorted(shipped("knowledge").rglob("*.yaml"))
JUNK = (
    "",
    "0",
    "-1",
    "1e400",
    "~",
    "no",
    "[]",
    "{}",
    "[a, b]",
    "{a: b}",
    "unknown",
    "a b",
    "é",
    "|",
)


def mutated(text: str, chance: random.Random) -> str:
    """A few lines dropped, doubled, moved, or with another word in them."""
    lines = text.splitlines()
    pool = text.replace(":", " ").replace(",", " ").split()
    for _ in range(chance.randint(1, 4)):
        at = chance.randrange(len(lines))
        match chance.randrange(5):
            case 0:
                lines.pop(at)
            case 1:
                lines.insert(at, lines[at])
            case 2:
                lines.insert(chance.randrange(len(lines)), lines.pop(at))
            case 3:
                key, colon, _ = lines[at].partition(":")
                lines[at] = f"{key}{colon} {chance.choice(JUNK)}"
            case _:
                words = lines[at].split(" ")
                words[chance.randrange(len(words))] = chance.choice(pool)
                lines[at] = " ".join(words)
        if not lines:
            return ""
    return "\n".join(lines)


def survive(seed: int, folder: Path) -> None:
    chance = random.Random(seed)
    source = chance.choice(FILES)
    path = folder / source.relative_to(shipped("knowledge"))
    path.parent.mkdir(exist_ok=True)
    path.write_text(mutated(source.read_text(encoding="utf-8"), chance), encoding="utf-8")
    problems = problems_of(folder)
    assert all(p.message and p.file for p in problems)


def problems_of(folder: Path) -> tuple[Problem, ...]:
    """Faults; else the remarks, once the engine could be made."""
    try:
        knowledge = open_knowledge(folder)
    except Faulty as faulty:
        return faulty.problems
    compile_engine(knowledge.model)
    return knowledge.remarks


@pytest.mark.parametrize("seed", range(40))
def test_a_few_mutations(seed: int, tmp_path: Path) -> None:
    survive(seed, tmp_path)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(1000, 3000))
def test_many_mutations(seed: int, tmp_path: Path) -> None:
    survive(seed, tmp_path)
