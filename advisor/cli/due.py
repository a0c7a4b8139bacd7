"""`advisor due`: where records stand, and the looks that are due."""

import json as json_of
from collections.abc import Sequence
from dataclasses import fields
from datetime import date
from typing import Any

from advisor.assessment import FORMAT
from advisor.assessment.logging import open_gates
from advisor.callout import Callout
from advisor.callout.status import stand
from advisor.cli.exits import DONE, WRONG
from advisor.cli.files import read_files
from advisor.cli.opening import Refused, opened, tell
from advisor.cli.records import record_files
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.repair.closing import due_by, due_looks
from advisor.repair.log_keys import log_problems
from advisor.report.lines import Line
from advisor.report.log import dates_of, record_lines
from advisor.terms import Faulty, Problem


def show_due(
    paths: Sequence[str], *, by: str | None, json: bool, folder: str | None, screen: Screen
) -> int:
    """Print each record. Returns the exit code."""
    try:
        knowledge = opened(folder)
        day = None if by is None else _day(by)
        files = record_files(paths)
    except Refused as refused:
        tell(refused.problems)
        return refused.code
    except Faulty as faulty:
        tell(faulty.problems)
        return WRONG
    callouts, problems = read_files([str(file) for file in files], knowledge)
    for callout in callouts:
        problems += log_problems(knowledge, callout)
    if json:
        told = {
            "format": FORMAT,
            "records": [_plain(knowledge, callout, day) for callout in callouts],
            "problems": [_told(problem) for problem in problems],
        }
        print(json_of.dumps(told, ensure_ascii=False))
    else:
        lines: list[Line] = []
        for callout in callouts:
            unmet = {leak.key: open_gates(knowledge, callout, leak) for leak in callout.leaks}
            lines += record_lines(screen.page, knowledge, callout, by=day, unmet=unmet)
            lines.append(Line(""))
        lines += screen.page.wrap(knowledge.say("due-no-deadline"))
        screen.show(lines)
    tell(problems)
    return WRONG if problems else DONE


def _told(problem: Problem) -> dict[str, Any]:
    """As in every result."""
    return {field.name: getattr(problem, field.name) for field in fields(problem)}


def _day(written: str) -> date:
    """Raises Faulty where it is none."""
    try:
        return date.fromisoformat(written)
    except ValueError:
        told = f'"{written[:40]}" is no day'
        raise Faulty(Problem(message=told, key="--by", expected="YYYY-MM-DD")) from None


def _plain(knowledge: Knowledge, callout: Callout, by: date | None) -> dict[str, Any]:
    return {
        "callout": callout.key,
        "file": callout.file,
        "leaks": [
            {
                "leak": leak.key,
                "status": (now := stand(callout, leak)).status,
                "since": now.since and now.since.isoformat(),
                "reopened": now.reopened,
                "due": [
                    {
                        "proof": look.proof,
                        "look": look.look,
                        "first": look.first and look.first.isoformat(),
                        "last": look.last and look.last.isoformat(),
                        "water_up": look.water_up,
                        "state": look.state,
                    }
                    for look in due_by(due_looks(knowledge, callout, leak), by)
                ],
                "before_closing": [g.text for g in open_gates(knowledge, callout, leak)],
                "dates": [
                    {"date": day.isoformat(), "what": what}
                    for day, what in dates_of(knowledge, callout, leak)
                ],
            }
            for leak in callout.leaks
        ],
    }
