"""How long repairs held: estimates from looks that saw them holding or not.

A row is a repair. held: days to the last look that showed it holding; failed: days to the first
look that showed it had not, inf where none did. It failed in (held, failed], or on that day where
both are the same. weight: what a row counts; a remembered case less than 1.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

import numpy as np
import numpy.typing as npt

from advisor.engine.model import Floats
from advisor.library.facts.turnbull import turnbull

Bools = npt.NDArray[np.bool_]

MONTHS: Final = {3: 91, 12: 365, 24: 730}
"""Days after the repair at which shares are told."""
FEW: Final = 5
"""Fewer than these still watched: the share is told as resting on few."""


@dataclass(frozen=True, slots=True)
class Holding:
    """The share that held for `days`, and its interval.

    at_risk: the rows still watched on that day and not seen failing before it. few: what they
    weigh together is less than five.
    """

    days: int
    share: float
    low: float
    high: float
    at_risk: int
    few: bool


@dataclass(frozen=True, slots=True)
class Between:
    """The share that held for `days`, from failures that lie between two looks.

    lowest, highest: where the day falls between the looks that decide, the data fit anything in
    between alike, and share lies on the straight line. This is no confidence interval.
    """

    days: int
    share: float
    lowest: float
    highest: float
    at_risk: int
    few: bool


def silent(held: Floats, failed: Floats) -> int:
    """How many rows tell nothing, never seen holding nor failing. Estimates leave them out."""
    return int(np.count_nonzero(~_telling(held, failed)))


def kaplan_meier(
    held: Floats,
    failed: Floats,
    at_days: Sequence[int],
    weight: Floats | None = None,
    level: float = 0.95,
) -> tuple[Holding, ...]:
    """The share holding on each of at_days: Kaplan and Meier, J. Am. Stat. Assoc. 53 (1958) 457.

    A failure counts on the day it was found; what holds is lost from sight after its last look.
    The interval is Greenwood's on the scale log(-log share) (Kalbfleisch and Prentice 1980), with
    weights as numbers of cases: rows that weigh less make it wider. Where that is not defined it
    is the exact binomial one (Clopper and Pearson, Biometrika 26 (1934) 404): before the first
    failure, of those still watched; after the last of all failed, of those that failed.

    After the last look nothing is known: the share stays, and low falls to 0; without rows too.
    Raises ValueError where a row is none.
    """
    held, failed, weights = _rows(held, failed, weight)
    found = np.isfinite(failed)
    until = np.where(found, failed, held)
    days, at = np.unique(until, return_inverse=True)
    events = np.bincount(at[found], weights[found], days.size)
    # From the last day back, so that a count of nothing is not what rounding leaves.
    watched = np.cumsum(np.bincount(at, weights, days.size)[::-1])[::-1]
    # All that is left failing is exactly all: sums in two orders differ in the last digit.
    events = np.where(np.isclose(events, watched, rtol=1e-12, atol=0), watched, events)
    shares = np.r_[1.0, np.cumprod(1 - events / watched)]
    # Greenwood 1926: the variance of log(share). Undefined once all that was watched has failed.
    with np.errstate(divide="ignore", invalid="ignore"):
        steps = np.where(events == watched, np.nan, events / (watched * (watched - events)))
    spread = np.sqrt(np.r_[0.0, np.cumsum(steps)])

    asked = np.asarray(at_days, dtype=np.float64)
    step = np.searchsorted(days, asked, side="right")
    share, deviation = shares[step], spread[step]
    left = np.r_[watched, 0.0][np.searchsorted(days, asked, side="left")]
    rows = _still_watched(until, asked)
    lost = np.r_[0.0, np.cumsum(events)][step]
    tail = (1 - level) / 2
    with np.errstate(all="ignore"):
        reach = np.exp(-NormalDist().inv_cdf(tail) * deviation / -np.log(share))
        low, high = share**reach, share ** (1 / reach)
        low = np.where(share == 1, tail ** (1 / left), low)
        high = np.where(share == 0, 1 - tail ** (1 / lost), np.where(share == 1, 1.0, high))
    low = np.where((rows == 0) | (share == 0), 0.0, np.minimum(low, share))
    high = np.maximum(high, share)
    numbers = zip(at_days, share, low, high, rows, left, strict=True)
    return tuple(
        Holding(int(day), float(s), float(lo), float(hi), int(n), bool(w < FEW))
        for day, s, lo, hi, n, w in numbers
    )


def interval_censored(
    held: Floats, failed: Floats, at_days: Sequence[int], weight: Floats | None = None
) -> tuple[Between, ...]:
    """The share holding on each of at_days: the non-parametric maximum likelihood estimate.

    See `turnbull`.
    After the last look nothing is known: the share stays, and lowest is 0.
    Raises ValueError where a row is none.
    """
    held, failed, weights = _rows(held, failed, weight)
    days, shares = np.array([0.0]), np.array([1.0])
    if np.isfinite(failed).any():
        starts, ends, counts = _alike(held, failed, weights)
        named, left = turnbull(starts, ends, counts)
        days, shares = np.r_[0.0, named], np.r_[1.0, left]
    elif held.size:
        days, shares = np.array([0.0, held.max()]), np.array([1.0, 1.0])

    asked = np.asarray(at_days, dtype=np.float64)
    step = np.searchsorted(days, asked, side="right") - 1
    after = np.minimum(step + 1, days.size - 1)
    beyond = asked > days[-1]
    highest = np.clip(shares[step], 0.0, 1.0)
    # On the day of a look the estimate is decided.
    lowest = np.where(asked == days[step], highest, np.clip(shares[after], 0.0, highest))
    width = np.where(beyond, 1.0, days[after] - days[step])
    part = np.where(width > 0, (asked - days[step]) / np.where(width > 0, width, 1.0), 0.0)
    share = np.where(beyond, highest, highest - part * (highest - lowest))
    lowest = np.where(beyond, 0.0, lowest)
    share = np.clip(share, lowest, highest)

    until = np.where(np.isfinite(failed), failed, held)
    rows = _still_watched(until, asked)
    weighing = _still_watched(until, asked, weights)
    numbers = zip(at_days, share, lowest, highest, rows, weighing, strict=True)
    return tuple(
        Between(int(day), float(s), float(lo), float(hi), int(n), bool(w < FEW))
        for day, s, lo, hi, n, w in numbers
    )


def log_rank(a: tuple[Floats, Floats], b: tuple[Floats, Floats]) -> float:
    """How likely two groups as unlike as these are, if they hold alike: the p of the log-rank test
    (Mantel 1966; Peto and Peto, J. R. Stat. Soc. A 135 (1972) 185), two-sided.

    a, b: held and failed of each. Every row counts whole: leave out what should weigh less.
    1 where nothing can be compared. Raises ValueError where a row is none.
    """
    from scipy.stats import CensoredData, logrank  # noqa: PLC0415

    groups = []
    for group in (a, b):
        held, failed, _ = _rows(*group, None)
        found = np.isfinite(failed)
        if not held.size:
            return 1.0
        groups.append(CensoredData.right_censored(np.where(found, failed, held), ~found))
    with np.errstate(invalid="ignore"):
        p = float(logrank(*groups).pvalue)
    return 1.0 if np.isnan(p) else p


def _rows(held: Floats, failed: Floats, weight: Floats | None) -> tuple[Floats, Floats, Floats]:
    """The rows that tell something, with what each weighs."""
    held, failed = np.asarray(held, dtype=np.float64), np.asarray(failed, dtype=np.float64)
    weights = np.ones(held.shape) if weight is None else np.asarray(weight, dtype=np.float64)
    if held.ndim != 1 or not held.shape == failed.shape == weights.shape:
        raise ValueError("held, failed and weight are to be as many, in one row each")
    if not (np.isfinite(held).all() and (held >= 0).all()):
        raise ValueError("held is to be 0 days or more")
    if not ((failed >= held).all() and (failed > 0).all()):
        raise ValueError("failed is to be no earlier than held, and after the repair")
    if not (np.isfinite(weights).all() and (weights >= 0).all()):
        raise ValueError("weight is to be 0 or more")
    kept = _telling(held, failed) & (weights > 0)
    return held[kept], failed[kept], weights[kept]


def _telling(held: Floats, failed: Floats) -> Bools:
    return np.asarray((np.asarray(held) > 0) | np.isfinite(failed), dtype=np.bool_)


def _still_watched(until: Floats, asked: Floats, weights: Floats | None = None) -> Floats:
    """For each day, how many rows (or what they weigh) reach it."""
    order = np.argsort(until, kind="stable")
    before = np.searchsorted(until[order], asked, side="left")
    each = np.ones(until.size) if weights is None else weights[order]
    return np.asarray(np.r_[np.cumsum(each[::-1])[::-1], 0.0][before])


def _alike(held: Floats, failed: Floats, weights: Floats) -> tuple[Floats, Floats, Floats]:
    """Rows with the same two days are one, which weighs what they weigh together."""
    ends, end = np.unique(failed, return_inverse=True)
    starts, start = np.unique(held, return_inverse=True)
    kinds, kind = np.unique(start * ends.size + end, return_inverse=True)
    together = np.asarray(np.bincount(kind, weights), dtype=np.float64)
    return starts[kinds // ends.size], ends[kinds % ends.size], together
