"""What held, for how long: by method, and by method and path."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from advisor.knowledge import Knowledge
from advisor.library.facts.paths import Paths
from advisor.library.facts.survival import (
    MONTHS,
    Between,
    Holding,
    interval_censored,
    kaplan_meier,
    log_rank,
)
from advisor.library.store.columns import Columns, Floats, Ints, Words

LEAST_SITES: Final = 5
"""What rests on fewer sites is not shown: it would tell of those sites, not of the method."""
_OWN: Final = "own"


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """The repairs with one method. path: the group of causes they were made against; None: all,
    or those of which it is not known.

    silent: of `repairs`, those that no look tested. sites: distinct ones of the others.
    weight: what the others count together. confirmed: repairs of places with a confirmed cause.
    """

    method: str
    path: str | None
    repairs: int
    confirmed: int
    silent: int
    sites: int
    weight: float
    kaplan_meier: tuple[Holding, ...]
    interval_censored: tuple[Between, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NotShown:
    """Groups that rest on fewer than five sites, and their repairs."""

    groups: int
    repairs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Unlike:
    """The two most used methods on a path. p: how likely a difference as large as theirs is, if
    they hold alike; by the log-rank test. repairs: of each, logged as they went and tested."""

    path: str
    methods: tuple[str, str]
    repairs: tuple[int, int]
    p: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatHeld:
    """repairs: all there are. silent: of these, those that no look tested."""

    repairs: int
    silent: int
    by_method: tuple[Held, ...]
    methods_not_shown: NotShown
    by_method_and_path: tuple[Held, ...]
    not_shown: NotShown
    unlike: tuple[Unlike, ...]


def what_held(knowledge: Knowledge, columns: Columns, paths: Paths) -> WhatHeld:
    """Repairs count what their origin weighs in the knowledge."""
    rows = _Rows(knowledge, columns, paths)
    by_method, methods_not_shown = _shown(rows, np.full(rows.path.at.shape, -1))
    by_both, not_shown = _shown(rows, rows.path.at)
    return WhatHeld(
        repairs=int(rows.method.at.size),
        silent=int(np.count_nonzero(~rows.tested)),
        by_method=by_method,
        methods_not_shown=methods_not_shown,
        by_method_and_path=by_both,
        not_shown=not_shown,
        unlike=tuple(_unlike(rows)),
    )


def curves(
    knowledge: Knowledge, columns: Columns, methods: tuple[str, ...], days: range
) -> dict[str, tuple[Holding, ...]]:
    """How the repairs with each method held, on each of `days`."""
    weights = weights_of(knowledge, columns)
    failed = np.where(np.isnan(columns.repair_failed), np.inf, columns.repair_failed)
    found = {}
    for method in methods:
        at = columns.repair_method.are(method)
        held = columns.repair_held[at].astype(np.float64)
        found[method] = kaplan_meier(held, failed[at], days, weights[at])
    return found


def weights_of(knowledge: Knowledge, columns: Columns) -> Floats:
    """What each repair counts. An origin without a weight counts nothing."""
    history = knowledge.weights.history
    each = np.array([*(history.get(word, 0.0) for word in columns.origin.words), 0.0])
    return np.asarray(each[columns.origin.at[columns.repair_row]])


class _Rows:
    """One for each repair."""

    def __init__(self, knowledge: Knowledge, columns: Columns, paths: Paths) -> None:
        row = columns.repair_row
        self.method = columns.repair_method
        self.path = Words(paths.path.words, paths.path.at[row])
        self.site = columns.site.at[row]
        self.own = columns.origin.are(_OWN)[row]
        self.confirmed = paths.confirmed[row]
        self.held = columns.repair_held.astype(np.float64)
        self.failed = np.where(np.isnan(columns.repair_failed), np.inf, columns.repair_failed)
        self.weight = weights_of(knowledge, columns)
        self.tested = (self.held > 0) | np.isfinite(self.failed)


def _shown(rows: _Rows, path: Ints) -> tuple[tuple[Held, ...], NotShown]:
    """path: for each repair the number of its path, -1 for none."""
    many = len(rows.path.words) + 1
    found, hidden, repairs = [], 0, 0
    for number, at in _parts(rows.method.at * many + path + 1):
        method, of = divmod(number, many)
        telling = at[rows.tested[at] & (rows.weight[at] > 0)]
        sites = int(np.unique(rows.site[telling]).size)
        if sites < LEAST_SITES:
            hidden, repairs = hidden + 1, repairs + int(at.size)
            continue
        told = rows.held[telling], rows.failed[telling]
        days, weight = [*MONTHS.values()], rows.weight[telling]
        found.append(
            Held(
                method=rows.method.words[method],
                path=rows.path.words[of - 1] if of else None,
                repairs=int(at.size),
                confirmed=int(np.count_nonzero(rows.confirmed[at])),
                silent=int(np.count_nonzero(~rows.tested[at])),
                sites=sites,
                weight=float(weight.sum()),
                kaplan_meier=kaplan_meier(*told, days, weight),
                interval_censored=interval_censored(*told, days, weight),
            )
        )
    found.sort(key=lambda one: (one.method, one.path is None, one.path or ""))
    return tuple(found), NotShown(groups=hidden, repairs=repairs)


def _unlike(rows: _Rows) -> Iterator[Unlike]:
    """Only what was logged as it went: the test counts every repair whole."""
    counting = np.flatnonzero(rows.own & rows.tested & (rows.path.at >= 0))
    by_path = {number: counting[at] for number, at in _parts(rows.path.at[counting])}
    for number in sorted(by_path, key=rows.path.words.__getitem__):
        at = by_path[number]
        used = [(rows.method.words[m], at[part]) for m, part in _parts(rows.method.at[at])]
        two = sorted(used, key=lambda one: (-one[1].size, one[0]))[:2]
        if len(two) < 2 or any(np.unique(rows.site[part]).size < LEAST_SITES for _, part in two):
            continue
        (first, one), (second, other) = two
        p = log_rank((rows.held[one], rows.failed[one]), (rows.held[other], rows.failed[other]))
        yield Unlike(
            path=rows.path.words[number],
            methods=(first, second),
            repairs=(int(one.size), int(other.size)),
            p=p,
        )


def _parts(numbers: Ints) -> Iterator[tuple[int, Ints]]:
    """Each number that is there, and the rows that have it."""
    order = np.argsort(numbers, kind="stable")
    there, counts = np.unique(numbers, return_counts=True)
    ends = np.cumsum(counts)
    for number, first, end in zip(there, ends - counts, ends, strict=True):
        yield int(number), order[first:end]
