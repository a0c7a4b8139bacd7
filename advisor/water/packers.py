"""Holes and ports for injection: how far apart, how many, how long, and how hard to press."""

import numpy as np

from advisor.water.formula import Formula
from advisor.water.numbers import Band, Floats, Numbers, floats, where

WIDEST_SPACING = 300.0
"""mm between drilled packers. The facts on repairs, section 10: our own choice there."""

WIDEST_PORTS = 150.0
"""mm between surface ports. Construction Waterproofing Handbook, UFC 4-150-07 (verified)."""

SHARE_OF_THICKNESS = Band(0.5, 1.0, 1.0)
"""Spacing over thickness: no more than all of it (verified: a trade guide on crack injection);
half for fine cracks (common practice)."""

OVER_THE_HEAD = Band(1.0, 1.5, 2.0)
"""bar above the water at the start. Common practice; likely: the middle."""

BAR_A_METRE = 0.0980665
"""bar under a metre of water (calculation of our own: 1000 kg/m3, standard gravity)."""

BAR_FOR_STRENGTH = 10 / 3
"""bar for each N/mm2 of the strength class. German injection trade, from memory, not verified."""

THIN_PART = 150.0
"""mm. A part that is thinner is thin. Common practice."""

THIN_PART_PRESSURE = 4.0
"""bar. JIS A 6024 calls it low pressure (verified); as a cap of thin parts common practice."""

_KN_A_BAR = 100.0
"""kN that 1 bar presses on 1 m2."""

_ROUNDING = 1e-9
"""A length that is a whole number of spacings must not gain a hole by rounding."""


def packer_spacing(thickness: Numbers, share: Numbers = SHARE_OF_THICKNESS.likely) -> Floats:
    """Distance in mm between drilled packers: a share of the thickness, of 300 mm at most.

    thickness: mm, above 0; share: of the thickness, above 0 to 1. NaN for others. Source: no
    more than the thickness (verified: trade guide), half for fine cracks (common practice).
    """
    t, part = floats(thickness), floats(share)
    valid = (t > 0) & (part > 0) & (part <= 1)
    return where(valid, np.minimum(t, WIDEST_SPACING) * part)


def port_spacing(depth: Numbers) -> Floats:
    """Distance in mm between surface ports: the depth of the crack, at most 150 mm.

    depth: mm, above 0, else NaN. Source: Construction Waterproofing Handbook, UFC 4-150-07, Texas
    repair manual (verified). Trade papers go to 350 mm, UFGS 03930 wants more than the thickness.
    """
    d = floats(depth)
    return where(d > 0, np.minimum(d, WIDEST_PORTS))


def packers_along(length: Numbers, spacing: Numbers) -> Floats:
    """Number of packers or ports along a line: length over spacing, rounded up, and one more.

    length: m, above 0; spacing: mm, above 0. NaN for others. One more at each branch is for the
    crew. Source: UFGS sets one at each end (verified); the rest is a calculation of our own.
    """
    along, apart = floats(length) * 1000, floats(spacing)
    valid = (along > 0) & (apart > 0)
    return where(valid, np.ceil(along / np.where(valid, apart, 1.0) - _ROUNDING) + 1)


def hole_length(thickness: Numbers, angle: Numbers) -> Floats:
    """Length in mm of a slanting hole that meets the crack at half the thickness.

    thickness: mm, above 0; angle: degrees from the face, above 0 to 90. NaN for others. Half the
    thickness over the sine. 45 degrees: trade guide (verified); length: calculation of our own.
    """
    t, a = floats(thickness), floats(angle)
    valid = (t > 0) & (a > 0) & (a <= 90)
    return where(valid, t / 2 / np.sin(np.radians(np.where(valid, a, 90.0))))


def hole_offset(thickness: Numbers, angle: Numbers) -> Floats:
    """Distance in mm from the crack at which that hole begins.

    thickness, angle: as for its length, else NaN. Half the thickness over the tangent:
    calculation of our own.
    """
    a = np.radians(floats(angle))
    return hole_length(thickness, angle) * np.cos(a)


def curtain_holes(length: Numbers, height: Numbers, spacing: Numbers) -> Floats:
    """Number of holes in a grid with every other row shifted by half a spacing.

    length, height: m, of the curtain, above 0; spacing: mm both ways, above 0. NaN for others. A
    shifted row stands between the holes of its neighbours and has one hole less. Source: grid of
    300 to 1200 mm, rows shifted (verified: trade paper on curtains); count: our own calculation.
    """
    in_row, rows = packers_along(length, spacing), packers_along(height, spacing)
    return rows * in_row - np.floor(rows / 2)


def start_pressure(head: Numbers, over: Numbers = OVER_THE_HEAD.likely) -> Floats:
    """Pressure in bar to begin an injection with: that of the water, and 1 to 2 bar.

    head: m at the place, below 0 as 0; over: bar above it, at least 0, else NaN. Source: common
    practice; that it must exceed the water is physics.
    """
    more = floats(over)
    return where(more >= 0, BAR_A_METRE * np.maximum(floats(head), 0.0) + more)


def face_force(pressure: Numbers, area: Numbers) -> Floats:
    """Force in kN that a pressure puts on a face: pressure x area.

    pressure: bar, at least 0; area: m2, at least 0. NaN for others. Physics.
    """
    p, a = floats(pressure), floats(area)
    return where((p >= 0) & (a >= 0), p * a * _KN_A_BAR)


def pressure_ceiling(strength: Numbers, thickness: Numbers) -> Floats:
    """Highest pressure in bar: strength x 10/3; in parts under 150 mm no more than 4.

    strength: N/mm2, of the strength class, above 0; thickness: mm, above 0. NaN for others.
    Source: 10/3 German injection trade, from memory, not verified; 4 bar JIS A 6024 (verified),
    for thin parts common practice. An upper bound, never a target.
    """
    s, t = floats(strength), floats(thickness)
    most = s * BAR_FOR_STRENGTH
    most = np.where(t < THIN_PART, np.minimum(most, THIN_PART_PRESSURE), most)
    return where((s > 0) & (t > 0), most)


FORMULAS = (
    Formula(
        name="packer-spacing",
        reads=("mm",),
        unit="mm",
        bands=(SHARE_OF_THICKNESS,),
        rises="++",
        point=packer_spacing,
    ),
    Formula(name="port-spacing", reads=("mm",), unit="mm", rises="+", point=port_spacing),
    Formula(name="packers-along", reads=("m", "mm"), unit="count", rises="+-", point=packers_along),
    Formula(name="hole-length", reads=("mm", "deg"), unit="mm", rises="+-", point=hole_length),
    Formula(name="hole-offset", reads=("mm", "deg"), unit="mm", rises="+-", point=hole_offset),
    Formula(
        name="curtain-holes",
        reads=("m", "m", "mm"),
        unit="count",
        rises="++-",
        point=curtain_holes,
    ),
    Formula(
        name="start-pressure",
        reads=("m",),
        unit="bar",
        bands=(OVER_THE_HEAD,),
        rises="++",
        point=start_pressure,
    ),
    Formula(name="face-force", reads=("bar", "m2"), unit="kN", rises="++", point=face_force),
    Formula(
        name="pressure-ceiling",
        reads=("N/mm2", "mm"),
        unit="bar",
        rises="++",
        point=pressure_ceiling,
    ),
)
