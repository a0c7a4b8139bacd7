"""What a void takes up, and what fills it: cracks, grooves, gaps, holes, stones with pores."""

import numpy as np

from advisor.water.formula import SAME, Formula
from advisor.water.numbers import Floats, Numbers, floats, where

CEMENT_DENSITY = 3.0
"""kg/L of cement grains. The facts on repairs, section 5 (calculation of our own)."""


def slot_volume(width: Numbers, depth: Numbers, length: Numbers) -> Floats:
    """Litres in a slot with straight sides: a crack, a groove, a joint gap.

    width, depth: mm, at least 0; length: m, at least 0. NaN for others. Width x depth x length:
    calculation of our own.
    """
    w, d, along = floats(width), floats(depth), floats(length)
    return where((w >= 0) & (d >= 0) & (along >= 0), w * d * along / 1000)


def fillet_volume(side: Numbers, other_side: Numbers, length: Numbers) -> Floats:
    """Litres in a fillet of triangular section: half of the slot about it.

    side, other_side: mm, at least 0; length: m, at least 0. NaN for others. Calculation of our own.
    """
    return slot_volume(side, other_side, length) / 2


def box_volume(length: Numbers, width: Numbers, depth: Numbers) -> Floats:
    """Litres in a box: a void, a broken-out piece.

    length, width, depth: mm, at least 0, else NaN. Calculation of our own.
    """
    return slot_volume(width, depth, floats(length) / 1000)


def layer_volume(area: Numbers, thickness: Numbers) -> Floats:
    """Litres in a layer: area x thickness.

    area: m2, at least 0; thickness: mm, at least 0. NaN for others. Calculation of our own.
    """
    a, t = floats(area), floats(thickness)
    return where((a >= 0) & (t >= 0), a * t)


def annulus_volume(inner: Numbers, gap: Numbers, depth: Numbers) -> Floats:
    """Litres in the ring round a pipe.

    inner: mm, diameter of the pipe, at least 0; gap: mm from pipe to concrete, at least 0; depth:
    mm along the pipe, at least 0. NaN for others. Calculation of our own.
    """
    d, g, along = floats(inner), floats(gap), floats(depth)
    valid = (d >= 0) & (g >= 0) & (along >= 0)
    return where(valid, np.pi * (d + g) * g * along * 1e-6)


def cylinders_volume(count: Numbers, diameter: Numbers, depth: Numbers) -> Floats:
    """Litres in so many round holes: tie holes, injection holes, a core hole.

    count: at least 0; diameter, depth: mm, at least 0. NaN for others. Calculation of our own.
    """
    n, d, along = floats(count), floats(diameter), floats(depth)
    valid = (n >= 0) & (d >= 0) & (along >= 0)
    return where(valid, n * np.pi * d * d / 4 * along * 1e-6)


def core_volume(diameter: Numbers, length: Numbers) -> Floats:
    """Litres in a core hole along a crack.

    diameter: mm, at least 0; length: m, at least 0. NaN for others. Calculation of our own.
    """
    return cylinders_volume(1.0, diameter, floats(length) * 1000)


def pores_volume(area: Numbers, thickness: Numbers, porosity: Numbers) -> Floats:
    """Litres in the open pores of a layer: a zone of bad concrete, soil behind a wall.

    area: m2, at least 0; thickness: mm, at least 0; porosity: share that is open, 0 to 1. NaN for
    others. Calculation of our own.
    """
    share = floats(porosity)
    return where((share >= 0) & (share <= 1), layer_volume(area, thickness) * share)


def with_loss(volume: Numbers, loss: Numbers) -> Floats:
    """Litres to bring for so many litres to fill, as some run off beside them.

    volume: L, at least 0; loss: times as much, at least 1. NaN for others. Source: losses are
    common practice, 1.3 tight to 3 with an open back. Free rise of a foam is never taken off.
    """
    v, times = floats(volume), floats(loss)
    return where((v >= 0) & (times >= 1), v * times)


def together(one: Numbers, other: Numbers) -> Floats:
    """`one` and `other`, in their unit."""
    return floats(one) + floats(other)


def part_of(whole: Numbers, share: Numbers) -> Floats:
    """A share of the whole, in its unit. share: 0 to 1, else NaN."""
    part = floats(share)
    return where((part >= 0) & (part <= 1), floats(whole) * part)


def mass_of(volume: Numbers, density: Numbers) -> Floats:
    """Mass in kg: volume x density.

    volume: L, at least 0; density: kg/L, above 0. NaN for others. Physics.
    """
    v, heavy = floats(volume), floats(density)
    return where((v >= 0) & (heavy > 0), v * heavy)


def suspension_cement(volume: Numbers, water_to_cement: Numbers) -> Floats:
    """Cement in kg for so many litres of a suspension of cement and water.

    volume: L, at least 0; water_to_cement: by mass, at least 0. NaN for others. A kilogram of
    cement takes 1/3 L, its water the ratio in litres. Calculation of our own; the usual ratios
    0.6 to 1.0 are common practice.
    """
    v, ratio = floats(volume), floats(water_to_cement)
    valid = (v >= 0) & (ratio >= 0)
    return where(valid, v / (1 / CEMENT_DENSITY + np.where(valid, ratio, 0.0)))


FORMULAS = (
    Formula(name="slot-volume", reads=("mm", "mm", "m"), unit="L", rises="+++", point=slot_volume),
    Formula(
        name="fillet-volume", reads=("mm", "mm", "m"), unit="L", rises="+++", point=fillet_volume
    ),
    Formula(name="box-volume", reads=("mm", "mm", "mm"), unit="L", rises="+++", point=box_volume),
    Formula(name="layer-volume", reads=("m2", "mm"), unit="L", rises="++", point=layer_volume),
    Formula(
        name="annulus-volume",
        reads=("mm", "mm", "mm"),
        unit="L",
        rises="+++",
        point=annulus_volume,
    ),
    Formula(
        name="cylinders-volume",
        reads=("count", "mm", "mm"),
        unit="L",
        rises="+++",
        point=cylinders_volume,
    ),
    Formula(name="core-volume", reads=("mm", "m"), unit="L", rises="++", point=core_volume),
    Formula(
        name="pores-volume",
        reads=("m2", "mm", "ratio"),
        unit="L",
        rises="+++",
        point=pores_volume,
    ),
    Formula(name="with-loss", reads=("L", "ratio"), unit="L", rises="++", point=with_loss),
    Formula(name="together", reads=(SAME, SAME), unit=SAME, rises="++", point=together),
    Formula(name="part-of", reads=(SAME, "ratio"), unit=SAME, rises="+?", point=part_of),
    Formula(name="mass-of", reads=("L", "kg/L"), unit="kg", rises="++", point=mass_of),
    Formula(
        name="suspension-cement",
        reads=("L", "ratio"),
        unit="kg",
        rises="+-",
        point=suspension_cement,
    ),
)
