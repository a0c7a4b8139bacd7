"""Phrases: what the program says is what the knowledge holds, and every fault is told."""

import ast
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

import pytest
from hypothesis import given
from hypothesis import strategies as st

import advisor
from advisor.knowledge import STEPS, open_folder, open_knowledge, shipped
from advisor.knowledge.asked import ASKED
from advisor.knowledge.read_attributes import KNOWERS
from advisor.knowledge.read_weights import STATUSES
from advisor.terms import Faulty, Problem

PACKAGE = Path(advisor.__file__).parent
COUNTED = ("one", "many")


def calls() -> Iterator[tuple[str, ast.expr, tuple[str, ...]]]:
    """Every place that says a phrase: the file, what stands for its key, the names given."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            if name == "say" and node.args:
                yield path.name, node.args[0], tuple(k.arg or "" for k in node.keywords)


def test_each_phrase_is_given_the_names_that_it_asks_for() -> None:
    said = 0
    for file, key, names in calls():
        if isinstance(key, ast.Constant):
            assert set(ASKED[key.value]) == set(names), f"{file}: {key.value}"
            said += 1
    assert said > 150


def test_each_phrase_is_said_somewhere() -> None:
    """By its key, as one of a row of keys, or by a key put together of words."""
    words: set[str] = set()
    patterns: list[str] = []
    for path in PACKAGE.rglob("*.py"):
        if path.name == "asked.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                words |= {node.value, *(f"{node.value}-{form}" for form in COUNTED)}
                words |= {f"list-of-{node.value}", *(f"{w}-{node.value}" for w in _LIKELINESS)}
            elif isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                patterns.append(
                    "".join(
                        re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".+"
                        for part in node.values
                    )
                )
    told = re.compile("|".join(p for p in patterns if re.fullmatch(r"[a-z\\-]+\.\+(\\-\.\+)?", p)))
    counted = re.compile("hardly-(for|against)-it-(one|many)")
    unsaid = {
        key
        for key in ASKED
        if key not in words and not told.fullmatch(key) and not counted.fullmatch(key)
    }
    assert unsaid == set()


_LIKELINESS = ("common", "likely")


def test_each_word_of_a_list_has_its_phrase() -> None:
    phrases = open_knowledge().phrases
    assert phrases.keys() == ASKED.keys()
    for prefix, words in (("step", STEPS), ("who", KNOWERS), ("status", STATUSES)):
        assert {f"{prefix}-{word}" for word in words} <= phrases.keys()


@given(st.data())
def test_a_phrase_says_what_it_is_given(data: st.DataObject) -> None:
    knowledge = open_knowledge()
    key = data.draw(st.sampled_from(sorted(ASKED)))
    given_ = {name: data.draw(st.text("ab {}%:äß€", max_size=20)) for name in ASKED[key]}
    said = knowledge.say(key, **given_)
    expected = "".join(
        literal + (given_[name] if name else "")
        for literal, name, _, _ in Formatter().parse(knowledge.phrases[key])
    )
    assert said == expected


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    return Path(shutil.copytree(shipped("knowledge"), tmp_path / "knowledge"))


def problems_of(folder: Path) -> list[Problem]:
    with pytest.raises(Faulty) as caught:
        open_folder(folder)
    return list(caught.value.problems)


def test_a_missing_phrase_is_told_with_what_it_would_have_in_it(copied: Path) -> None:
    path = copied / "phrases" / "screen.yaml"
    lines = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(x for x in lines if not x.startswith("settled-on-cause:")))
    (problem,) = problems_of(copied)
    assert str(problem) == (
        'phrases:1:1: settled-on-cause: the phrase "settled-on-cause" is missing; '
        "expected a text with {cause}"
    )


def test_a_misspelt_phrase_is_told_once(copied: Path) -> None:
    path = copied / "phrases" / "screen.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("which-water:", "wich-water:"), encoding="utf-8")
    (problem,) = problems_of(copied)
    assert (problem.key, problem.nearest) == ("wich-water", "which-water")


def test_a_folder_without_any_phrase(copied: Path) -> None:
    shutil.rmtree(copied / "phrases")
    (problem,) = problems_of(copied)
    assert problem.message == "there is no phrase"


def test_a_torn_file_of_phrases_is_told_once(copied: Path) -> None:
    path = copied / "phrases" / "screen.yaml"
    path.write_text("which-path: [", encoding="utf-8")
    (problem,) = problems_of(copied)
    assert problem.file == "phrases/screen.yaml"


def test_one_may_be_said_in_a_word_and_a_brace_doubled(tmp_path: Path) -> None:
    (tmp_path / "phrases.yaml").write_text(
        'causes-out-one: {says: "eine Ursache {{aus}}"}\nwhich-path: {says: "welcher Weg?"}\n'
    )
    own = open_knowledge(tmp_path)
    assert own.say("causes-out-one", count=1) == "eine Ursache {aus}"
    assert [str(p) for p in own.differences] == [
        f"{tmp_path}/phrases.yaml:1:1: phrases causes-out-one: has other words",
        f"{tmp_path}/phrases.yaml:2:1: phrases which-path: has other words",
    ]
    assert own.changed == 2
    assert own.fingerprint != open_knowledge().fingerprint
