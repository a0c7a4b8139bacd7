"""`advisor knowledge`: check, list and show what the advisor knows."""

from advisor.cli.exits import DONE, WRONG
from advisor.cli.opening import Refused, opened, printable, tell
from advisor.cli.screen import Screen
from advisor.engine import separations
from advisor.report import (
    called,
    entry_lines,
    knowledge_lines,
    known_keys,
    list_lines,
    lists_json,
    problem_lines,
    separation_lines,
)
from advisor.terms import Problem, nearest


def check(*, folder: str | None, separation: bool, screen: Screen) -> int:
    """Print every fault, or that there is none, and the remarks. Returns the exit code."""
    try:
        knowledge = opened(folder)
    except Refused as refused:
        if refused.code == WRONG:
            tell(refused.problems)
        else:  # the faults are what was asked for
            screen.show(problem_lines(screen.page, refused.problems))
            print(f"Faults: {len(refused.problems)}.")
        return refused.code
    screen.show(knowledge_lines(screen.page, knowledge))
    if separation:
        pairs = separations(knowledge.model)
        screen.show(separation_lines(screen.page, knowledge, pairs))
    return DONE


def list_all(*, folder: str | None, json: bool, screen: Screen) -> int:
    """Print all keys. Returns the exit code."""
    try:
        knowledge = opened(folder)
    except Refused as refused:
        tell(refused.problems)
        return refused.code
    if json:
        print(lists_json(knowledge))
    else:
        screen.show(list_lines(screen.page, knowledge))
    return DONE


def show(key: str, *, folder: str | None, screen: Screen) -> int:
    """Print the entries of a key. Returns the exit code."""
    try:
        knowledge = opened(folder)
    except Refused as refused:
        tell(refused.problems)
        return refused.code
    written = "-".join(key.split())
    lines = entry_lines(screen.page, knowledge, written)
    if not lines:  # `deposits.lime` is a part of `deposits`
        lines = entry_lines(screen.page, knowledge, written.partition(".")[0])
    if not lines:
        problem = Problem(
            message=f'nothing has the key "{printable(key)}"',
            expected="a key that `advisor knowledge list` shows",
            nearest=called(knowledge, key) or nearest(written, known_keys(knowledge)),
        )
        tell([problem])
        return WRONG
    screen.show(lines)
    return DONE
