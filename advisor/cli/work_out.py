"""`advisor work-out`: a sum by hand, from findings given on the command line or asked for."""

import sys
from collections.abc import Sequence

from advisor.assessment import WorkedOutSum, missing, read_given, to_json, work_out
from advisor.cli.exits import DONE
from advisor.cli.given import read_pairs
from advisor.cli.opening import ended, opened, printable
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge, Sum
from advisor.report import (
    question_lines,
    subject_lines,
    subjects_json,
    subjects_lines,
    sum_lines,
)
from advisor.terms import Faults, Faulty, Problem, nearest


def list_subjects(*, json: bool, folder: str | None, screen: Screen) -> int:
    """Print what can be worked out. Returns the exit code."""

    def command() -> int:
        knowledge = opened(folder)
        if json:
            print(subjects_json(knowledge))
        else:
            screen.show(subjects_lines(screen.page, knowledge))
        return DONE

    return ended(command)


def work_out_subject(
    subject: str,
    words: Sequence[str],
    *,
    json: bool,
    explain: bool,
    folder: str | None,
    screen: Screen,
) -> int:
    """Print the sum, or what it needs. Returns the exit code."""

    def command() -> int:
        knowledge = opened(folder)
        entry = _subject(knowledge, subject)
        if explain:
            screen.show(subject_lines(screen.page, knowledge, entry))
            return DONE
        file, rest = _loads_file(entry, words)
        given = _given(knowledge, rest)
        if not json:
            given |= _asked_for(knowledge, entry, given, screen)
        found = _worked_out(knowledge, entry, given, file)
        if json:
            print(to_json(found))
        else:
            screen.show(sum_lines(screen.page, knowledge, entry, found))
        return DONE

    return ended(command)


def _subject(knowledge: Knowledge, written: str) -> Sum:
    """Raises Faulty where there is none."""
    key = "-".join(written.split())
    if key not in knowledge.sums:
        raise Faulty(
            Problem(
                message=f'"{printable(written)}" is nothing that can be worked out',
                expected="a subject that `advisor work-out` lists",
                nearest=nearest(key, knowledge.sums),
            )
        )
    return knowledge.sums[key]


LOADS = "loads="


def _loads_file(subject: Sum, words: Sequence[str]) -> tuple[str | None, list[str]]:
    """The file of loads, where the subject reads one, and the other words."""
    files = [word.removeprefix(LOADS) for word in words if word.startswith(LOADS)]
    if not files or not subject.loads:
        return None, list(words)
    return files[-1], [word for word in words if not word.startswith(LOADS)]


def _worked_out(
    knowledge: Knowledge, subject: Sum, given: dict[str, str], file: str | None
) -> WorkedOutSum:
    if file is None:
        return work_out(knowledge, subject, given)
    # Only who reads loads waits for it.
    from advisor.assessment.dosing import work_out_loads  # noqa: PLC0415
    from advisor.callout.loads import read_loads  # noqa: PLC0415

    return work_out_loads(knowledge, subject, given, file, read_loads(file))


def _given(knowledge: Knowledge, words: Sequence[str]) -> dict[str, str]:
    """What is given as ATTRIBUTE=VALUE. Raises Faulty with everything that is wrong with it."""
    like = "crack-width='0.2 mm', in quotes where it holds a space"
    faults = Faults()
    given = read_pairs(words, faults, form="ATTRIBUTE=VALUE", like=like)
    with faults.catch():
        read_given(knowledge, given)
    faults.stop()
    return given


def _asked_for(
    knowledge: Knowledge, subject: Sum, given: dict[str, str], screen: Screen
) -> dict[str, str]:
    """What is still missing, asked on the terminal; nothing where there is none."""
    answers: dict[str, str] = {}
    if screen.terminal is None or sys.stdin is None or not sys.stdin.isatty():
        return answers
    for key in missing(knowledge, subject, given):
        if answer := _ask(knowledge, key, screen):
            answers[key] = answer
    return answers


def _ask(knowledge: Knowledge, key: str, screen: Screen) -> str:
    """One answer that can be read; empty where nobody knows."""
    terminal = screen.terminal
    assert terminal is not None
    assert sys.stdin is not None
    for line in question_lines(screen.page, knowledge, key):
        print(line.text, file=terminal)
    while True:
        print(f"{key} = ", end="", file=terminal, flush=True)
        answer = sys.stdin.readline().strip()
        if not answer:
            return ""
        try:
            read_given(knowledge, {key: answer})
        except Faulty as faulty:
            for problem in faulty.problems:
                print(problem, file=terminal)
        else:
            return answer
