"""Worked cases on disk: callouts whose cause was found out later."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from advisor.callout import Callout, Truth
from advisor.knowledge import Knowledge
from advisor.terms import (
    Faults,
    Faulty,
    Node,
    Problem,
    fault,
    listing,
    mapping,
    nearest,
    read,
    word,
)

FLOOR: Final = "floor.yaml"
"""The file of a folder of cases that says how good the answers have been."""


@dataclass(frozen=True, slots=True)
class Case:
    """A callout and what it was."""

    callout: Callout
    truth: Truth


def read_cases(
    paths: Sequence[Path], knowledge: Knowledge
) -> tuple[tuple[Case, ...], tuple[Problem, ...]]:
    """The cases in files and folders, and what is wrong with those that cannot be used."""
    cases: list[Case] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            files = _case_files(path)
        except Faulty as faulty:
            problems += faulty.problems
            continue
        for file in files:
            try:
                cases.append(_read_case(file, knowledge))
            except Faulty as faulty:
                problems += faulty.problems
    return tuple(cases), tuple(problems)


def _case_files(path: Path) -> list[Path]:
    if not path.is_dir():
        return [path]
    files = sorted(file for file in path.rglob("*.yaml") if file.name != FLOOR)
    if not files:
        raise Faulty(
            Problem(
                message="there is no worked case in this folder",
                file=str(path),
                expected="files *.yaml with a truth",
            )
        )
    return files


def _read_case(path: Path, knowledge: Knowledge) -> Case:
    callout = Callout.read(path, knowledge.attributes)
    if callout.truth is None:
        raise Faulty(
            Problem(
                message="this callout is no worked case",
                file=str(path),
                key="truth",
                expected="truth: {causes: [KEY, …], blind: yes or no, because: …}",
            )
        )
    if not knowledge.causes.keys() >= set(callout.truth.causes):
        _refuse_causes(read(path), knowledge)
    return Case(callout, callout.truth)


def _refuse_causes(document: Node, knowledge: Knowledge) -> None:
    """Raises Faulty with every unknown cause of a truth, at its place."""
    truth = mapping(document).get("truth")
    causes = mapping(truth).get("causes") if truth is not None else None
    faults = Faults()
    for node in listing(causes) if causes is not None else ():
        with faults.catch():
            if (key := word(node)) not in knowledge.causes:
                raise fault(
                    node,
                    f'there is no cause "{key}"',
                    key="truth",
                    expected="a cause that `advisor knowledge list` shows",
                    nearest=nearest(key, knowledge.causes),
                )
    faults.stop()
