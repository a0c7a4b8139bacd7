"""What is asked of the library on the command line, checked before anything is done."""

import re
from collections.abc import Collection
from datetime import date
from typing import Any, get_args

from advisor.callout.status import Status
from advisor.cli.opening import printable
from advisor.knowledge import Knowledge
from advisor.library.moves.backfill import QUARTER
from advisor.terms import Faults, Faulty, Problem, nearest, one_of


def check_wanted(knowledge: Knowledge, wanted: dict[str, Any]) -> None:
    """Raises Faulty where a key is none, with the nearest one."""
    listed = "that `advisor knowledge list` shows"
    known: dict[str, tuple[Collection[str], str]] = {
        "kind": (knowledge.kinds, f"a kind {listed}"),
        "cause": (knowledge.causes, f"a cause {listed}"),
        "method": (knowledge.methods, f"a method {listed}"),
        "status": (get_args(Status), one_of(get_args(Status))),
    }
    problems = [
        Problem(
            message=f'there is no {name} "{printable(key)}"',
            key=f"--{name}",
            expected=expected,
            nearest=nearest(key, keys),
        )
        for name, (keys, expected) in known.items()
        if (key := wanted.get(name)) is not None and key not in keys
    ]
    problems += [
        Problem(message=f'"{printable(said)}" is no quarter', key=key, expected="such as 2029-Q3")
        for name, key in (("quarter_from", "--since"), ("quarter_to", "--until"))
        if (said := wanted.get(name)) is not None and not re.fullmatch(QUARTER, said)
    ]
    if problems:
        raise Faulty(problems)


def checked_hold(who: str | None, why: str | None, review: str | None) -> date:
    """The day of the review. Raises Faulty with all that is missing."""
    faults = Faults()
    for key, said, expected in (
        ("--who", who, "who holds it, as a role"),
        ("--why", why, "for which reason"),
    ):
        if not (said or "").strip():
            faults.add(Problem(message="this is missing", key=key, expected=expected))
    day = date.min
    with faults.catch():
        day = _review(review)
    faults.stop()
    return day


def _review(written: str | None) -> date:
    """Raises Faulty where it is no day."""
    try:
        return date.fromisoformat(written or "")
    except ValueError:
        told = (
            "the day of the review is missing"
            if not written
            else f'"{printable(written[:40])}" is no day'
        )
        raise Faulty(Problem(message=told, key="--review", expected="YYYY-MM-DD")) from None
