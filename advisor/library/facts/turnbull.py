"""The likeliest shares left, where each event lies somewhere between two days.

Turnbull, J. R. Stat. Soc. B 38 (1976) 290: all mass lies in the innermost intervals, those that
begin where some row begins and end where some row ends, with no other end between. The masses are
found by the steps of Wellner and Zhan, J. Am. Stat. Assoc. 92 (1997) 945: each is one of
self-consistency, then one towards the convex minorant (Jongbloed, J. Comput. Graph. Stat. 7 (1998)
310). They end when no mass is left to be gained (Gentleman and Geyer, Biometrika 81 (1994) 618).
A general library does the same for one sample; hundreds of groups take it too long.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from advisor.engine.model import Floats

Ints = npt.NDArray[np.intp]

_STEPS: Final = 1000
_HALVED: Final = 40
_GAIN: Final = 1e-9
"""What one more step could gain of the log-likelihood, for each row that counts 1."""


@dataclass(frozen=True, slots=True)
class _Rows:
    """first, after: of each row the first innermost interval that lies in it, and the first one
    beyond it, of `many`. count: how many rows it stands for."""

    first: Ints
    after: Ints
    count: Floats
    many: int

    def chances(self, before: Floats) -> Floats:
        """Of each row. before: (many + 1,): what lies before each innermost interval, and 1."""
        return np.asarray(before[self.after] - before[self.first])

    def ends(self, at_first: Floats, at_after: Floats) -> Floats:
        """(many + 1,): for each innermost interval the sum over the rows that begin there, and
        over those that end before it."""
        size = self.many + 1
        begun = np.bincount(self.first, at_first, size)
        return np.asarray(begun + np.bincount(self.after, at_after, size), dtype=np.float64)

    def likelihood(self, chances: Floats) -> float:
        """Its logarithm."""
        return float(self.count @ np.log(chances)) if chances.min() > 0 else -np.inf


def turnbull(starts: Floats, ends: Floats, counts: Floats) -> tuple[Floats, Floats]:
    """Each finite day that a row names, rising, and the share left after it.

    A row lies in (start, end], or on that day where both are the same; end may be inf. counts:
    above 0.
    """
    days, at = np.unique(np.r_[starts, ends], return_inverse=True)
    begin, end = at[: starts.size], at[starts.size :]
    rows, ending = _innermost(begin, end, np.asarray(counts, dtype=np.float64))
    mass = np.diff(_before(rows))
    left = 1 - np.cumsum(np.bincount(ending, mass, days.size))
    finite = np.isfinite(days)
    return days[finite], np.clip(left[finite], 0.0, 1.0)


def _innermost(begin: Ints, end: Ints, count: Floats) -> tuple[_Rows, Ints]:
    """The rows by their innermost intervals, and the number of the day on which each of those ends.

    On one day come first what begins and ends there, then what ends, then what begins after it.
    """
    starting = 3 * begin + np.where(begin == end, 0, 2)
    stopping = 3 * end + 1
    there = np.unique(np.r_[starting, stopping])
    stops = there % 3 == 1
    inner = np.flatnonzero(~stops[:-1] & stops[1:])
    first = np.searchsorted(there[inner], starting)
    after = np.searchsorted(there[inner + 1], stopping, side="right")
    return _Rows(first, after, count, inner.size), there[inner + 1] // 3


def _before(rows: _Rows) -> Floats:
    """The likeliest mass before each innermost interval, and 1."""
    before = np.arange(rows.many + 1) / rows.many
    chances = rows.chances(before)
    total = rows.count.sum()
    for _ in range(_STEPS):
        slope = rows.count / chances
        gain = rows.ends(slope, -slope)[:-1].cumsum() / total
        if gain.max() - 1 < _GAIN:
            break
        mass = (before[1:] - before[:-1]) * gain
        before[1:] = np.minimum(mass.cumsum(), 1.0)
        before[-1] = 1.0
        chances = rows.chances(before)
        if rows.many > 1:
            before, chances = _towards_the_minorant(rows, before, chances)
    return before


def _towards_the_minorant(rows: _Rows, before: Floats, chances: Floats) -> tuple[Floats, Floats]:
    """Newton's step of each sum for itself, made rising, and halved until it loses nothing; with
    the new chances."""
    from scipy.optimize import isotonic_regression  # noqa: PLC0415

    slope = rows.count / chances
    bend = slope / chances
    # More before where a row ends makes it likelier; more before where it begins, unlikelier.
    up, curve = rows.ends(-slope, slope)[1:-1], rows.ends(bend, bend)[1:-1]
    free = before[1:-1]
    wanted = isotonic_regression(free + up / curve, weights=curve).x
    step = np.minimum(np.maximum(wanted, 0.0), 1.0) - free
    least = rows.likelihood(chances)
    after = before.copy()
    for _ in range(_HALVED):
        after[1:-1] = free + step
        new = rows.chances(after)
        if rows.likelihood(new) >= least:
            return after, new
        step /= 2
    return before, chances
