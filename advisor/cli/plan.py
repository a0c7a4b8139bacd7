"""`advisor plan`: the repair sheet of each wet place."""

from collections.abc import Sequence
from pathlib import Path

from advisor.assessment.sheet import Sheets, repair_sheets
from advisor.callout import Callout
from advisor.cli.app_parts import NOTHING, Asked
from advisor.cli.exits import DONE, WRONG
from advisor.cli.files import no_such_leak, read_files
from advisor.cli.opening import Refused, opened, printable, tell
from advisor.cli.screen import Screen
from advisor.diagnosis import idle_releases
from advisor.knowledge import Knowledge
from advisor.repair.firm import Firm
from advisor.repair.firm_reader import read_firm
from advisor.report import sheet_lines
from advisor.report.history import history_lines
from advisor.report.lines import Line
from advisor.terms import Faulty, Problem, nearest


def plan_repair(
    file: str,
    *,
    leak: str | None,
    method: str | None,
    firm: str | None,
    json: bool,
    folder: str | None,
    screen: Screen,
    library: Asked = NOTHING,
) -> int:
    """Print the repair sheet. Returns the exit code."""

    def answer(knowledge: Knowledge, _: object, told: Sequence[Problem]) -> int:
        try:
            wanted = None if method is None else _method(knowledge, method)
        except Faulty as faulty:
            return _nothing(faulty.problems, WRONG, json=json)
        has, faults = _firm(firm, knowledge)
        callouts, problems = _read(file, leak, knowledge)
        problems += [*faults, *told]
        sheets = repair_sheets(
            callouts, knowledge, leak=leak, method=wanted, firm=has, problems=problems
        )
        if json:
            print(sheets.to_json())
        else:
            _show(screen, knowledge, sheets)
        tell(problems)
        for callout in callouts:
            tell(idle_releases(knowledge, callout))
        return WRONG if problems else DONE

    try:
        knowledge = opened(folder)
    except Refused as refused:
        return _nothing(refused.problems, refused.code, json=json)
    if library.own_history:
        # Only who asks for the library waits for it.
        from advisor.cli.assess_library import with_own_cases  # noqa: PLC0415

        return with_own_cases(library, knowledge, answer)
    return answer(knowledge, None, ())


def _read(file: str, leak: str | None, knowledge: Knowledge) -> tuple[list[Callout], list[Problem]]:
    callouts, problems = read_files([file], knowledge)
    if leak is not None and callouts and not any(callout.leak(leak) for callout in callouts):
        problems.append(no_such_leak(leak, callouts))
    return callouts, problems


def _show(screen: Screen, knowledge: Knowledge, sheets: Sheets) -> None:
    lines: list[Line] = []
    for sheet in sheets.sheets:
        lines += [*sheet_lines(screen.page, knowledge, sheet), Line("")]
    screen.show([*lines, *history_lines(screen.page, knowledge)])


def _nothing(problems: Sequence[Problem], code: int, *, json: bool) -> int:
    """No sheet, only why not. Returns the exit code."""
    tell(problems)
    if json:
        print(Sheets(knowledge="", sheets=(), problems=tuple(problems)).to_json())
    return code


def _method(knowledge: Knowledge, written: str) -> str:
    """Raises Faulty where there is none of that name."""
    key = "-".join(written.split())
    if key not in knowledge.methods:
        raise Faulty(
            Problem(
                message=f'"{printable(written)}" is no method',
                key="--method",
                expected="a method that `advisor knowledge list` shows",
                nearest=nearest(key, knowledge.methods),
            )
        )
    return key


def _firm(folder: str | None, knowledge: Knowledge) -> tuple[Firm | None, list[Problem]]:
    """What the firm has; None where no folder is given or it cannot be read."""
    if folder is None:
        return None, []
    try:
        firm, problems = read_firm(Path(folder), knowledge)
    except Faulty as faulty:
        return None, list(faulty.problems)
    return firm, list(problems)
