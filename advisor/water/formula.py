"""A formula as a rule base can use it: numbers in, number out, and the same for ranges.

A formula that rises or falls steadily with each of its inputs has its ends at corners of
the box of what the inputs can be. Where the direction of one is not the same everywhere,
both of its ends are tried.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import product
from typing import Literal

import numpy as np

from advisor.water.numbers import Band, Bools, Floats, Range, floats, last

SAME = "same"
"""In place of a unit: any, but the same wherever it stands in one formula."""

Level = Literal["impossible", "outside", "doubtful"]
"""It cannot be so; the formula does not hold there; it holds, but only roughly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """Where a formula does not hold. bad: of its inputs and bands, True where it does not."""

    key: str
    level: Level
    bad: Callable[..., Bools]


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """reads: the unit of each input; unit: that of the result. Bands follow the inputs in `point`.

    rises: a sign for each input and band: `+` the result rises with it, `-` it falls, `?` now
    this, now that. span: the ends for ranges, where corners do not give them.
    """

    name: str
    reads: tuple[str, ...]
    unit: str
    point: Callable[..., Floats]
    rises: str
    bands: tuple[Band, ...] = ()
    checks: tuple[Check, ...] = ()
    span: Callable[..., Range] | None = None

    def likely(self, *inputs: Floats) -> Floats:
        """The result for single numbers, with the likely value of each band."""
        with np.errstate(over="ignore"):
            return self.point(*inputs, *(floats(band.likely) for band in self.bands))

    def __call__(self, ranges: tuple[Range, ...]) -> Range:
        """The result for ranges lo <= x < hi, (rows,) each. NaN where it may not hold."""
        bands = [(floats(band.low), floats(band.high)) for band in self.bands]
        ends = [*((lo, last((lo, hi))) for lo, hi in ranges), *bands]
        with np.errstate(over="ignore"):  # over next to nothing: more than any limit, which cuts it
            low, high = self.span(*ends) if self.span else corners(self.point, self.rises, ends)
        return low, np.nextafter(high, np.inf)

    def failing(self, *inputs: Floats) -> tuple[Check, ...]:
        """The checks that single numbers do not pass, with the likely value of each band."""
        bands = [floats(band.likely) for band in self.bands]
        return tuple(check for check in self.checks if np.any(check.bad(*inputs, *bands)))


def corners(point: Callable[..., Floats], rises: str, ends: Sequence[Range]) -> Range:
    """Lowest and highest result at the corners of closed ranges, (rows,) each."""
    pairs = list(zip(rises, ends, strict=True))
    low = [{"+": (lo,), "-": (hi,)}.get(rise, (lo, hi)) for rise, (lo, hi) in pairs]
    high = [{"+": (hi,), "-": (lo,)}.get(rise, (lo, hi)) for rise, (lo, hi) in pairs]
    return (
        reduce(np.minimum, (point(*corner) for corner in product(*low))),
        reduce(np.maximum, (point(*corner) for corner in product(*high))),
    )
