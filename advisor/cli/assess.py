"""`advisor assess`: callout files in, the result out."""

import sys
from collections.abc import Sequence

from advisor.assessment import Assessment, Reasons, assess_all, reasons
from advisor.assessment.assemble import Like
from advisor.callout import Callout
from advisor.cli.app_parts import NOTHING, Asked
from advisor.cli.exits import DONE, WRONG
from advisor.cli.files import no_such_leak, read_files
from advisor.cli.opening import Refused, opened, tell
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.report import brief_lines, screen_lines
from advisor.terms import Problem
from advisor.version import __version__


def assess_files(
    files: Sequence[str],
    *,
    form: str,
    leak: str | None,
    folder: str | None,
    screen: Screen,
    library: Asked = NOTHING,
) -> int:
    """Print the result of all files that can be read. Returns the exit code."""

    try:
        knowledge = opened(folder)
    except Refused as refused:
        tell(refused.problems)
        if form == "json":
            print(_nothing(refused.problems).to_json())
        return refused.code
    callouts, unread = read_files(files, knowledge)

    def answer(knowledge: Knowledge, like: Like | None, told: Sequence[Problem]) -> int:
        problems = [*unread, *told]
        code = _answer(
            callouts, knowledge, form=form, leak=leak, screen=screen, like=like, problems=problems
        )
        if unread and callouts:
            print(f"{len(callouts)} of {len(files)} files answered.", file=sys.stderr)
        return code

    if library.similar or library.own_history:
        # Only who asks for the library waits for it.
        from advisor.cli.assess_library import with_own_cases  # noqa: PLC0415

        return with_own_cases(library, knowledge, answer)
    return answer(knowledge, None, ())


def _answer(
    callouts: Sequence[Callout],
    knowledge: Knowledge,
    *,
    form: str,
    leak: str | None,
    screen: Screen,
    like: Like | None,
    problems: list[Problem],
) -> int:
    if leak is not None and callouts and not any(callout.leak(leak) for callout in callouts):
        problems.append(no_such_leak(leak, callouts))
    assessment = assess_all(callouts, knowledge, leak=leak, problems=problems, like=like)
    if form == "json":
        print(assessment.to_json())
    elif form == "brief":
        screen.show(brief_lines(knowledge, assessment))
    else:
        told = _reasons(knowledge, callouts, leak) if form == "reasons" else None
        screen.show(screen_lines(screen.page, knowledge, assessment, reasons=told))
    tell(problems)
    return WRONG if problems else DONE


def _reasons(knowledge: Knowledge, callouts: Sequence[Callout], leak: str | None) -> list[Reasons]:
    """In the order of the result."""
    return [
        reasons(knowledge, callout, place)
        for callout in callouts
        for place in callout.leaks
        if leak in (None, place.key)
    ]


def _nothing(problems: Sequence[Problem]) -> Assessment:
    """The result where the knowledge cannot be used: only why not."""
    return Assessment(advisor=__version__, knowledge="", problems=tuple(problems))
