"""Our columns of an imported table: what each takes, and how its cells are read.

A reader takes a text that is not empty and raises Faulty, without a place, for what it cannot read:
nothing is guessed, and no free text gets through.
"""

import re
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache, partial
from typing import Any, Final, get_args

from advisor.callout.csv_table import quoted
from advisor.callout.log_record import HELD, WITHOUT, How, State, WaterUp
from advisor.callout.status import Status
from advisor.knowledge import Knowledge
from advisor.library.case import Origin
from advisor.library.moves.import_findings import (
    FINDING,
    finding_attribute,
    finding_names,
    read_finding,
    unread,
    what_it_takes,
)
from advisor.terms import Problem, nearest, one_of

Reader = Callable[[str], Any]

UNKNOWN: Final = "unknown"
LOOKS: Final = tuple(f"look-{number}" for number in range(1, 7))
DATED: Final = ("date", "done", "confirmed", "closed", *LOOKS)
"""Columns with a date."""
DATES: Final = {
    "YYYY-MM-DD": re.compile(r"(?P<y>[0-9]{4})-(?P<m>[0-9]{1,2})-(?P<d>[0-9]{1,2})"),
    "DD.MM.YYYY": re.compile(r"(?P<d>[0-9]{1,2})\.(?P<m>[0-9]{1,2})\.(?P<y>[0-9]{4})"),
    "MM/DD/YYYY": re.compile(r"(?P<m>[0-9]{1,2})/(?P<d>[0-9]{1,2})/(?P<y>[0-9]{4})"),
}
LAST_DAY: Final = 40_000
"""Days from the first visit that a case can hold."""

_YES_NO = frozenset(("yes", "no"))
_WHOLE = re.compile(r"-?[0-9]{1,9}")
_QUARTER = re.compile(r"[0-9]{4}-Q[1-4]")
_CLOCK = re.compile(r"[ T][0-9]{2}:[0-9]{2}(:[0-9]{2}(\.0+)?)?")


@dataclass(frozen=True, slots=True)
class OurColumn:
    """takes: in words. coded: a text that is none of its keys is a word to be mapped. many: several
    in a cell, with semicolon or comma between them; then `read` takes one of them. known: its
    words, where it has some.
    """

    name: str
    takes: str
    read: Reader
    coded: bool = True
    many: bool = False
    known: tuple[str, ...] = ()


def our_column(
    knowledge: Knowledge, name: str, dates: str = "YYYY-MM-DD", unit: str | None = None
) -> OurColumn:
    """dates: one of DATES. unit: of a finding that is a bare number.

    Raises Faulty, without a place, where there is no such column.
    """
    if name.startswith(FINDING):
        return _finding_column(knowledge, name, unit)
    if (plain := _plain_columns(knowledge).get(name)) is not None:
        return plain
    if name in DATED:
        return OurColumn(name, f"a date as {dates}", partial(_day, dates), coded=False)
    names = our_names(knowledge)
    raise unread("there is no such column of ours", None, nearest(name, names))


def our_names(knowledge: Knowledge) -> tuple[str, ...]:
    """Every column that can be mapped."""
    return (*plain_names(knowledge), *finding_names(knowledge))


def plain_names(knowledge: Knowledge) -> tuple[str, ...]:
    """Those that are no findings."""
    return (*_plain_columns(knowledge), *DATED)


def asked(column: OurColumn, text: str, problem: Problem, *, near: bool = True) -> Problem:
    """A problem of reading a text, with what the column takes. near: also the nearest of its words,
    which takes time."""
    close = problem.nearest or (nearest(text, column.known) if near and column.known else None)
    return replace(problem, expected=problem.expected or column.takes, nearest=close)


def whole_reader(lowest: int, highest: int) -> Reader:
    return partial(_whole, lowest, highest)


@lru_cache(maxsize=4)
def _plain_columns(knowledge: Knowledge) -> dict[str, OurColumn]:
    """Those that are no findings and no dates."""
    causes, contributors = list(knowledge.causes), list(knowledge.contributors)
    day = ("days after the first visit", whole_reader(0, LAST_DAY), False)
    columns = [
        OurColumn("case", "your own number of the case", str, coded=False),
        OurColumn("place", "a number from 1 on", whole_reader(1, 1000), coded=False),
        OurColumn("quarter", "a quarter as 2031-Q2", _quarter, coded=False),
        OurColumn("visits", "a whole number", whole_reader(0, 1000), coded=False),
        words_column("origin", get_args(Origin)),
        words_column("kind", (*knowledge.kinds, UNKNOWN)),
        words_column("status", get_args(Status)),
        words_column("cause", causes),
        words_column("confirmed-how", get_args(How)),
        words_column("contributors", contributors, many=True),
        words_column("method", list(knowledge.methods), many=True),
        OurColumn("done-day", *day, many=True),
        OurColumn("confirmed-day", *day),
        OurColumn("closed-day", *day),
        words_column("closed-because", (HELD, *WITHOUT)),
        OurColumn("reopened", "yes or no", yes_no, known=("yes", "no")),
    ]
    for look in LOOKS:
        columns.append(words_column(f"{look}-state", get_args(State)))
        columns.append(words_column(f"{look}-water-up", get_args(WaterUp)))
    return {column.name: column for column in columns}


def words_column(name: str, known: Collection[str], *, many: bool = False) -> OurColumn:
    read = partial(_word, frozenset(known))
    return OurColumn(name, one_of(known), read, many=many, known=tuple(known))


def _finding_column(knowledge: Knowledge, name: str, unit: str | None) -> OurColumn:
    attribute = finding_attribute(knowledge, name)
    reader = partial(read_finding, knowledge, attribute, unit)
    return OurColumn(name, what_it_takes(attribute), reader)


def _word(known: frozenset[str], text: str) -> str:
    """Spaces stand for hyphens."""
    key = "-".join(text.split())
    if key in known:
        return key
    raise unread(f"{quoted(text)} is none of its words")


def yes_no(text: str) -> bool:
    return _word(_YES_NO, text) == "yes"


def _whole(lowest: int, highest: int, text: str) -> int:
    if _WHOLE.fullmatch(text) and lowest <= int(text) <= highest:
        return int(text)
    raise unread(f"{quoted(text)} cannot be", f"a whole number, {lowest} to {highest}")


def _quarter(text: str) -> str:
    if _QUARTER.fullmatch(text):
        return text
    raise unread(f"{quoted(text)} is no quarter", "a quarter as 2031-Q2")


def _day(form: str, text: str) -> date:
    """A time of day behind it is passed over."""
    found = DATES[form].match(text)
    rest = text[found.end() :] if found else ""
    if found is None or (rest and not _CLOCK.fullmatch(rest)):
        other = next((name for name, other in DATES.items() if other.fullmatch(text)), None)
        expected = f"a date as {form}" + (f"; the mapping may say dates: {other}" if other else "")
        raise unread(f"{quoted(text)} is no date here", expected)
    try:
        return date(int(found["y"]), int(found["m"]), int(found["d"]))
    except ValueError:
        raise unread(f"there is no day {found[0]}", f"a date as {form}") from None
