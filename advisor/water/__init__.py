"""Physics of water as plain vectorised functions of numbers. Ranges in, ranges out.

`WORKERS` names the functions that knowledge files may bind to attributes.
"""

from collections.abc import Callable
from dataclasses import dataclass

from advisor.water.dew_point import Range, dew_margin, dew_point
from advisor.water.proportion import proportion

__all__ = ["WORKERS", "Worker", "dew_margin", "dew_point", "proportion"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Worker:
    """inputs: the units it reads, in order; unit: that of its result."""

    inputs: tuple[str, ...]
    unit: str
    work: Callable[[tuple[Range, ...]], Range]


def _dew_margin(ranges: tuple[Range, ...]) -> Range:
    return dew_margin(*ranges)


def _proportion(ranges: tuple[Range, ...]) -> Range:
    return proportion(*ranges)


WORKERS = {
    "dew-margin": Worker(inputs=("°C", "°C", "%"), unit="K", work=_dew_margin),
    "proportion": Worker(inputs=("m", "m"), unit="ratio", work=_proportion),
}
