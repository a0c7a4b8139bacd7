"""Rows put into groups, and counted group by group."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from advisor.library.store.columns import Floats, Ints, Words

Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Groups:
    """names: rising, None last where a row has none. at: for each row the place of its name."""

    names: tuple[str | None, ...]
    at: Ints


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """The same thing counted in wet places, and in cases that have one."""

    places: int
    cases: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Quartiles:
    """of: how many numbers. Linear between two of them."""

    lower: float
    median: float
    upper: float
    of: int


def all_one(rows: int) -> Groups:
    """All rows as one group without a name."""
    return Groups((None,), np.zeros(rows, np.int64))


def groups_of(words: Words) -> Groups:
    """One for each word that a row has."""
    met = np.flatnonzero(np.bincount(words.at + 1, minlength=len(words.words) + 1)[1:])
    names = sorted(words.words[int(number)] for number in met)
    place = {name: number for number, name in enumerate(names)}
    # The last stands for those without a word: they have -1.
    new = np.array([*(place.get(word, 0) for word in words.words), len(names)], np.int64)
    without = bool((words.at < 0).any())
    return Groups((*names, *([None] if without else [])), new[words.at])


def counts_by(groups: Groups, cases: Ints, wanted: Mapping[str, Bools]) -> dict[str, list[Count]]:
    """How many of the rows of each name every group has. cases: for each row that of its case."""
    order = np.lexsort((cases, groups.at))
    at, of = groups.at[order], cases[order]
    size = len(groups.names)
    found = {}
    for name, rows in wanted.items():
        chosen = rows[order]
        ats, ofs = at[chosen], of[chosen]
        in_places = np.bincount(ats, minlength=size)
        in_cases = np.bincount(ats[_starts(ats, ofs)], minlength=size)
        found[name] = [
            Count(places=int(p), cases=int(c)) for p, c in zip(in_places, in_cases, strict=True)
        ]
    return found


def first_of_each(groups: Groups, cases: Ints, rows: Bools) -> Ints:
    """Of `rows` one for each case of each group."""
    chosen = np.flatnonzero(rows)
    chosen = chosen[np.lexsort((cases[chosen], groups.at[chosen]))]
    return chosen[_starts(groups.at[chosen], cases[chosen])]


def _starts(one: Ints, other: Ints) -> Bools:
    """Where, of sorted rows, the pair is not that of the row before."""
    new = np.ones(one.size, np.bool_)
    new[1:] = (one[1:] != one[:-1]) | (other[1:] != other[:-1])
    return new


def quartiles_by(groups: Groups, values: Floats, rows: Ints) -> list[Quartiles | None]:
    """Of the values of `rows` in each group; None where it has none."""
    chosen = rows[np.argsort(groups.at[rows], kind="stable")]
    ends = np.searchsorted(groups.at[chosen], np.arange(len(groups.names) + 1))
    return [_quartiles(values[chosen[first:end]]) for first, end in pairwise(ends)]


def least_by(groups: Groups, words: Words, rows: Bools) -> list[str | None]:
    """The word that comes first in the alphabet among those of `rows` in each group."""
    order = sorted(range(len(words.words)), key=words.words.__getitem__)
    rank = np.empty(len(order), np.int64)
    rank[order] = np.arange(len(order))
    chosen = np.flatnonzero(rows & (words.at >= 0))
    least = np.full(len(groups.names), len(order))
    np.minimum.at(least, groups.at[chosen], rank[words.at[chosen]])
    return [None if one == len(order) else words.words[order[one]] for one in least]


def _quartiles(values: Floats) -> Quartiles | None:
    if not values.size:
        return None
    lower, median, upper = (float(one) for one in np.quantile(values, (0.25, 0.5, 0.75)))
    return Quartiles(lower=lower, median=median, upper=upper, of=int(values.size))
