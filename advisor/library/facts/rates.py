"""How many leaks and repairs there were for what was built in the same quarters."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from advisor.knowledge import Knowledge
from advisor.library.facts.counting import Bools
from advisor.library.facts.intervals import garwood
from advisor.library.facts.paths import Paths, not_through
from advisor.library.facts.supplied import BASES, Amount, Base, Supplied, quarter_of, say_quarter
from advisor.library.store.columns import Columns, Ints, Words

PER: Final[dict[Base, float]] = {"metres-of-joint": 1_000.0, "cubic-metres": 10_000.0}
"""Rates are told for so many."""

Counted = Literal["leaks", "repairs"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """kind, path: None for all. base: what was built, in metres or cubic metres, in `quarters`
    quarters between first and last. rate, low, high: of `count` for each `per` of it."""

    kind: str | None
    path: str | None
    of: Counted
    count: int
    base_is: Base
    base: float
    quarters: int
    first: str
    last: str
    per: float
    rate: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """first, last: the quarters that the library covers, None of an empty one.

    left_out: quarters of the file that it does not cover. undated: wet places without a quarter,
    which are in no rate. Nor are those that do not come through the structure.
    """

    first: str | None
    last: str | None
    left_out: int
    undated: int
    rates: tuple[Rate, ...]


def rates(knowledge: Knowledge, columns: Columns, paths: Paths, supplied: Supplied) -> Rates:
    """A case counts in the quarter of its first visit, a repair in that of its case.

    The library covers the quarters from its first case to its last. What was built in a year
    counts where the library covers all of it: how much of it fell into each quarter is not known.
    The intervals are Garwood's, of a count that varies by chance alone.
    """
    quarter = _numbered(columns.quarter)
    dated = quarter[quarter >= 0]
    span = range(int(dated.min()), int(dated.max()) + 1) if dated.size else range(0)
    covered = [one for one in supplied if all(quarter in span for quarter in one.quarters)]
    left_out = {q for one in supplied if one not in covered for q in one.quarters}
    rows = _Rows(columns, paths.path, quarter, ~not_through(knowledge, columns))
    return Rates(
        first=say_quarter(span[0]) if span else None,
        last=say_quarter(span[-1]) if span else None,
        left_out=len(left_out),
        undated=int(np.count_nonzero(quarter < 0)),
        rates=tuple(_rates(rows, covered)),
    )


@dataclass(frozen=True, slots=True)
class _Rows:
    """One for each wet place. quarter: its number, -1 where it has none."""

    columns: Columns
    path: Words
    quarter: Ints
    through: Bools


def _rates(rows: _Rows, covered: list[Amount]) -> Iterator[Rate]:
    """Leaks and repairs, then the leaks of each path that has any."""
    kinds = dict.fromkeys(one.kind for one in covered)
    for kind in sorted(kinds, key=lambda one: (one is not None, one or "")):
        for base in BASES:
            amounts = [one for one in covered if (one.kind, one.base) == (kind, base)]
            if not sum(one.amount for one in amounts):
                continue
            quarters = [quarter for one in amounts for quarter in one.quarters]
            counted = rows.through & np.isin(rows.quarter, quarters)
            if kind is not None:
                counted &= rows.columns.kind.are(kind)
            repairs = int(np.count_nonzero(counted[rows.columns.repair_row]))
            by_path = np.bincount(rows.path.at[counted] + 1, minlength=len(rows.path.words) + 1)
            yield _rate(amounts, None, "leaks", int(by_path.sum()))
            yield _rate(amounts, None, "repairs", repairs)
            for path, count in sorted(zip(rows.path.words, by_path[1:], strict=True)):
                if count:
                    yield _rate(amounts, path, "leaks", int(count))


def _rate(amounts: list[Amount], path: str | None, of: Counted, count: int) -> Rate:
    quarters = sorted(quarter for one in amounts for quarter in one.quarters)
    base, per = sum(one.amount for one in amounts), PER[amounts[0].base]
    low, high = garwood(count)
    return Rate(
        kind=amounts[0].kind,
        path=path,
        of=of,
        count=count,
        base_is=amounts[0].base,
        base=base,
        quarters=len(quarters),
        first=say_quarter(quarters[0]),
        last=say_quarter(quarters[-1]),
        per=per,
        rate=count / base * per,
        low=low / base * per,
        high=high / base * per,
    )


def _numbered(words: Words) -> Ints:
    """For each row the number of its quarter; -1 where it has none."""
    numbers = np.array([*(quarter_of(word) for word in words.words), -1], np.int64)
    return np.asarray(numbers[words.at])
