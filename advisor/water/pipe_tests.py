"""Tests of drains, manholes and pressure mains with water: what may be added."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from advisor.water.formula import Formula
from advisor.water.numbers import Floats, Numbers, floats, where
from advisor.water.plain import OVER_NOTHING

WATER_STIFFNESS = 2.1e6
"""kPa, EN 805 (from memory)."""


class Added(NamedTuple):
    """L of water that may be added for each wetted m2 in 30 minutes."""

    litres: float
    status: str


ALLOWED: Mapping[str, Added] = MappingProxyType(
    {
        "EN 1610, pipes": Added(0.15, "verified"),
        "EN 1610, pipes with manholes": Added(0.20, "verified"),
        "EN 1610, manholes and chambers": Added(0.40, "verified"),
        "EN 12566, concrete tanks": Added(0.10, "verified"),
    }
)


def wetted_pipe(diameter: Numbers, length: Numbers) -> Floats:
    """Wetted area in m2 of a full pipe. diameter: mm, length: m, above 0, else NaN."""
    d, length_ = floats(diameter) / 1000, floats(length)
    return where((d > 0) & (length_ > 0), np.pi * d * length_)


def wetted_manhole(diameter: Numbers, depth: Numbers) -> Floats:
    """Wetted area in m2 of a round manhole with its base. Measures: m, above 0, else NaN."""
    d, h = floats(diameter), floats(depth)
    return where((d > 0) & (h > 0), np.pi * d * h + np.pi * d * d / 4)


def added(volume: Numbers, area: Numbers) -> Floats:
    """L added in 30 minutes over wetted m2. NaN where the area is not above 0."""
    a = floats(area)
    return where(a > 0, floats(volume) / np.where(a > 0, a, 1.0))


def main_allowed(
    volume: Numbers, pressure: Numbers, diameter: Numbers, wall: Numbers, stiffness: Numbers
) -> Floats:
    """L that may run out of a pressure main while its pressure falls (EN 805:2000, from memory).

    volume: L of the main; pressure: fall in kPa; diameter, wall: mm; stiffness of the wall: kPa;
    all above 0, else NaN. 1.2 x volume x fall x (1 / water + diameter / (wall x stiffness)).
    """
    v, p, d, e, s = (floats(x) for x in (volume, pressure, diameter, wall, stiffness))
    valid = (v > 0) & (p > 0) & (d > 0) & (e > 0) & (s > 0)
    pipe = d / np.where(valid, e * s, 1.0)
    return where(valid, 1.2 * v * p * (1 / WATER_STIFFNESS + pipe))


FORMULAS = (
    Formula(
        name="water-added",
        reads=("L", "m2"),
        unit="L/m2",
        rises="+-",
        point=added,
        checks=(OVER_NOTHING,),
    ),
)
