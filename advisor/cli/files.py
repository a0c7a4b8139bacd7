"""Callout files named on the command line."""

import sys
from collections.abc import Sequence

from advisor.callout import Callout
from advisor.cli.opening import printable
from advisor.knowledge import Knowledge
from advisor.terms import Faulty, Problem, nearest, one_of
from advisor.terms.source_file import LARGEST

STANDARD_INPUT = "-"


def read_files(files: Sequence[str], knowledge: Knowledge) -> tuple[list[Callout], list[Problem]]:
    """Those that can be read, and what is wrong with the others."""
    callouts: list[Callout] = []
    problems: list[Problem] = []
    for number, file in enumerate(files):
        try:
            if file == STANDARD_INPUT in files[:number]:
                raise Faulty(Problem(message="standard input is read once", file=file))
            callouts.append(_read(file, knowledge))
        except Faulty as faulty:
            problems += faulty.problems
    return callouts, problems


def _read(file: str, knowledge: Knowledge) -> Callout:
    """Raises Faulty with every problem of the file."""
    if file == STANDARD_INPUT:
        if sys.stdin is None:
            raise Faulty(Problem(message="the input is closed", file=file))
        try:
            data = sys.stdin.buffer.read(LARGEST + 1)
        except OSError as error:
            reason = (error.strerror or "unknown reason").lower()
            raise Faulty(Problem(message=f"cannot be read ({reason})", file=file)) from None
        return Callout.parse(data, file, knowledge.attributes)
    if printable(file) != file:
        raise Faulty(
            Problem(
                message="the name of this file is not in UTF-8",
                file=printable(file),
                expected="a file with a readable name",
            )
        )
    return Callout.read(file, knowledge.attributes)


def no_such_leak(leak: str, callouts: Sequence[Callout]) -> Problem:
    """What is said of a wet place that is in none of the files."""
    known = list(dict.fromkeys(place.key for callout in callouts for place in callout.leaks))
    return Problem(
        message=f'there is no wet place "{printable(leak)}"',
        file=callouts[0].file if len(callouts) == 1 else "",
        key="--leak",
        expected=one_of(known),
        nearest=nearest(leak, known),
    )
