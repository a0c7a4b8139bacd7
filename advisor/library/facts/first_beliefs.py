"""How often the first belief was right, and whether it was as sure as it should have been."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from advisor.library.facts.counting import Bools
from advisor.library.facts.intervals import wilson
from advisor.library.plots.plots import Bin
from advisor.library.store.columns import Columns, Floats, Ints

ENOUGH: Final = 300
"""Cases; with fewer nothing is said of the calibration."""
BINS: Final = 10
_OWN: Final = "own"
_RESAMPLED: Final = 1000
_CELLS: Final = 200
_SEED: Final = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """So many of `of` were right, with Wilson's interval; None of none."""

    right: int
    of: int
    share: float | None
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Error:
    """The expected calibration error, from 0 to 1, and its interval. It cannot be below 0, so
    that chance makes it, and both ends, too large rather than too small."""

    error: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstBeliefs:
    """Wet places of cases logged as they went, with a first answer.

    unconfirmed: answered, and no cause confirmed; they are in no other figure here.
    places, cases: with a confirmed cause. top_1: it led; top_3: it was among the first three.
    bins: of the confidence in the one that led, as wide each, without empty ones.
    calibration, says: None below 300 cases, too few to say. says: whether the mean confidence
    lies within, over or under the interval of top_1.
    """

    unconfirmed: int
    places: int
    cases: int
    top_1: Share
    top_3: Share
    bins: tuple[Bin, ...]
    calibration: Error | None
    says: Literal["as-said", "too-sure", "too-unsure"] | None


def first_beliefs(columns: Columns) -> FirstBeliefs:
    """Only what was logged as it went: who looks back knows what it was."""
    answered = columns.origin.are(_OWN) & np.isfinite(columns.shown_confidence)
    known = answered & (columns.cause.at >= 0)
    said, rank = columns.shown_confidence[known], columns.shown_rank[known]
    right = rank == 1  # without a rank it was not among the causes then
    cases = int(np.unique(columns.case[known]).size)
    enough = cases >= ENOUGH
    top_1 = _share(right)
    return FirstBeliefs(
        unconfirmed=int(np.count_nonzero(answered & ~known)),
        places=int(said.size),
        cases=cases,
        top_1=top_1,
        top_3=_share(rank <= 3),
        bins=_bins(said, right),
        calibration=_error(said, right) if enough else None,
        says=_says(float(said.mean()), top_1) if enough else None,
    )


def _share(right: Bools) -> Share:
    count, of = int(np.count_nonzero(right)), int(right.size)
    if not of:
        return Share(right=0, of=0, share=None, low=None, high=None)
    low, high = wilson(count, of)
    return Share(right=count, of=of, share=count / of, low=low, high=high)


def _bins(said: Floats, right: Bools) -> tuple[Bin, ...]:
    at = _bin(said)
    found = []
    for number in np.unique(at):
        rows = at == number
        hits, of = int(np.count_nonzero(right[rows])), int(np.count_nonzero(rows))
        found.append(Bin(float(said[rows].mean()), hits / of, *wilson(hits, of), of))
    return tuple(found)


def _bin(said: Floats) -> Ints:
    """The number of the bin; the last one is closed."""
    return np.minimum((said * BINS).astype(np.int64), BINS - 1)


def _error(said: Floats, right: Bools) -> Error:
    """The mean of |right - said| over the bins, each by its cases (Naeini, Cooper and Hauskrecht,
    AAAI 29 (2015) 2901). The interval: percentiles of resampled rows (Efron, Ann. Stat. 7
    (1979) 1), with rows whose confidence is alike to half a
    per cent drawn as one.
    """
    off, at = right - said, _bin(said)
    sums = np.bincount(at, off, BINS)
    fine = np.rint(said * _CELLS).astype(np.int64)
    cells = (at * (_CELLS + 1) + fine) * 2 + right
    _, first, cell, counts = np.unique(
        cells, return_index=True, return_inverse=True, return_counts=True
    )
    drawn = np.random.default_rng(_SEED).multinomial(said.size, counts / said.size, _RESAMPLED)
    of_bin = np.zeros((counts.size, BINS))
    of_bin[np.arange(counts.size), at[first]] = np.bincount(cell, off) / counts
    errors = np.abs(drawn @ of_bin).sum(axis=1) / said.size
    low, high = np.quantile(errors, (0.025, 0.975))
    return Error(error=float(np.abs(sums).sum() / said.size), low=float(low), high=float(high))


def _says(said: float, top_1: Share) -> Literal["as-said", "too-sure", "too-unsure"]:
    if top_1.high is not None and said > top_1.high:
        return "too-sure"
    if top_1.low is not None and said < top_1.low:
        return "too-unsure"
    return "as-said"
