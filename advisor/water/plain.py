"""Sums that are no physics: a difference, a ratio, an amount spread over a length or an area."""

import numpy as np

from advisor.water.formula import SAME, Check, Formula
from advisor.water.numbers import Floats, Numbers, floats, where


def difference(one: Numbers, other: Numbers) -> Floats:
    """`one` minus `other`, in their unit."""
    return floats(one) - floats(other)


def ratio(one: Numbers, other: Numbers) -> Floats:
    """`one` over `other`, of one unit; no unit. NaN where the other is not above 0."""
    bottom = floats(other)
    return where(bottom > 0, floats(one) / np.where(bottom > 0, bottom, 1.0))


def over_length(flow: Numbers, length: Numbers) -> Floats:
    """L/h over m: L/h/m. NaN where the length is not above 0."""
    return ratio(flow, length)


def along_length(flow: Numbers, length: Numbers) -> Floats:
    """L/h/m times m: L/h. NaN below 0 m."""
    along = floats(length)
    return where(along >= 0, floats(flow) * along)


def over_area(flow: Numbers, area: Numbers) -> Floats:
    """L/h over m2: L/m2/d. NaN where the area is not above 0."""
    return 24 * ratio(flow, area)


def from_area(flow: Numbers, area: Numbers) -> Floats:
    """L/m2/d times m2: L/h. NaN below 0 m2."""
    wide = floats(area)
    return where(wide >= 0, floats(flow) * wide / 24)


OVER_NOTHING = Check(key="over-nothing", level="outside", bad=lambda *i: i[-1] <= 0)
"""What stands below the line, the last input, is not above 0."""

FORMULAS = (
    Formula(name="difference", reads=(SAME, SAME), unit=SAME, rises="+-", point=difference),
    Formula(
        name="ratio",
        reads=(SAME, SAME),
        unit="ratio",
        rises="+?",
        point=ratio,
        checks=(OVER_NOTHING,),
    ),
    Formula(
        name="over-length",
        reads=("L/h", "m"),
        unit="L/h/m",
        rises="+-",
        point=over_length,
        checks=(OVER_NOTHING,),
    ),
    Formula(name="along-length", reads=("L/h/m", "m"), unit="L/h", rises="++", point=along_length),
    Formula(
        name="over-area",
        reads=("L/h", "m2"),
        unit="L/m2/d",
        rises="+-",
        point=over_area,
        checks=(OVER_NOTHING,),
    ),
    Formula(name="from-area", reads=("L/m2/d", "m2"), unit="L/h", rises="++", point=from_area),
)
