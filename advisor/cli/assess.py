"""`advisor assess`: callout files in, the result out."""

import sys
from collections.abc import Sequence

from advisor.assessment import Assessment, Reasons, assess_all, reasons
from advisor.callout import Callout
from advisor.cli.exits import DONE, WRONG
from advisor.cli.opening import Refused, opened, printable, tell
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.report import brief_lines, screen_lines
from advisor.terms import Faulty, Problem, nearest, one_of
from advisor.terms.source_file import LARGEST
from advisor.version import __version__

STANDARD_INPUT = "-"


def assess_files(
    files: Sequence[str], *, form: str, leak: str | None, folder: str | None, screen: Screen
) -> int:
    """Print the result of all files that can be read. Returns the exit code."""
    try:
        knowledge = opened(folder)
    except Refused as refused:
        tell(refused.problems)
        if form == "json":
            print(_nothing(refused.problems).to_json())
        return refused.code
    callouts, problems = read_files(files, knowledge)
    if leak is not None and callouts and not any(callout.leak(leak) for callout in callouts):
        problems.append(_no_such_leak(leak, callouts))
    assessment = assess_all(callouts, knowledge, leak=leak, problems=problems)
    if form == "json":
        print(assessment.to_json())
    elif form == "brief":
        screen.show(brief_lines(knowledge, assessment))
    else:
        told = _reasons(knowledge, callouts, leak) if form == "reasons" else None
        screen.show(screen_lines(screen.page, knowledge, assessment, reasons=told))
    tell(problems)
    if problems and assessment.leaks:
        print(f"{len(callouts)} of {len(files)} files answered.", file=sys.stderr)
    return WRONG if problems else DONE


def _reasons(knowledge: Knowledge, callouts: Sequence[Callout], leak: str | None) -> list[Reasons]:
    """In the order of the result."""
    return [
        reasons(knowledge, callout, place)
        for callout in callouts
        for place in callout.leaks
        if leak in (None, place.key)
    ]


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


def _no_such_leak(leak: str, callouts: Sequence[Callout]) -> Problem:
    known = list(dict.fromkeys(place.key for callout in callouts for place in callout.leaks))
    return Problem(
        message=f'there is no wet place "{printable(leak)}"',
        file=callouts[0].file if len(callouts) == 1 else "",
        key="--leak",
        expected=one_of(known),
        nearest=nearest(leak, known),
    )


def _nothing(problems: Sequence[Problem]) -> Assessment:
    """The result where the knowledge cannot be used: only why not."""
    return Assessment(advisor=__version__, knowledge="", problems=tuple(problems))
