"""How wide a crack may be: limits of the published tables, each by its name.

They clash, because they ask for different things. A width is within or beyond a named limit,
never within "the" limit.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from advisor.water.formula import Check, Formula
from advisor.water.numbers import Floats, Numbers, floats, where

STEPS = (10.0, 15.0, 25.0)
"""Gradients up to which the German guideline allows `WIDTHS` (verified: a technical paper that
prints its table)."""

WIDTHS = (0.20, 0.15, 0.10)
"""mm."""


class Limit(NamedTuple):
    """mm, for what, and how surely it is known."""

    width: float
    condition: str
    status: str


TABLES: Mapping[str, tuple[Limit, ...]] = MappingProxyType(
    {
        "BS 8007:1987, withdrawn": (
            Limit(0.20, "severe and very severe exposure", "verified"),
            Limit(0.10, "critical appearance", "from memory"),
        ),
        "fib Model Code 2020, 30.5.2.4.2": (
            Limit(0.15, "fluid-tight, no healing counted", "verified"),
            Limit(0.20, "fluid-tight, healing counted", "verified"),
        ),
        "ACI 224R, table 4.1": (
            Limit(0.41, "dry air", "verified"),
            Limit(0.30, "humidity, moist air, soil", "verified"),
            Limit(0.18, "de-icing chemicals", "verified"),
            Limit(0.15, "sea water and spray", "verified"),
            Limit(0.10, "water-retaining, without pressure", "verified"),
        ),
        "ACI 350-06": (
            Limit(0.25, "normal exposure", "from memory"),
            Limit(0.23, "severe exposure", "from memory"),
        ),
        "EN 1992-1-1, table 7.1N, reinforced": (
            Limit(0.40, "X0 and XC1", "verified"),
            Limit(0.30, "XC2 to XC4, XD and XS", "verified"),
        ),
    }
)


def german_guideline_limit(gradient: Numbers) -> Floats:
    """Width in mm up to which the German guideline on watertight structures counts on healing.

    gradient: head over thickness, 0 to 25; steeper NaN: no healing is counted on. Not for water
    with more than 40 mg/L of lime-dissolving carbon dioxide and a pH under 5.5 (verified: the same
    paper). Tightness is not always reached; some wider cracks turn out tight (verified: review).
    """
    i = floats(gradient)
    valid = (i >= 0) & (i <= STEPS[-1])
    row = np.searchsorted(STEPS, np.where(valid, i, 0.0), side="left")
    return where(valid, np.asarray(WIDTHS)[row])


def en_1992_3_limit(gradient: Numbers) -> Floats:
    """Width in mm of a crack right through in tightness class 1 of EN 1992-3:2006, 7.3.1.

    gradient: depth of water over thickness, at least 0, else NaN. 0.2 up to 5, 0.05 from 35 on,
    straight between (verified: open calculator source).
    """
    i = floats(gradient)
    return where(i >= 0, np.interp(i, (5.0, 35.0), (0.2, 0.05)))


def least_compression_zone(thickness: Numbers) -> Floats:
    """Depth in mm that stays pressed in a member taken as not cracked through: EN 1992-3, 7.3.1.

    thickness: mm, above 0, else NaN. The lesser of 50 mm and a fifth of the thickness (50 mm and
    0.2 h verified, "lesser of" from memory).
    """
    h = floats(thickness)
    return where(h > 0, np.minimum(50.0, 0.2 * h))


FORMULAS = (
    Formula(
        name="german-guideline-limit",
        reads=("ratio",),
        unit="mm",
        rises="-",
        point=german_guideline_limit,
        checks=(Check(key="too-steep-to-heal", level="outside", bad=lambda i: i > STEPS[-1]),),
    ),
    Formula(name="en-1992-3-limit", reads=("ratio",), unit="mm", rises="-", point=en_1992_3_limit),
)
