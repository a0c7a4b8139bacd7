"""What it was, as far as it was confirmed: causes by kind of structure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.library.store.columns import Columns


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseCount:
    """How many wet places in one kind of structure one cause was confirmed for."""

    kind: str
    cause: str
    places: int


def cause_counts(columns: Columns) -> tuple[CauseCount, ...]:
    """By kind, then by cause."""
    known = columns.cause.at >= 0
    many = max(len(columns.cause.words), 1)
    pairs = np.bincount(columns.kind.at[known] * many + columns.cause.at[known])
    found = [
        CauseCount(
            kind=columns.kind.words[number // many],
            cause=columns.cause.words[number % many],
            places=int(pairs[number]),
        )
        for number in np.flatnonzero(pairs).tolist()
    ]
    return tuple(sorted(found, key=lambda one: (one.kind, one.cause)))


def by_kind(counts: Sequence[CauseCount]) -> Mapping[str, Mapping[str, int]]:
    """kind -> cause -> wet places; the kind with the most of them first."""
    found: dict[str, dict[str, int]] = {}
    for one in counts:
        found.setdefault(one.kind, {})[one.cause] = one.places
    return dict(sorted(found.items(), key=lambda of: (-sum(of[1].values()), of[0])))
