"""Does a tank or pool lose water: the fall of its level, what is air and cold, what is allowed.

An acceptance test of a new tank is not a limit for one in service.
"""

from functools import reduce

import numpy as np

from advisor.water.formula import Formula, corners
from advisor.water.liquid import DENSEST, density, not_liquid_at
from advisor.water.numbers import Floats, Numbers, Range, floats, where
from advisor.water.plain import OVER_NOTHING

EXPANSION = 10.0
"""1e-6/K, of the concrete vessel: EN 1992-1-1, 3.1.3 (from memory)."""

MOST_MM, MOST_DAYS = 10.0, 7.0
"""The cap of BS 8007 and the limit of BS 5337: 10 mm in 7 days (verified)."""

LONGEST = 5.0
"""days, ACI 350.1: the test ends when the loss allowed would be 10 mm, or here (from memory)."""


def net_drop(level: Numbers, pan: Numbers, days: Numbers) -> Floats:
    """Fall of the level in mm a day, without what the air took.

    level: fall of the water in mm; pan: fall in an open pan or bucket beside it; days: above 0,
    else NaN. A rise is below 0.
    """
    d = floats(days)
    return where(d > 0, (floats(level) - floats(pan)) / np.where(d > 0, d, 1.0))


def net_drop_corrected(level: Numbers, pan: Numbers, thermal: Numbers, days: Numbers) -> Floats:
    """`net_drop` without what cooling took too. thermal: mm, below 0 where the water cooled."""
    return net_drop(floats(level) + floats(thermal), pan, days)


def thermal_change(depth: Numbers, before: Numbers, after: Numbers) -> Floats:
    """Change of the level in mm because the water warmed or cooled: below 0 it seems to leak.

    depth: m, at least 0; temperatures: °C, 0 to 100; else NaN. The vessel changes its area too, if
    it took the temperature of the water.
    """
    d = floats(depth) * 1000
    return where(d >= 0, _of_water(d, before, after) - _of_vessel(d, before, after))


def _of_water(depth: Floats, before: Numbers, after: Numbers) -> Floats:
    """mm that the water rises as it warms, depth in mm."""
    return depth * (density(before) / density(after) - 1)


def _of_vessel(depth: Floats, before: Numbers, after: Numbers) -> Floats:
    """mm that the level falls as the vessel widens, depth in mm."""
    return depth * 2 * EXPANSION * 1e-6 * (floats(after) - floats(before))


def loss(drop: Numbers, area: Numbers) -> Floats:
    """Litres a day. drop: mm a day; area of the water: m2, at least 0, else NaN."""
    a = floats(area)
    return where(a >= 0, floats(drop) * a)


def share_allowed(share: Numbers, depth: Numbers) -> Floats:
    """Fall in mm a day that a share of the volume makes in a tank with upright walls.

    share: % of the volume a day; depth: mean depth in m; at least 0, else NaN. ACI 350.1 and AWWA
    D110 use 0.05 % for open and prestressed tanks (verified: extracts).
    """
    s, d = floats(share), floats(depth)
    return where((s >= 0) & (d >= 0), s / 100 * d * 1000)


def five_hundredth_allowed(depth: Numbers) -> Floats:
    """Fall in mm in 7 days by BS 8007:1987, 9.2 (withdrawn): 1/500 of the mean full depth in m, at
    most 10 mm (verified: a contractor's handbook that quotes it). NaN below 0.
    """
    d = floats(depth)
    return where(d >= 0, np.minimum(d * 1000 / 500, MOST_MM))


def days_of_test(allowed: Numbers) -> Floats:
    """Days until a fall allowed in mm a day is 10 mm; at most 5 (ACI 350.1, from memory)."""
    a = floats(allowed)
    return where(a > 0, np.minimum(MOST_MM / np.where(a > 0, a, 1.0), LONGEST))


def smallest_loss(reading: Numbers, area: Numbers, days: Numbers) -> Floats:
    """Litres a day that a level read to so many mm can just show. area: m2; days: above 0."""
    d = floats(days)
    return where(d > 0, loss(reading, area) / np.where(d > 0, d, 1.0))


def _thermal_ends(depth: Range, before: Range, after: Range) -> Range:
    """`thermal_change` for closed ranges. The water may be at its densest within either; the part
    of the vessel is taken off by itself, so the ends may lie a little too far out."""
    deep = (depth[0] * 1000, depth[1] * 1000)
    most = (np.clip(DENSEST, *before), before[0], before[1])
    least = (np.clip(DENSEST, *after), after[0], after[1])
    water = [_of_water(d, t, u) for d in deep for t in most for u in least]
    vessel = corners(_of_vessel, "???", (deep, before, after))
    low, high = reduce(np.minimum, water) - vessel[1], reduce(np.maximum, water) - vessel[0]
    return where(depth[0] >= 0, low), where(depth[0] >= 0, high)


FORMULAS = (
    Formula(
        name="net-drop",
        reads=("mm", "mm", "d"),
        unit="mm/d",
        rises="+-?",
        point=net_drop,
        checks=(OVER_NOTHING,),
    ),
    Formula(
        name="net-drop-corrected",
        reads=("mm", "mm", "mm", "d"),
        unit="mm/d",
        rises="+-+?",
        point=net_drop_corrected,
        checks=(OVER_NOTHING,),
    ),
    Formula(
        name="thermal-change",
        reads=("m", "°C", "°C"),
        unit="mm",
        rises="???",
        point=thermal_change,
        span=_thermal_ends,
        checks=(not_liquid_at(1), not_liquid_at(2)),
    ),
    Formula(name="pool-loss", reads=("mm", "m2"), unit="L/d", rises="+?", point=loss),
    Formula(name="loss-of-area", reads=("mm/d", "m2"), unit="L/d", rises="+?", point=loss),
    Formula(name="share-allowed", reads=("%", "m"), unit="mm/d", rises="++", point=share_allowed),
    Formula(
        name="five-hundredth-allowed",
        reads=("m",),
        unit="mm/d",
        rises="+",
        point=lambda depth: five_hundredth_allowed(depth) / MOST_DAYS,
    ),
    Formula(
        name="days-of-test",
        reads=("mm/d",),
        unit="d",
        rises="-",
        point=days_of_test,
        checks=(OVER_NOTHING,),
    ),
)
