"""Columns of few places, written row by row; no database stands behind them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.library.store.columns import Columns, Words


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A place with at most one repair. held, failed: days after it; None: it never failed."""

    kind: str
    cause: str | None
    quarter: str | None = "2029-Q1"
    origin: str = "own"
    method: str | None = None
    held: int = 0
    failed: float | None = None


def words(told: Iterable[str | None]) -> Words:
    """A column, its words in the order in which they come first."""
    every = list(told)
    known = list(dict.fromkeys(word for word in every if word is not None))
    at = [known.index(word) if word is not None else -1 for word in every]
    return Words(tuple(known), np.array(at, dtype=np.int64))


def few_columns(rows: Sequence[Row]) -> Columns:
    """One case for each place."""
    count = len(rows)
    zeros, nothing = np.zeros(count, np.int64), words([None] * count)
    never = np.full(count, np.nan)
    repaired = [number for number, row in enumerate(rows) if row.method is not None]
    return Columns(
        case=np.arange(count),
        place_id=np.arange(count),
        place=np.ones(count, np.int64),
        site=nothing,
        kind=words(row.kind for row in rows),
        quarter=words(row.quarter for row in rows),
        origin=words(row.origin for row in rows),
        visits=zeros,
        status=nothing,
        cause=words(row.cause for row in rows),
        how=nothing,
        contributors=nothing,
        method=nothing,
        closed_because=nothing,
        reopened=zeros,
        first_day=zeros,
        closed_day=never,
        shown_best=nothing,
        shown_rank=never,
        shown_confidence=never,
        repair_row=np.array(repaired, dtype=np.int64),
        repair_method=words(rows[number].method for number in repaired),
        repair_held=np.array([rows[number].held for number in repaired], dtype=np.int64),
        repair_failed=np.array(
            [np.nan if (day := rows[number].failed) is None else day for number in repaired],
            dtype=np.float64,
        ),
    )
