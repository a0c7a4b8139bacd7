"""All places and repairs as columns, for counting."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from sqlalchemy import ColumnElement, Connection, LargeBinary, Text, cast, func, select

from advisor.library.alike.packed import PackedPlaces, split
from advisor.library.store.tables import cases, places, repairs

_BETWEEN, _MISSING = "\n", "?"
"""Between rows, and for none; neither is a letter of any key."""

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Words:
    """A column of words. at: for each row the place of its word in `words`; -1: it has none."""

    words: tuple[str, ...]
    at: Ints

    def are(self, word: str) -> npt.NDArray[np.bool_]:
        """The rows that have this word."""
        return np.asarray(self.at == self.words.index(word) if word in self.words else self.at < -1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """One row for each wet place, in order of case and place; NaN: not known.

    case, place_id: ids of the tables. contributors: of one place, a space between them.
    repair_row: for each repair the row of its place here; the days are those after the repair,
    failed is NaN where it had not. repair_*: one row for each repair.
    """

    case: Ints
    place_id: Ints
    place: Ints
    site: Words
    kind: Words
    quarter: Words
    origin: Words
    visits: Ints
    status: Words
    cause: Words
    how: Words
    contributors: Words
    method: Words
    closed_because: Words
    reopened: Ints
    first_day: Ints
    closed_day: Floats
    shown_best: Words
    shown_rank: Floats
    shown_confidence: Floats
    repair_row: Ints
    repair_method: Words
    repair_held: Ints
    repair_failed: Floats


def columns(connection: Connection) -> Columns:
    """All tables are read in one transaction: they fit together."""
    c, p, r = cases.c, places.c, repairs.c
    of_case = _read(connection, (c.id, c.site, c.kind, c.quarter, c.origin, c.visits))
    rows = _read(
        connection,
        (
            *(p.id, p.case_id, p.place, p.status, p.cause, p.how, p.contributors, p.method),
            *(p.closed_because, p.reopened, p.first_day, p.closed_day),
            *(p.shown_best, p.shown_rank, p.shown_confidence),
        ),
    )
    done = _read(connection, (r.id, r.place_id, r.method, r.held, r.failed))
    place_id, case = rows[0].ints(), rows[1].ints()
    case_row = np.searchsorted(of_case[0].ints(), case)
    return Columns(
        case=case,
        place_id=place_id,
        place=rows[2].ints(),
        site=of_case[1].words(case_row),
        kind=of_case[2].words(case_row),
        quarter=of_case[3].words(case_row),
        origin=of_case[4].words(case_row),
        visits=of_case[5].ints()[case_row],
        status=rows[3].words(),
        cause=rows[4].words(),
        how=rows[5].words(),
        contributors=rows[6].words(),
        method=rows[7].words(),
        closed_because=rows[8].words(),
        reopened=rows[9].ints(),
        first_day=rows[10].ints(),
        closed_day=rows[11].floats(),
        shown_best=rows[12].words(),
        shown_rank=rows[13].floats(),
        shown_confidence=rows[14].floats(),
        repair_row=np.searchsorted(place_id, done[1].ints()),
        repair_method=done[2].words(),
        repair_held=done[3].ints(),
        repair_failed=done[4].floats(),
    )


def packed(connection: Connection) -> PackedPlaces:
    """In the order of ids. The database joins them: a row at a time takes three times as long."""
    ordered = select(places.c.packed).order_by(places.c.id).subquery()
    joined = select(cast(func.aggregate_strings(ordered.c.packed, ""), LargeBinary))
    return split(connection.execute(joined).scalar_one() or b"", _place_ids(connection))


def _place_ids(connection: Connection) -> Ints:
    """Rising. Without gaps, as where nothing was erased, they need not be read."""
    i = places.c.id
    first, last, count = connection.execute(select(func.min(i), func.max(i), func.count())).one()
    if not count:
        return np.zeros(0, np.int64)
    if last - first + 1 == count:
        return np.arange(first, last + 1)
    told = connection.execute(select(func.aggregate_strings(cast(i, Text), _BETWEEN))).scalar_one()
    return np.sort(_Column(told, None).ints())


@dataclass(frozen=True, slots=True)
class _Column:
    """A column as text, its rows in any order. order: that of the ids, None where they rise."""

    text: str
    order: npt.NDArray[np.intp] | None

    def ints(self) -> Ints:
        return self._ordered(np.fromstring(self.text, np.int64, sep=_BETWEEN))

    def floats(self) -> Floats:
        text = self.text.replace(_MISSING, "nan")
        return np.asarray(self._ordered(np.fromstring(text, np.float64, sep=_BETWEEN)))

    def words(self, rows: npt.NDArray[np.intp] | None = None) -> Words:
        """rows: those to take, where not all in their order."""
        numbers = _Numbers()
        told = self.text.split(_BETWEEN) if self.text else []
        at = self._ordered(np.fromiter(map(numbers.__getitem__, told), np.int64, len(told)))
        words = tuple(word for word in numbers if word != _MISSING)
        return Words(words, at if rows is None else at[rows])

    def _ordered(self, values: npt.NDArray[Any]) -> npt.NDArray[Any]:
        return values if self.order is None else values[self.order]


class _Numbers(dict[str, int]):
    """A word asked for the first time gets the next number; no word has -1."""

    def __init__(self) -> None:
        super().__init__({_MISSING: -1})

    def __missing__(self, word: str) -> int:
        self[word] = len(self) - 1
        return self[word]


def _read(connection: Connection, wanted: Sequence[ColumnElement[Any]]) -> list[_Column]:
    """The first is the id. The database joins each column to one text: row by row through
    the driver it takes half as long again."""
    told = [func.coalesce(cast(column, Text), _MISSING) for column in wanted]
    joined = select(*(func.aggregate_strings(one, _BETWEEN) for one in told))
    texts = [text or "" for text in connection.execute(joined).one()]
    ids = _Column(texts[0], None).ints()
    order = None if (np.diff(ids) > 0).all() else np.argsort(ids)
    return [_Column(text, order) for text in texts]
