"""How far concrete moves with its temperature, at joints and at cracks, and what that does.

Expansion is in millionths of the length a kelvin. EN 1992-1-1 says 10 (from memory).
"""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from advisor.water.formula import Check, Formula
from advisor.water.numbers import Band, Bools, Floats, Numbers, floats, where

EXPANSION_BY_AGGREGATE: Mapping[str, float] = MappingProxyType(
    {
        "quartz": 11.88,
        "sandstone": 11.70,
        "gravel": 10.80,
        "granite": 9.540,
        "basalt": 8.640,
        "limestone": 6.840,
    }
)
"""1e-6/K of concrete with that aggregate (verified: concreteconstruction.net, there by °F)."""

EXPANSION = Band(6.84, 10.0, 11.88)
"""1e-6/K. Ends: limestone and quartz (verified). Likely: EN 1992-1-1, 3.1.3 (from memory)."""

LEAST_EXPANSION, MOST_EXPANSION = 4.0, 20.0
"""1e-6/K. No concrete lies outside (common practice, no source): another unit was meant."""

HOTTEST_SWING = 100.0
"""K. No structure in service swings further (common practice, no source)."""


def free_movement(length: Numbers, swing: Numbers, expansion: Numbers = EXPANSION.likely) -> Floats:
    """How much longer a free part is when warmest than when coldest, in mm.

    length: m, above 0; swing: K from coldest to warmest, 0 to 100; expansion: 1e-6/K, 4 to 20.
    Broadcast. NaN for others. Textbook: expansion x length x swing.
    """
    return joint_movement(length, swing, 0.0, expansion)


def joint_movement(
    bay_length: Numbers,
    swing: Numbers,
    restraint: Numbers,
    expansion: Numbers = EXPANSION.likely,
) -> Floats:
    """How much a joint between two bays of this length opens from warmest to coldest, in mm.

    bay_length: m, above 0; swing: K, 0 to 100; restraint: share of the movement that the base
    holds back, 0 free to 1 held; expansion: 1e-6/K, 4 to 20. NaN for others. Follows from the
    free movement.
    """
    bay, held = floats(bay_length), floats(restraint)
    valid = _warms(swing, expansion) & (bay > 0) & (held >= 0) & (held <= 1)
    return where(valid, floats(expansion) * 1e-3 * bay * floats(swing) * (1 - held))


def crack_swing(
    spacing: Numbers,
    swing: Numbers,
    restraint: Numbers,
    expansion: Numbers = EXPANSION.likely,
) -> Floats:
    """How much a crack in a restrained part opens from warmest to coldest, in mm.

    spacing: m from crack to crack, above 0; swing: K, 0 to 100; restraint: 0 free to 1 held;
    expansion: 1e-6/K, 4 to 20. NaN for others. The held share of the movement between two
    cracks; same form as the edge-restraint width of EN 1992-3 (from memory). A free part has
    no cracks to swing: 0.
    """
    apart, held = floats(spacing), floats(restraint)
    valid = _warms(swing, expansion) & (apart > 0) & (held >= 0) & (held <= 1)
    return where(valid, held * floats(expansion) * 1e-3 * apart * floats(swing))


def flow_change(width: Numbers, width_later: Numbers) -> Floats:
    """How many times as much flows through a crack once its width has changed; no unit.

    width: mm, above 0; width_later: mm, at least 0. NaN for others. Follows from the cubic law.
    """
    first, later = floats(width), floats(width_later)
    valid = (first > 0) & (later >= 0)
    return where(valid, (later / np.where(valid, first, 1.0)) ** 3)


def flow_span(width: Numbers, either_way: Numbers) -> Floats:
    """How many times as much flows at the widest as at the narrowest of a crack; no unit.

    width: mm, mean, above 0; either_way: mm that it opens and closes about it, at least 0. NaN
    for others, and where the crack closes: no number is large enough. Follows from the cubic law.
    """
    w, e = floats(width), floats(either_way)
    valid = (e >= 0) & (w > e)
    return flow_change(where(valid, w - e), where(valid, w + e))


def _warms(swing: Numbers, expansion: Numbers) -> Bools:
    s, a = floats(swing), floats(expansion)
    valid: Bools = (s >= 0) & (s <= HOTTEST_SWING) & (a >= LEAST_EXPANSION) & (a <= MOST_EXPANSION)
    return valid


_RESTRAINT = Band(0.0, 0.25, 0.5)
"""Share of the movement that a base holds back: up to 0.5 at the base (EN 1992-3, annex L)."""

_TOO_WARM = Check(key="swing-too-large", level="outside", bad=lambda _, dt, *__: dt > HOTTEST_SWING)

FORMULAS = (
    Formula(
        name="joint-movement",
        reads=("m", "K"),
        unit="mm",
        bands=(_RESTRAINT, EXPANSION),
        rises="++-+",
        point=joint_movement,
        checks=(_TOO_WARM,),
    ),
    Formula(
        name="crack-swing",
        reads=("m", "K"),
        unit="mm",
        bands=(_RESTRAINT, EXPANSION),
        rises="++++",
        point=crack_swing,
        checks=(_TOO_WARM,),
    ),
    Formula(
        name="flow-span",
        reads=("mm", "mm"),
        unit="ratio",
        rises="-+",
        point=lambda width, swing: flow_span(width, floats(swing) / 2),
        checks=(
            Check(key="crack-shuts", level="outside", bad=lambda width, swing: swing / 2 >= width),
        ),
    ),
)
