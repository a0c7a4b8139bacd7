"""How much concrete shrinks by drying and by setting, and how far joints open from it.

EN 1992-1-1:2004, 3.1.4 and annex B.2 (verified: structuralcodes, hand-run agrees). Strains are
in millionths of the length (1e-6). Real concrete lies within about 30 % of it (from memory).
"""

from typing import NamedTuple

import numpy as np

from advisor.water.formula import Check, Formula
from advisor.water.numbers import Band, Bools, Floats, Numbers, Range, floats, where

WEAKEST, STRONGEST = 20.0, 90.0
"""MPa, cylinder: C20 to C90."""

DRIEST, WETTEST = 40.0, 100.0
"""% of humidity of the air. Under water concrete swells: not in here."""

THINNEST = 100.0
"""mm of notional size, where the table of the code begins."""

_SIZES = (100.0, 200.0, 300.0, 500.0)
_SIZE_FACTORS = (1.0, 0.85, 0.75, 0.70)

EARLIEST = 1.0
"""Days. No drying is reckoned before (common practice, no source)."""


class Cement(NamedTuple):
    """Two factors of the drying shrinkage that go with how fast the cement hardens."""

    amount: float
    with_strength: float


SLOW, NORMAL, RAPID = Cement(3.0, 0.13), Cement(4.0, 0.12), Cement(6.0, 0.11)
"""Classes S, N and R of EN 1992-1-1."""


def notional_size(thickness: Numbers, drying_faces: Numbers) -> Floats:
    """Notional size in mm: twice the area of the section over its drying edge.

    thickness: mm of a wall or slab, above 0; drying_faces: 1 or 2. NaN for others.
    """
    d, faces = floats(thickness), floats(drying_faces)
    valid = (d > 0) & ((faces == 1) | (faces == 2))
    return where(valid, 2 * d / np.where(valid, faces, 1.0))


def drying_shrinkage_in_the_end(
    strength: Numbers, humidity: Numbers, size: Numbers, *, cement: Cement = NORMAL
) -> Floats:
    """What drying shortens concrete by in the end, in 1e-6.

    strength: MPa, cylinder, 20 to 90; humidity of the air: %, 40 to 100; size: notional, mm, at
    least 100. NaN for others.
    """
    f, dry, h = floats(strength), floats(humidity) / 100, floats(size)
    valid = _concrete(f) & (dry >= DRIEST / 100) & (dry <= WETTEST / 100) & (h >= THINNEST)
    hardened = np.exp(-cement.with_strength * (np.where(valid, f, 30.0) + 8) / 10)
    basic = 0.85 * (220 + 110 * cement.amount) * hardened * 1.55 * (1 - dry**3)
    return where(valid, np.interp(h, _SIZES, _SIZE_FACTORS) * basic)


def drying_shrinkage(
    strength: Numbers,
    humidity: Numbers,
    size: Numbers,
    age: Numbers,
    drying_from: Numbers,
    *,
    cement: Cement = NORMAL,
) -> Floats:
    """What drying has shortened concrete by at an age, in 1e-6; 0 before drying began.

    age: days since the pour, at least 0; drying_from: days, end of curing, at least 1; the
    others as in the end.
    """
    t, start, h = floats(age), floats(drying_from), floats(size)
    valid = (t >= 0) & np.isfinite(t) & (start >= EARLIEST) & (h >= THINNEST) & np.isfinite(h)
    dried = np.maximum(np.where(valid, t - start, 0.0), 0.0)
    done = dried / (dried + 0.04 * np.sqrt(np.where(valid, h, THINNEST) ** 3))
    return where(valid, done * drying_shrinkage_in_the_end(strength, humidity, size, cement=cement))


def autogenous_shrinkage_in_the_end(strength: Numbers) -> Floats:
    """What setting shortens concrete by in the end, in 1e-6. strength: MPa, 20 to 90, else NaN."""
    f = floats(strength)
    return where(_concrete(f), 2.5 * (f - 10))


def autogenous_shrinkage(strength: Numbers, age: Numbers) -> Floats:
    """What setting has shortened concrete by at an age, in 1e-6.

    strength: MPa, cylinder, 20 to 90; age: days, at least 0. NaN for others.
    """
    t = floats(age)
    done = 1 - np.exp(-0.2 * np.sqrt(np.where(t >= 0, t, 0.0)))
    return where(t >= 0, done * autogenous_shrinkage_in_the_end(strength))


def shrinkage(
    strength: Numbers,
    humidity: Numbers,
    size: Numbers,
    age: Numbers,
    drying_from: Numbers,
    *,
    cement: Cement = NORMAL,
) -> Floats:
    """What drying and setting together have shortened concrete by at an age, in 1e-6.

    Arguments as for `drying_shrinkage`.
    """
    drying = drying_shrinkage(strength, humidity, size, age, drying_from, cement=cement)
    return drying + autogenous_shrinkage(strength, age)


def shrinkage_opening(bay_length: Numbers, strain: Numbers) -> Floats:
    """How far the joint between two free bays of this length opens by shrinkage, in mm.

    bay_length: m, above 0; strain: 1e-6, at least 0. NaN for others.
    """
    bay, short = floats(bay_length), floats(strain)
    return where((bay > 0) & (short >= 0), bay * short * 1e-3)


def _concrete(strength: Floats) -> Bools:
    valid: Bools = (strength >= WEAKEST) & (strength <= STRONGEST)
    return valid


STRENGTH = Band(25.0, 30.0, 40.0)
"""MPa of cylinders: the classes of watertight concrete (common practice, no source)."""

DRIES_FROM = 7.0
"""days: cured for a week (common practice, no source)."""

_WET, _DRY = 100.0, 40.0


def opening_so_far(
    bay: Numbers, humidity: Numbers, thickness: Numbers, age: Numbers, strength: Numbers
) -> Floats:
    """Opening in mm between bays that dry on both faces: their notional size is their thickness.

    bay: m; humidity: %; thickness: mm; age: days; strength: MPa. Cured for a week. NaN as above.
    """
    return shrinkage_opening(bay, shrinkage(strength, humidity, thickness, age, DRIES_FROM))


def _opening_ends(
    bay: Range, humidity: Range, thickness: Range, age: Range, strength: Range
) -> Range:
    """Drying falls with the strength, setting rises with it: each at its own end."""
    dry, thick, young = humidity[1], thickness[1], age[0]
    drying = drying_shrinkage(strength[1], dry, thick, young, DRIES_FROM)
    low = shrinkage_opening(bay[0], drying + autogenous_shrinkage(strength[0], young))
    drying = drying_shrinkage(strength[0], humidity[0], thickness[0], age[1], DRIES_FROM)
    high = shrinkage_opening(bay[1], drying + autogenous_shrinkage(strength[1], age[1]))
    return low, high


FORMULAS = (
    Formula(
        name="shrinkage-opening",
        reads=("m", "%", "mm", "d"),
        unit="mm",
        bands=(STRENGTH,),
        rises="+--+?",
        point=opening_so_far,
        span=_opening_ends,
        checks=(
            Check(
                key="air-too-dry-for-shrinkage",
                level="outside",
                bad=lambda _, humidity, *__: (humidity < _DRY) | (humidity > _WET),
            ),
            Check(key="too-thin", level="outside", bad=lambda *i: i[2] < THINNEST),
        ),
    ),
)
