"""Heads of water: what they press, and how steeply they fall through a wall."""

import numpy as np

from advisor.water.formula import Check, Formula, corners
from advisor.water.liquid import DENSEST, GRAVITY, density, not_liquid_at
from advisor.water.numbers import Floats, Numbers, Range, floats, where


def water_pressure(head: Numbers, temperature: Numbers) -> Floats:
    """Pressure in kPa under a head: density x g x head. Below the water 0.

    head: m; temperature: °C, 0 to 100, else NaN. Textbook.
    """
    return density(temperature) * GRAVITY * np.maximum(floats(head), 0.0) / 1000


def gradient(head: Numbers, thickness: Numbers) -> Floats:
    """Head over thickness, no unit; 0 where the head is below 0.

    head: m; thickness: mm, above 0, else NaN.
    """
    d = floats(thickness) / 1000
    return where(d > 0, np.maximum(floats(head), 0.0) / np.where(d > 0, d, 1.0))


def gradient_down(pond: Numbers, thickness: Numbers) -> Floats:
    """Gradient through a slab that water stands on: its own thickness adds 1.

    pond: m, at least 0; thickness: mm, above 0; else NaN.
    """
    p = floats(pond)
    return where(p >= 0, gradient(p, thickness) + 1)


def _pressure_ends(head: Range, temperature: Range) -> Range:
    """Ends of the pressure: the water may be at its densest within the range."""
    low, _ = corners(water_pressure, "+?", (head, temperature))
    return low, water_pressure(head[1], np.clip(DENSEST, *temperature))


def no_thickness_at(place: int) -> Check:
    """That the input at this place, a thickness, is none."""
    return Check(key="no-thickness", level="impossible", bad=lambda *inputs: inputs[place] <= 0)


FORMULAS = (
    Formula(
        name="gradient",
        reads=("m", "mm"),
        unit="ratio",
        rises="+-",
        point=gradient,
        checks=(no_thickness_at(1),),
    ),
    Formula(
        name="water-pressure",
        reads=("m", "°C"),
        unit="kPa",
        rises="+?",
        point=water_pressure,
        span=_pressure_ends,
        checks=(not_liquid_at(1),),
    ),
)
