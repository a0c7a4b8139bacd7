"""Past wet places that are most alike: a weighted likeness over what is known of both.

Gower's coefficient (J. C. Gower, A General Coefficient of Similarity and Some of Its Properties,
Biometrics 27, 1971): the weighted mean of the likenesses of the attributes, each 0 to 1.
- A choice: how much the sets of what it can be have in common, |A and B| / |A or B|.
- A number: 1 - |a - b| / spread, between the middles; spread: of all middles there are. Told from
  one side only, it is taken at the end that was told.
What is known here and not there counts with its mean over the places where it is known, so that
nobody's not looking raises or lowers a place. What is not known here counts nothing.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from advisor.engine.model import Floats
from advisor.knowledge import Knowledge
from advisor.library.alike.findings import Facts, attribute_of
from advisor.library.alike.packed import PackedPlaces, ends, pack, unpack

NAMED = 6
"""Attributes that are named as alike, and as differing, at most."""

HALF = 0.5
"""An attribute at least so alike is named as alike, else as differing."""

FIGURES = 12
"""Decimals in which likenesses are compared: closer ones are ties."""

BLOCK = 65_536
"""Records that are walked through in one go."""

Values = npt.NDArray[np.uint64]
Rows = npt.NDArray[np.int32]
NOWHERE: Final = (np.empty(0, np.uint64), np.empty(0, np.int32))


@dataclass(frozen=True, slots=True)
class Alike:
    """A place like the one asked. row: where it stands in the library; alike: 0 to 1.

    in_, differs: by what weighs most. compared: attributes known of both.
    """

    row: int
    alike: float
    in_: tuple[str, ...]
    differs: tuple[str, ...]
    compared: int


def most_alike(
    knowledge: Knowledge,
    query: Facts,
    packed: PackedPlaces,
    names: Mapping[str, int],
    weights: Mapping[str, float],
    *,
    n: int = 5,
    skip: Collection[int] = (),
) -> tuple[Alike, ...]:
    """The places most alike, best first, ties by row; () where nothing can be compared.

    weights: by variable, as `telling` gives
    them; what has none is not compared. skip: rows that are no answer, such as the case itself.
    """
    compared = _compared(knowledge, query, packed, names, weights)
    total = sum(one.weight for one in compared)
    if not total:
        return ()
    alike = np.full(len(packed), sum(one.weight * one.mean for one in compared))
    for one in compared:
        alike[one.rows] += one.weight * (one.alike - one.mean)
    alike = np.clip(alike / total, 0, 1)
    return tuple(_told(compared, row, float(alike[row])) for row in _best(alike, n, skip))


@dataclass(frozen=True, slots=True)
class _Compared:
    """One attribute. rows: where it is known, rising; alike: how alike there, of the same length.

    mean: of `alike`.
    """

    key: str
    weight: float
    rows: Rows
    alike: Floats
    mean: float


def _compared(
    knowledge: Knowledge,
    query: Facts,
    packed: PackedPlaces,
    names: Mapping[str, int],
    weights: Mapping[str, float],
) -> list[_Compared]:
    """What is known here and anywhere there."""
    asked = {key: fact for key, fact in query.items() if key in names and weights.get(key, 0) > 0}
    if not len(packed):
        return []
    here = {int(one["variable"]): one["value"] for one in unpack(pack(knowledge, asked, names))}
    there = _records(packed, sorted(here))
    found = []
    for key in asked:
        attribute = attribute_of(knowledge, key)
        values, rows = there.get(names[key], NOWHERE)
        if attribute is not None and len(rows):
            of = _numbers if attribute.kind == "number" else _choices
            alike = of(here[names[key]], values)
            found.append(_Compared(key, weights[key], rows, alike, float(alike.mean())))
    return found


def _records(packed: PackedPlaces, variables: Sequence[int]) -> dict[int, tuple[Values, Rows]]:
    """The values of these variables in all places, and the rows where they are known, rising."""
    place = np.zeros(np.iinfo(np.uint16).max + 1, dtype=np.min_scalar_type(len(variables)))
    place[variables] = np.arange(1, len(variables) + 1)
    records = unpack(packed.joined)
    rows = np.repeat(np.arange(len(packed), dtype=np.int32), packed.counts)
    parts = [(np.empty(0, place.dtype), *NOWHERE)]
    # In blocks, which stay in the processor's cache: most records are of what is not asked.
    for first in range(0, len(records), BLOCK):
        block = records[first : first + BLOCK]
        which = place.take(block["variable"])
        at = np.flatnonzero(which != 0)
        parts.append((which[at], block["value"][at], rows[first : first + BLOCK][at]))
    which, values, rows = (np.concatenate(part) for part in zip(*parts, strict=True))
    order = np.argsort(which, kind="stable")
    which, values, rows = which[order], values[order], rows[order]
    edges = np.searchsorted(which, np.arange(1, len(variables) + 2))
    return {
        variable: (values[first:end], rows[first:end])
        for variable, first, end in zip(variables, edges[:-1], edges[1:], strict=True)
    }


def _choices(here: np.uint64, there: Values) -> Floats:
    common, either = np.bitwise_count(there & here), np.bitwise_count(there | here)
    return np.asarray(common / either, dtype=np.float64)


def _numbers(here: np.uint64, there: Values) -> Floats:
    """The one asked belongs to the spread: it may lie outside all that are kept."""
    all_of_them = _middles(np.append(there, here))
    spread = np.ptp(all_of_them)
    apart = np.abs(all_of_them[:-1] - all_of_them[-1])
    return np.asarray(1 - apart / spread if spread > 0 else np.ones(len(there)))


def _middles(values: Values) -> Floats:
    lo, hi = ends(values)
    return (np.where(np.isinf(lo), hi, lo) + np.where(np.isinf(hi), lo, hi)) / 2


def _best(alike: Floats, n: int, skip: Collection[int]) -> list[int]:
    """The rows with the highest likeness, ties by row."""
    left = alike.round(FIGURES)
    left[list(skip)] = -1
    n = min(n, int((left >= 0).sum()))
    if n <= 0:
        return []
    least = np.partition(left, -n)[-n]
    rows = np.flatnonzero(left >= least)
    return [int(row) for row in rows[np.argsort(-left[rows], kind="stable")][:n]]


def _told(compared: Sequence[_Compared], row: int, alike: float) -> Alike:
    """One answer, with what it is alike and differs in."""
    same, other = [], []
    known = 0
    for one in compared:
        at = int(np.searchsorted(one.rows, row))
        if at == len(one.rows) or one.rows[at] != row:
            continue
        known += 1
        own = float(one.alike[at])
        if own >= HALF:
            same.append((-one.weight * own, one.key))
        else:
            other.append((-one.weight * (1 - own), one.key))
    return Alike(
        row=row,
        alike=alike,
        in_=tuple(key for _, key in sorted(same)[:NAMED]),
        differs=tuple(key for _, key in sorted(other)[:NAMED]),
        compared=known,
    )
