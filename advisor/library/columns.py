"""All places and repairs as columns, for counting."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from sqlalchemy import Connection, Select, select

from advisor.library.tables import cases, places, repairs

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
    """Both tables are read in one transaction: they fit together."""
    c, p, r = cases.c, places.c, repairs.c
    rows = _rows(
        connection,
        select(
            *(p.case_id, p.id, p.place, c.site, c.kind, c.quarter, c.origin, c.visits),
            *(p.status, p.cause, p.how, p.contributors, p.method, p.closed_because, p.reopened),
            *(p.first_day, p.closed_day, p.shown_best, p.shown_rank, p.shown_confidence),
        )
        .join_from(places, cases)
        .order_by(p.id),
        20,
    )
    done = _rows(connection, select(r.place_id, r.method, r.held, r.failed).order_by(r.id), 4)
    place_id = _ints(rows[1])
    return Columns(
        case=_ints(rows[0]),
        place_id=place_id,
        place=_ints(rows[2]),
        site=_words(rows[3]),
        kind=_words(rows[4]),
        quarter=_words(rows[5]),
        origin=_words(rows[6]),
        visits=_ints(rows[7]),
        status=_words(rows[8]),
        cause=_words(rows[9]),
        how=_words(rows[10]),
        contributors=_words(rows[11]),
        method=_words(rows[12]),
        closed_because=_words(rows[13]),
        reopened=_ints(rows[14]),
        first_day=_ints(rows[15]),
        closed_day=_floats(rows[16]),
        shown_best=_words(rows[17]),
        shown_rank=_floats(rows[18]),
        shown_confidence=_floats(rows[19]),
        repair_row=np.searchsorted(place_id, _ints(done[0])),
        repair_method=_words(done[1]),
        repair_held=_ints(done[2]),
        repair_failed=_floats(done[3]),
    )


def packed(connection: Connection) -> tuple[bytes, ...]:
    """In the order of `columns`."""
    (found,) = _rows(connection, select(places.c.packed).order_by(places.c.id), 1)
    return tuple(found)


def _rows(connection: Connection, query: Select[Any], width: int) -> list[Sequence[Any]]:
    """The columns of a query."""
    rows = connection.execute(query).cursor.fetchall()  # the driver's own rows: the rest is slow
    return list(zip(*rows, strict=True)) if rows else [()] * width


def _ints(column: Sequence[int]) -> Ints:
    return np.array(column, dtype=np.int64)


def _floats(column: Sequence[float | None]) -> Floats:
    return np.array(column, dtype=np.float64)  # None becomes NaN


def _words(column: Sequence[str | None]) -> Words:
    """In order of first mention."""
    known: dict[str | None, int] = {None: -1}
    at = np.fromiter(
        (known.setdefault(word, len(known) - 1) for word in column), np.int64, len(column)
    )
    return Words(tuple(word for word in known if word is not None), at)
