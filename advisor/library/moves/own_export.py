"""The library's own CSV read back: the columns that `csv_out` writes, with the case's token."""

import re
from functools import lru_cache, partial
from typing import Final, NamedTuple, get_args

from advisor.callout.csv_table import quoted
from advisor.callout.log_record import State, WaterUp
from advisor.knowledge import Knowledge
from advisor.library.moves.csv_out import COLUMNS, CSV_FORMAT, MARK, WITHIN
from advisor.library.moves.csv_rows import Sheet
from advisor.library.moves.import_columns import (
    LAST_DAY,
    OurColumn,
    our_column,
    whole_reader,
    yes_no,
)
from advisor.library.moves.import_findings import read_exported, unread
from advisor.terms import Faulty, Place, nearest, problem_at
from advisor.terms.source_file import unreadable

WORKED_OUT: Final = ("first-shown", "first-confidence", "held-days", "failed-day")
"""Columns for people. The first two tell too little of an answer, the others follow from looks."""
NEEDED: Final = ("case", "place", "kind")

_TOKEN = re.compile(r"[0-9a-f]{32}")
_LOOK = re.compile(
    r"(-?[0-9]{1,5}):(" + "|".join(get_args(State)) + "):(" + "|".join(get_args(WaterUp)) + ")"
    r"(?::(" + "|".join(WITHIN.values()) + "))?"
)


class LookAfter(NamedTuple):
    """after: days from the repair before it."""

    after: int
    state: State
    water_up: WaterUp
    within: bool | None


def is_own(sheet: Sheet) -> bool:
    """Whether the library wrote it."""
    return sheet.header[0] == MARK


def own_columns(sheet: Sheet, knowledge: Knowledge) -> list[OurColumn | None]:
    """One for each column of the sheet; None: it is not read back.

    Raises Faulty where a column is unknown or missing, or a later version wrote the file.
    """
    later = max((_version(row.cells[0]) for row in sheet.rows), default=CSV_FORMAT)
    if later > CSV_FORMAT:
        message = f"a later version of the advisor wrote this (format {later})"
        raise unreadable(sheet.file, message, f"format {CSV_FORMAT}, or a newer advisor")
    problems = []
    for number, name in enumerate(sheet.header, 1):
        if name not in COLUMNS:
            place = Place(sheet.file, sheet.header_line, number)
            message = "the library exports no such column"
            problems.append(problem_at(place, message, key=name, nearest=nearest(name, COLUMNS)))
    for name in NEEDED:
        if name not in sheet.header:
            place = Place(sheet.file, sheet.header_line, 1)
            problems.append(problem_at(place, "this column is missing", key=name))
    if problems:
        raise Faulty(problems)
    return [_own(knowledge).get(name) for name in sheet.header]


def _version(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 9 else 0


@lru_cache(maxsize=4)
def _own(knowledge: Knowledge) -> dict[str, OurColumn]:
    """Of the other columns of the form, those that are read as everybody's."""
    day = whole_reader(-LAST_DAY, LAST_DAY)
    days = "days from the first visit"
    columns = [
        OurColumn(MARK, str(CSV_FORMAT), whole_reader(CSV_FORMAT, CSV_FORMAT), coded=False),
        OurColumn("case", "32 digits 0-9 and a-f", _token, coded=False),
        OurColumn("invented", "yes or no", yes_no, known=("yes", "no")),
        OurColumn("confirmed-day", days, day, coded=False),
        OurColumn("done-day", days, day, coded=False, many=True),
        OurColumn("closed-day", days, day, coded=False),
        OurColumn("looks-after", "DAYS:STATE:WATER-UP", _looks, coded=False),
        OurColumn("findings", "ATTRIBUTE=VALUE", partial(read_exported, knowledge), many=True),
    ]
    found = {column.name: column for column in columns}
    others = [name for name in COLUMNS if name not in found and name not in WORKED_OUT]
    return found | {name: our_column(knowledge, name) for name in others}


def _token(text: str) -> str:
    if _TOKEN.fullmatch(text):
        return text
    raise unread(f"{quoted(text)} is no token of a case")


def _looks(text: str) -> tuple[tuple[LookAfter, ...], ...]:
    """For each repair the looks after it."""
    return tuple(tuple(_look(word) for word in group.split()) for group in text.split(";"))


def _look(text: str) -> LookAfter:
    found = _LOOK.fullmatch(text)
    if found is None or abs(int(found[1])) > 2 * LAST_DAY:
        raise unread(f"{quoted(text)} is no look")
    state: State = next(one for one in get_args(State) if one == found[2])
    water_up: WaterUp = next(one for one in get_args(WaterUp) if one == found[3])
    within = {word: told for told, word in WITHIN.items()}.get(found[4] or "")
    return LookAfter(int(found[1]), state, water_up, within)
