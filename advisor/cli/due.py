"""`advisor due`: where records stand, and the looks that are due."""

from collections.abc import Sequence
from datetime import date

from advisor.assessment import to_json
from advisor.assessment.due import stands
from advisor.cli.exits import DONE, WRONG
from advisor.cli.files import read_files
from advisor.cli.opening import ended, opened, tell
from advisor.cli.records import record_files
from advisor.cli.screen import Screen
from advisor.repair.log_keys import log_problems
from advisor.report.due import record_lines
from advisor.report.lines import Line
from advisor.terms import Faulty, Problem


def show_due(
    paths: Sequence[str], *, by: str | None, json: bool, folder: str | None, screen: Screen
) -> int:
    """Print each record. Returns the exit code."""

    def command() -> int:
        knowledge = opened(folder)
        day = None if by is None else _day(by)
        callouts, problems = read_files([str(file) for file in record_files(paths)], knowledge)
        for callout in callouts:
            problems += log_problems(knowledge, callout)
        found = stands(knowledge, callouts, by=day, problems=problems)
        if json:
            print(to_json(found))
        else:
            lines: list[Line] = []
            for record in found.records:
                lines += [*record_lines(screen.page, knowledge, record), Line("")]
            lines += screen.page.wrap(knowledge.say("due-no-deadline"))
            screen.show(lines)
        tell(problems)
        return WRONG if problems else DONE

    return ended(command)


def _day(written: str) -> date:
    """Raises Faulty where it is none."""
    try:
        return date.fromisoformat(written)
    except ValueError:
        told = f'"{written[:40]}" is no day'
        raise Faulty(Problem(message=told, key="--by", expected="YYYY-MM-DD")) from None
