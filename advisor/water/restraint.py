"""Cracks of parts that are held while they shorten: how much strain is held, how wide they get.

Strains are in millionths (1e-6), stresses in MPa. Early-age strain: CIRIA C660 (2007) and C766
(2018). Restraint up a wall, end and edge restraint: EN 1992-3:2006. Spacing: EN 1992-1-1:2004.
"""

import numpy as np

from advisor.water.formula import Formula
from advisor.water.movement import EXPANSION, LEAST_EXPANSION, MOST_EXPANSION
from advisor.water.numbers import Bools, Floats, Numbers, floats, where
from advisor.water.plain import OVER_NOTHING

BASE_RESTRAINT = 0.5
"""At the foot of a wall cast on a base, creep counted in: EN 1992-3, table L.1 (verified)."""

_LENGTH_OVER_HEIGHT = (2.0, 3.0, 4.0, 8.0)
_TOP_RESTRAINT = (0.0, 0.05, 0.30, 0.50)

RELAXATION = 0.65
"""What creep leaves of the early strain, with a restraint up to 1: CIRIA C660 (from memory). It
is 1 with the restraints of EN 1992-3, which count creep in."""

RIBBED, PLAIN = 0.8, 1.6
"""Bond factors of ribbed and plain bars: EN 1992-1-1, 7.3.4 (verified: structuralcodes)."""

LEAST_SELF_STRESS = 0.65
"""In parts from 800 mm on: EN 1992-1-1, 7.3.2 (verified: structuralcodes)."""

STEEL_STIFFNESS = 200_000.0
"""MPa, EN 1992-1-1, 3.2.7 (from memory)."""

WEAKEST, STRONGEST, HIGH_STRENGTH = 12.0, 90.0, 50.0
"""MPa, cylinder. The range of EN 1992-1-1, table 3.1, and where its tensile formula changes."""


def top_restraint(length_over_height: Numbers) -> Floats:
    """Restraint at the top of a wall cast on a base, no unit.

    length_over_height: of the wall, above 0, else NaN. EN 1992-3, table L.1, straight lines
    between its rows (verified: open calculator source).
    """
    ratio = floats(length_over_height)
    return where(ratio > 0, np.interp(ratio, _LENGTH_OVER_HEIGHT, _TOP_RESTRAINT))


def wall_restraint(length: Numbers, height: Numbers, above_base: Numbers) -> Floats:
    """Restraint of a wall cast on a base at a height above the base, no unit.

    length, height: m, above 0; above_base: m, 0 to the height. NaN for others. Base 0.5 and top
    by EN 1992-3, table L.1 (verified); a straight line between them (common practice, no source).
    """
    long, high, up = floats(length), floats(height), floats(above_base)
    valid = (long > 0) & (high > 0) & (up >= 0) & (up <= high)
    safe = np.where(valid, high, 1.0)
    top = top_restraint(where(valid, long / safe))
    return BASE_RESTRAINT + (top - BASE_RESTRAINT) * up / safe


def restrained_strain(
    fall: Numbers,
    shortening: Numbers,
    restraint: Numbers,
    relaxation: Numbers = RELAXATION,
    expansion: Numbers = EXPANSION.likely,
) -> Floats:
    """The strain that is held in a part while it cools and shrinks, in 1e-6.

    fall: K of temperature, at least 0; shortening: autogenous or drying shrinkage, 1e-6, at
    least 0; restraint: 0 free to 1 held; relaxation: above 0, at most 1; expansion: 1e-6/K, 4 to
    20. NaN for others. CIRIA C660 and C766 add up three such strains, each with its restraint:
    setting (fall from the peak, autogenous), the season (fall alone), drying (shortening alone).
    Form from memory, purpose and terms verified.
    """
    cools, shrinks, held = floats(fall), floats(shortening), floats(restraint)
    relaxed, per_kelvin = floats(relaxation), floats(expansion)
    valid = (cools >= 0) & (shrinks >= 0) & _share(held) & (relaxed > 0) & (relaxed <= 1)
    valid = valid & (per_kelvin >= LEAST_EXPANSION) & (per_kelvin <= MOST_EXPANSION)
    return where(valid, relaxed * held * (per_kelvin * cools + shrinks))


def cracking_strain(restrained: Numbers, tensile_capacity: Numbers) -> Floats:
    """The part of the held strain that opens cracks, in 1e-6; never less than 0.

    restrained: 1e-6, at least 0; tensile_capacity: strain at which the concrete tears, 1e-6,
    above 0. NaN for others. CIRIA C660: held strain less half the capacity (from memory).
    """
    held, tears = floats(restrained), floats(tensile_capacity)
    return where((held >= 0) & (tears > 0), np.maximum(held - 0.5 * tears, 0.0))


def crack_spacing(
    cover: Numbers, bar: Numbers, steel_ratio: Numbers, bond: Numbers = RIBBED
) -> Floats:
    """The widest spacing of cracks across tension bars, in mm.

    cover, bar: mm of concrete over the bars and of their diameter, above 0; steel_ratio: area of
    the bars over that of the concrete around them in tension, above 0, below 1; bond: 0.8 ribbed
    to 1.6 plain. NaN for others. EN 1992-1-1, 7.3.4, pure tension (verified: structuralcodes).
    Holds for bars no further apart than 5 x (cover + half a bar).
    """
    c, d, ratio, k = floats(cover), floats(bar), floats(steel_ratio), floats(bond)
    valid = (c > 0) & (d > 0) & _ratio(ratio) & (k >= RIBBED) & (k <= PLAIN)
    return where(valid, 3.4 * c + 0.425 * k * d / np.where(valid, ratio, 1.0))


def tensile_strength(strength: Numbers) -> Floats:
    """Mean tensile strength in MPa. strength: MPa, cylinder, 12 to 90, else NaN.

    EN 1992-1-1, table 3.1 (verified: structuralcodes).
    """
    f = floats(strength)
    safe = np.where(_concrete(f), f, 30.0)
    above = 2.12 * np.log(1 + (safe + 8) / 10)
    return where(_concrete(f), np.where(f <= HIGH_STRENGTH, 0.3 * safe ** (2 / 3), above))


def stiffness(strength: Numbers) -> Floats:
    """Mean modulus of elasticity in MPa. strength: MPa, cylinder, 12 to 90, else NaN.

    EN 1992-1-1, table 3.1, for quartz aggregate (verified: structuralcodes).
    """
    f = floats(strength)
    return where(_concrete(f), 22_000 * ((np.where(_concrete(f), f, 30.0) + 8) / 10) ** 0.3)


def modular_ratio(strength: Numbers) -> Floats:
    """Stiffness of steel over that of concrete, no unit. strength: MPa, cylinder, 12 to 90."""
    return STEEL_STIFFNESS / stiffness(strength)


def end_restraint_strain(
    tensile: Numbers, steel_ratio: Numbers, modular: Numbers, self_stress: Numbers = 1.0
) -> Floats:
    """Strain that opens the cracks of a part held at its ends, in 1e-6: the steel decides it.

    tensile: strength of the concrete when it cracks, MPa, above 0; steel_ratio: above 0, below
    1; modular: steel over concrete, at least 1; self_stress: 0.65 in parts from 800 mm on, 1 up
    to 300 mm. NaN for others. EN 1992-3, annex M, formula M.1, for pure tension (verified:
    structuralcodes).
    """
    f, ratio, n, k = floats(tensile), floats(steel_ratio), floats(modular), floats(self_stress)
    valid = (f > 0) & _ratio(ratio) & (n >= 1) & (k >= LEAST_SELF_STRESS) & (k <= 1)
    bars = n + 1 / np.where(valid, ratio, 1.0)
    return where(valid, 1e6 * 0.5 * k * f * bars / STEEL_STIFFNESS)


def end_restraint_width(
    spacing: Numbers,
    tensile: Numbers,
    steel_ratio: Numbers,
    modular: Numbers,
    self_stress: Numbers = 1.0,
) -> Floats:
    """Width in mm of the cracks of a part held at its ends.

    spacing: mm, above 0; the others as for `end_restraint_strain`. EN 1992-3, annex M.
    """
    return crack_width(spacing, end_restraint_strain(tensile, steel_ratio, modular, self_stress))


def edge_restraint_width(spacing: Numbers, restraint: Numbers, free_strain: Numbers) -> Floats:
    """Width in mm of the cracks of a part held along its edge, as a wall on its base.

    spacing: mm, above 0; restraint: 0 to 1; free_strain: 1e-6, at least 0. NaN for others.
    EN 1992-3, annex M.2 b (from memory).
    """
    held = floats(restraint)
    return crack_width(spacing, where(_share(held), held * floats(free_strain)))


def crack_width(spacing: Numbers, strain: Numbers) -> Floats:
    """Width in mm: spacing in mm, above 0, x strain in 1e-6, at least 0. NaN for others."""
    s, e = floats(spacing), floats(strain)
    return where((s > 0) & (e >= 0), s * e * 1e-6)


def _share(number: Floats) -> Bools:
    valid: Bools = (number >= 0) & (number <= 1)
    return valid


def _ratio(number: Floats) -> Bools:
    valid: Bools = (number > 0) & (number < 1)
    return valid


def _concrete(strength: Floats) -> Bools:
    valid: Bools = (strength >= WEAKEST) & (strength <= STRONGEST)
    return valid


FORMULAS = (
    Formula(
        name="top-restraint",
        reads=("ratio",),
        unit="ratio",
        rises="+",
        point=top_restraint,
        checks=(OVER_NOTHING,),
    ),
)
