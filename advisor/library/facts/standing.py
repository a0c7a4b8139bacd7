"""How many wet places there are, and how they stand. No clock is asked: the oldest open one is
told by its quarter."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from advisor.callout.log_record import Without
from advisor.knowledge import Knowledge
from advisor.library.facts.counting import (
    Count,
    Groups,
    Quartiles,
    all_one,
    counts_by,
    first_of_each,
    groups_of,
    least_by,
    quartiles_by,
)
from advisor.library.facts.paths import Paths, not_through
from advisor.library.store.columns import Columns

CLOSED: Final = "closed"
HANDED_OVER: Final = "handed-over"
_WITHIN_CLASS: Final[Without] = "within-the-agreed-class"


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """key: a path, a water or a kind of structure; None: all, or those of which it is not known.

    confirmed: of these the cause was confirmed. open: logged as it went, and neither closed nor
    handed over.
    oldest_open: the quarter of the first visit. days_to_close: from the first visit.
    visits_a_case: of cases whose visits are known. not_through: closed so, or so confirmed.
    never_confirmed: closed without a confirmed cause.
    """

    key: str | None
    all: Count
    confirmed: Count
    open: Count
    oldest_open: str | None
    closed: Count
    handed_over: Count
    days_to_close: Quartiles | None
    visits_a_case: Quartiles | None
    reopened: Count
    not_through: Count
    within_class: Count
    never_confirmed: Count


@dataclass(frozen=True, slots=True, kw_only=True)
class Standings:
    """A place stands once in each list; a case with several places may stand in several rows.

    confirmed: in by_path and by_water the others rest on the cause that was shown first.
    """

    all: Standing
    by_path: tuple[Standing, ...]
    by_water: tuple[Standing, ...]
    by_kind: tuple[Standing, ...]


def standings(knowledge: Knowledge, columns: Columns, paths: Paths) -> Standings:
    """All of it, and by path, water and kind of structure."""
    lists = [
        _standings(knowledge, columns, groups)
        for groups in (
            all_one(columns.case.size),
            groups_of(paths.path),
            groups_of(paths.water),
            groups_of(columns.kind),
        )
    ]
    whole, by_path, by_water, by_kind = lists
    return Standings(all=whole[0], by_path=by_path, by_water=by_water, by_kind=by_kind)


def _standings(knowledge: Knowledge, columns: Columns, groups: Groups) -> tuple[Standing, ...]:
    closed = columns.status.are(CLOSED)
    handed_over = columns.status.are(HANDED_OVER)
    confirmed = columns.cause.at >= 0
    # Of what was written up later nobody says whether it was closed.
    is_open = ~closed & ~handed_over & columns.origin.are("own")
    rows = {
        "all": np.ones(columns.case.size, np.bool_),
        "confirmed": confirmed,
        "open": is_open,
        "closed": closed,
        "handed_over": handed_over,
        "reopened": columns.reopened > 0,
        "not_through": not_through(knowledge, columns),
        "within_class": columns.closed_because.are(_WITHIN_CLASS),
        "never_confirmed": closed & ~confirmed,
    }
    counts = counts_by(groups, columns.case, rows)
    oldest = least_by(groups, columns.quarter, is_open)
    ended = np.flatnonzero(closed & np.isfinite(columns.closed_day))
    days = quartiles_by(groups, columns.closed_day, ended)
    visited = first_of_each(groups, columns.case, columns.visits > 0)
    visits = quartiles_by(groups, columns.visits.astype(np.float64), visited)
    return tuple(
        Standing(
            key=key,
            oldest_open=oldest[at],
            days_to_close=days[at],
            visits_a_case=visits[at],
            **{name: found[at] for name, found in counts.items()},
        )
        for at, key in enumerate(groups.names)
    )
