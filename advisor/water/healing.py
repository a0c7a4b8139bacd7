"""Cracks that close by themselves: how long it takes, and how to tell it from a cold winter.

How wide a crack may be for it stands with the other limits, in `crack_limits.py`.
"""

import numpy as np

from advisor.water.formula import Check, Formula
from advisor.water.liquid import not_liquid_at, slot_constant
from advisor.water.numbers import Floats, Numbers, floats, where

WIDEST = 0.2
"""mm. Wider cracks close rarely: trade and BS 8007 (verified: Concrete Society note)."""

FINE, FINE_DAYS, WIDEST_DAYS = 0.1, 14.0, 28.0
"""mm and days: 0.1 mm is expected tight within 14 days, 0.2 mm within 28 (verified: the same)."""


def healing_time(width: Numbers) -> Floats:
    """Days after which a crack is expected tight, under steady water and without movement.

    width: mm, 0 to 0.2; wider NaN: not expected. 14 days up to 0.1 mm, 28 at 0.2 mm, a straight
    line between. Tests took 18 days and more, and some stayed damp (verified: C&CA report 559).
    """
    w = floats(width)
    valid = (w >= 0) & (w <= WIDEST)
    return where(valid, np.interp(w, (FINE, WIDEST), (FINE_DAYS, WIDEST_DAYS)))


def width_left(flow_left: Numbers) -> Floats:
    """What is left of the hydraulic width when this share of the flow is left; cube root.

    flow_left: at least 0, no unit; else NaN. Follows from the cubic law.
    """
    share = floats(flow_left)
    return where(share >= 0, np.cbrt(share))


def flow_at_20(flow: Numbers, temperature: Numbers) -> Floats:
    """The flow as it would be with water of 20 °C, in the unit it came in.

    flow: at least 0; temperature: °C, 0 to 100; else NaN. Cold water is thicker: without this a
    winter looks like healing.
    """
    q = floats(flow)
    return where(q >= 0, q * slot_constant(20.0) / slot_constant(temperature))


FORMULAS = (
    Formula(
        name="healing-time",
        reads=("mm",),
        unit="d",
        rises="+",
        point=healing_time,
        checks=(Check(key="too-wide-to-heal", level="outside", bad=lambda w: w > WIDEST),),
    ),
    Formula(
        name="flow-at-20",
        reads=("L/h", "°C"),
        unit="L/h",
        rises="+-",
        point=flow_at_20,
        checks=(not_liquid_at(1),),
    ),
)
