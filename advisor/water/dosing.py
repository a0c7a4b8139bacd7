"""Admixture in loads of concrete: how much there should be, how far the record is off."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from advisor.water.formula import Formula
from advisor.water.numbers import Floats, Numbers, floats, where
from advisor.water.plain import OVER_NOTHING

_ROUNDING = 1e-9
"""Of the required dose: what sums in floating point may be off at the very limit."""


class Tolerance(NamedTuple):
    """Percent of the required dose, below (negative) and above; where from, and how sure."""

    low: float
    high: float
    edition: str
    status: str


TOLERANCES: Mapping[str, Tolerance] = MappingProxyType(
    {
        "EN 206": Tolerance(-5.0, 5.0, "EN 206:2013, batching of admixtures", "from memory"),
        "ASTM C94": Tolerance(
            -3.0, 3.0, "ASTM C94/C94M, batching of admixtures, edition not checked", "from memory"
        ),
    }
)
"""What a plant may be off in batching admixtures. The contract may name less."""


def required_dose(volume: Numbers, cement: Numbers, percent: Numbers) -> Floats:
    """Dose in kg that a load needs, where the dose is named in percent of the cement.

    volume: m3, above 0; cement: kg/m3, above 0; percent: of the cement's mass, 0 to 100. NaN
    for others.
    """
    per_cement = floats(percent)
    return where((per_cement >= 0) & (per_cement <= 100), _load(volume, cement) * per_cement / 100)


def required_dose_by_volume(volume: Numbers, dose: Numbers) -> Floats:
    """Dose in kg that a load needs. volume: m3, above 0; dose: kg/m3, above 0. NaN for others."""
    return _load(volume, dose)


def dose_share(dose: Numbers, cement: Numbers) -> Floats:
    """Dose in % of the cement. dose: kg, at least 0; cement: kg, above 0; else NaN."""
    d, c = floats(dose), floats(cement)
    return where((d >= 0) & (c > 0), 100 * d / np.where(c > 0, c, 1.0))


def dose_deviation(recorded: Numbers, required: Numbers) -> Floats:
    """How far the recorded dose is off the required one, in % of that; negative is short.

    recorded: kg, at least 0; required: kg, above 0. NaN for others.
    """
    found, needed = floats(recorded), floats(required)
    valid = (found >= 0) & (needed > 0)
    return where(valid, (found / np.where(valid, needed, 1.0) - 1) * 100)


def beyond_tolerance(recorded: Numbers, required: Numbers, low: Numbers, high: Numbers) -> Floats:
    """How far the recorded dose is past its tolerance, in % of the required one; 0 within it.

    Negative is short. recorded: kg, at least 0; required: kg, above 0; low, high: the tolerance
    in %, low from -100 to 0, high at least 0. NaN for others. A dose at the limit is within.
    """
    off, least, most = dose_deviation(recorded, required), floats(low), floats(high)
    valid = (least >= -100) & (least <= 0) & (most >= 0)
    past = np.minimum(off - least, 0.0) + np.maximum(off - most, 0.0)
    return where(valid, np.where(np.abs(past) <= _ROUNDING * 100, 0.0, past))


def out_of_tolerance(recorded: Numbers, required: Numbers, low: Numbers, high: Numbers) -> Floats:
    """1 where the recorded dose is out of tolerance, 0 where it is within.

    Arguments, and NaN, as for `beyond_tolerance`.
    """
    past = beyond_tolerance(recorded, required, low, high)
    return where(np.isfinite(past), (past != 0).astype(np.float64))


def _load(volume: Numbers, per_volume: Numbers) -> Floats:
    """m3 x kg/m3, both above 0."""
    v, mass = floats(volume), floats(per_volume)
    return where((v > 0) & (mass > 0), v * mass)


FORMULAS = (
    Formula(
        name="dose-deviation",
        reads=("%", "%"),
        unit="%",
        rises="+-",
        point=dose_deviation,
        checks=(OVER_NOTHING,),
    ),
)
