"""When water and its pressure arrive through the ground, and how the tide is felt.

Pressure arrives long before the water itself: the flow rises first, its chemistry follows.
"""

import numpy as np

from advisor.water.numbers import Bools, Floats, Numbers, floats, where

MOON_TIDE = 12.42
"""Hours from high water to high water (textbook). A rhythm of 24 h is no tide."""

_HOUR, _DAY = 3600.0, 86400.0


def travel_time(distance: Numbers, permeability: Numbers, pore_share: Numbers) -> Floats:
    """Days the water itself takes through ground at a gradient of 1, straight down.

    distance: m, at least 0; permeability: m/s, above 0; pore_share: water-filled pores, above
    0, below 1. NaN for others. Pore share x distance / permeability (textbook).
    """
    far, k, pores = floats(distance), floats(permeability), floats(pore_share)
    valid = (far >= 0) & (k > 0) & (pores > 0) & (pores < 1)
    return where(valid, pores * far / np.where(valid, k, 1.0) / _DAY)


def pressure_time(distance: Numbers, diffusivity: Numbers) -> Floats:
    """Hours until a rise of pressure is felt through ground.

    distance: m, at least 0; diffusivity: permeability over specific storage, m2/s, above 0. NaN
    for others. Distance squared / (4 x diffusivity) (textbook).
    """
    far, spreads = floats(distance), floats(diffusivity)
    valid = (far >= 0) & (spreads > 0)
    return where(valid, far * far / (4 * np.where(valid, spreads, 1.0)) / _HOUR)


def tide_share(
    distance: Numbers,
    storage: Numbers,
    transmissivity: Numbers,
    period: Numbers = MOON_TIDE,
) -> Floats:
    """Share of the tide's rise that the ground water at a distance shows, no unit.

    distance: m from the tidal bank, at least 0; storage: storativity, above 0, below 1;
    transmissivity: m2/s, above 0; period: hours, above 0. NaN for others. Ferris 1952 (formula
    from memory, method verified). Confined ground; other ground only where the tide is small
    against the depth of the ground water.
    """
    valid, far, s, t, p = _tidal(distance, storage, transmissivity, period)
    return where(valid, np.exp(-far * np.sqrt(np.pi * s / (p * t))))


def tide_lag(
    distance: Numbers,
    storage: Numbers,
    transmissivity: Numbers,
    period: Numbers = MOON_TIDE,
) -> Floats:
    """Hours by which the ground water at a distance follows the tide.

    Arguments and source as for `tide_share`.
    """
    valid, far, s, t, p = _tidal(distance, storage, transmissivity, period)
    return where(valid, far * np.sqrt(p * s / (4 * np.pi * t)) / _HOUR)


def _tidal(
    distance: Numbers, storage: Numbers, transmissivity: Numbers, period: Numbers
) -> tuple[Bools, Floats, Floats, Floats, Floats]:
    """Where the arguments can be, and the arguments; the period in seconds, 1 where they cannot."""
    far, s, t, p = (floats(n) for n in (distance, storage, transmissivity, period))
    valid: Bools = (far >= 0) & (s > 0) & (s < 1) & (t > 0) & (p > 0)
    safe = [np.where(valid, number, 1.0) for number in (far, s, t, p * _HOUR)]
    return valid, safe[0], safe[1], safe[2], safe[3]
