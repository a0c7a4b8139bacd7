"""Elastic seals of joints: how wide, how deep, and which rod or pressed profile goes in."""

import numpy as np

from advisor.water.formula import Formula
from advisor.water.numbers import Band, Floats, Numbers, Range, floats, where

TIMES_MOVEMENT = 4.0
"""Least width over movement. Construction Waterproofing Handbook (verified)."""

SQUARE_TO = 13.0
"""mm. To this width a sealant is as deep as wide, and never deeper (the same, verified)."""

THINNEST = 6.0
"""mm. Least depth of a sealant (the same, verified)."""

ROD = Band(1.25, 1.275, 1.3)
"""Diameter of the backer rod over the width of the joint. Common practice; likely: the middle."""

LEAST_PRESSED, MOST_PRESSED = 0.2, 0.5
"""Share by which a pressed seal is squeezed at the widest and at the narrowest of its joint.
ACI 504R and AASHTO, from memory."""

_BETWEEN = Band(0.0, 0.5, 1.0)
"""From the narrowest seal that fits to the widest one."""


def sealant_width(movement: Numbers, share: Numbers) -> Floats:
    """Least width in mm of a sealed joint, by both rules: movement over share, and 4 x movement.

    movement: mm, at least 0; share: % of its width that the sealant may move, above 0 to 100.
    NaN for others. Source: movement accommodation factor (verified: a lecture page); four times
    the movement: Construction Waterproofing Handbook (verified).
    """
    return np.maximum(width_by_share(movement, share), TIMES_MOVEMENT * floats(movement))


def width_by_share(movement: Numbers, share: Numbers) -> Floats:
    """Least width in mm by the first rule alone; arguments as for `sealant_width`."""
    m, percent = floats(movement), floats(share)
    valid = (m >= 0) & (percent > 0) & (percent <= 100)
    return where(valid, m * 100 / np.where(valid, percent, 100.0))


def sealant_depth(width: Numbers) -> Floats:
    """Depth in mm of a sealant: as its width up to 13 mm, above it half, from 6 to 13 mm.

    width: mm, above 0, else NaN. Source: Construction Waterproofing Handbook (verified). One
    trade page asks 20 mm under a head of water: a gunned sealant alone is no seal against it.
    """
    w = floats(width)
    return where(w > 0, np.clip(np.where(w <= SQUARE_TO, w, w / 2), THINNEST, SQUARE_TO))


def _depth_ends(width: Range) -> Range:
    """Ends of the depth: it falls by half where the width passes 13 mm."""
    first, last = (sealant_depth(end) for end in width)
    passes = (width[0] <= SQUARE_TO) & (width[1] > SQUARE_TO)
    low, high = np.minimum(first, last), np.maximum(first, last)
    return (
        np.where(passes, np.minimum(low, max(SQUARE_TO / 2, THINNEST)), low),
        np.where(passes, SQUARE_TO, high),
    )


def backer_rod(width: Numbers, times: Numbers = ROD.likely) -> Floats:
    """Diameter in mm of the rod behind a sealant: 25 to 30 % more than the joint is wide.

    width: mm, above 0; times: rod over width, at least 1. NaN for others. Source: common practice.
    """
    w, more = floats(width), floats(times)
    return where((w > 0) & (more >= 1), w * more)


def compression_seal_width(
    widest: Numbers, narrowest: Numbers, between: Numbers = _BETWEEN.likely
) -> Floats:
    """Free width in mm of a pressed seal that stays squeezed by 20 to 50 % the year round.

    widest, narrowest: mm of the joint, above 0, the widest not below the other; between: 0 the
    least free width that still presses at the widest, 1 the most that still fits at the
    narrowest. NaN for others, and where no seal does both: the joint moves too far for one.
    Source: ACI 504R, AASHTO (from memory).
    """
    wide, narrow, way = floats(widest), floats(narrowest), floats(between)
    least, most = wide / (1 - LEAST_PRESSED), narrow / (1 - MOST_PRESSED)
    valid = (narrow > 0) & (wide >= narrow) & (least <= most) & (way >= 0) & (way <= 1)
    return where(valid, least + way * (most - least))


def seal_for_gap(gap: Numbers, movement: Numbers, between: Numbers = _BETWEEN.likely) -> Floats:
    """`compression_seal_width` of a joint measured midway between its widest and its narrowest.

    gap: mm, above half of the movement; movement: mm from narrowest to widest, at least 0. NaN
    for others and as there. Measured when it is coldest, take half the movement off the gap.
    """
    g, half = floats(gap), floats(movement) / 2
    return compression_seal_width(g + half, g - half, between)


FORMULAS = (
    Formula(name="sealant-width", reads=("mm", "%"), unit="mm", rises="+-", point=sealant_width),
    Formula(
        name="sealant-depth",
        reads=("mm",),
        unit="mm",
        rises="?",
        point=sealant_depth,
        span=_depth_ends,
    ),
    Formula(
        name="backer-rod",
        reads=("mm",),
        unit="mm",
        bands=(ROD,),
        rises="++",
        point=backer_rod,
    ),
    Formula(
        name="compression-seal-width",
        reads=("mm", "mm"),
        unit="mm",
        bands=(_BETWEEN,),
        rises="+?+",
        point=seal_for_gap,
    ),
)
