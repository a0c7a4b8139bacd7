"""Heads of water: what they press, and how steeply they fall through a wall."""

import numpy as np

from advisor.water.liquid import GRAVITY, density
from advisor.water.numbers import Floats, Numbers, floats, where


def head_on(level: Numbers, place: Numbers) -> Floats:
    """Head of water in m at a place: level minus height of the place; below 0 it stays dry.

    Both in m above one mark.
    """
    return floats(level) - floats(place)


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
