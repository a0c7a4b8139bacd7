"""What the functions of water take and give: numbers, bands of numbers, ranges of numbers."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Numbers = npt.ArrayLike
"""One number or an array of them. Arguments of one call broadcast against each other."""

Range = tuple[Floats, Floats]
"""lo <= x < hi, one range a row: two arrays of shape (rows,)."""


@dataclass(frozen=True, slots=True)
class Band:
    """What nobody measures on site, as the sources give it: lowest, likely, highest."""

    low: float
    likely: float
    high: float


def floats(number: Numbers) -> Floats:
    """As an array of float64."""
    return np.asarray(number, dtype=np.float64)


def where(holds: Bools, number: Floats) -> Floats:
    """The number where its formula holds, NaN elsewhere."""
    return np.where(holds, number, np.nan)


def last(ends: Range) -> Floats:
    """The last number inside lo <= x < hi."""
    return np.nextafter(ends[1], -np.inf)
