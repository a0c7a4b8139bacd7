"""Water through a crack: the cubic law with a reduction factor, and what it gives backwards.

Source of the law: flow between parallel plates, textbook (from memory). The reduction factor
stands for roughness, winding and what narrows the crack inside.
"""

import numpy as np

from advisor.water.liquid import GRAVITY, slot_constant
from advisor.water.numbers import Band, Bools, Floats, Numbers, Range, floats, where

REDUCTION = Band(0.10, 0.25, 0.52)
"""Share of the smooth-plate flow that a crack passes. 0.17-0.25: Akhavan, Shafaatian and
Rajabipour, Cem. Concr. Res. 42 (2012) 313 (verified: abstract). 0.25: follows from Edvardsen's
constant (from memory). 0.52: Lahmann, Edvardsen and Keßler, Beton- und Stahlbetonbau 2024
(verified: abstract). Published values as a whole go from 0.01 to 1 (verified: abstract)."""

SMOOTH = 1.0

STEADY, ROUGH, LAMINAR = 10.0, 100.0, 2300.0
"""Reynolds numbers: the law is right up to the first, passable in rough cracks up to the second,
lost at the third (from memory, fracture-flow literature)."""

_LITRES_AN_HOUR = 1 / 3.6e6
"""m3/s."""


def crack_flow(
    width: Numbers, gradient: Numbers, temperature: Numbers, reduction: Numbers = REDUCTION.likely
) -> Floats:
    """Flow through each metre of a crack that goes through, in L/h.

    width: mm, at least 0; gradient: head over thickness, at least 0; temperature: °C of the
    water, 0 to 100; reduction: share of the smooth flow, above 0, at most 1. Broadcast. NaN for
    others, and where the Reynolds number passes 2300: the law is lost there.
    """
    w = floats(width)
    q = floats(reduction) * slot_constant(temperature) * (w * w * w) * floats(gradient)
    valid = (w >= 0) & (q >= 0) & (floats(reduction) <= 1)
    return where(valid & (reynolds(q, temperature) <= LAMINAR), q)


def reynolds(flow: Numbers, temperature: Numbers) -> Floats:
    """Reynolds number of a flow in a slot, whatever its width: 2 x flow / viscosity.

    flow: L/h a metre; temperature: °C, 0 to 100, else NaN.
    """
    return 2 * floats(flow) * _LITRES_AN_HOUR / (_kinematic(temperature) * 1e-6)


def crack_flow_ends(width: Range, gradient: Range, temperature: Range, reduction: Range) -> Range:
    """`crack_flow` for closed ranges, lowest and highest it can be, arrays (rows,).

    Nothing is lost where the law is: eddies only add resistance, so the law is the most that can
    pass, and what passes at a Reynolds number of 100, where it still holds, is the least.
    """
    low = _law(width[0], gradient[0], temperature[0], reduction[0])
    high = _law(width[1], gradient[1], temperature[1], reduction[1])
    at_rough = ROUGH / 2 * _kinematic(temperature[1]) * 1e-6 / _LITRES_AN_HOUR
    return np.minimum(low, at_rough), high


def _kinematic(temperature: Numbers) -> Floats:
    """Kinematic viscosity in mm2/s, out of the slot constant, which is read from a table."""
    return GRAVITY * 1e-3 * 3.6e6 / 12 / slot_constant(temperature)


def _law(width: Floats, gradient: Floats, temperature: Floats, reduction: Floats) -> Floats:
    """The cubic law without its limit. Where the gradient is below 0 nothing comes through."""
    return reduction * slot_constant(temperature) * width**3 * np.maximum(gradient, 0.0)


def hydraulic_width(
    flow: Numbers, gradient: Numbers, temperature: Numbers, reduction: Numbers = REDUCTION.likely
) -> Floats:
    """Width in mm of the crack that passes a flow; at a reduction of 1 the smooth one.

    flow: L/h a metre of crack, at least 0; gradient: above 0; temperature: °C, 0 to 100;
    reduction: above 0, at most 1. Broadcast. NaN for others, and past a Reynolds number of 2300.
    """
    q, i, c = floats(flow), floats(gradient), floats(reduction)
    valid = (q >= 0) & (i > 0) & (c > 0) & (c <= 1) & (reynolds(q, temperature) <= LAMINAR)
    smooth = slot_constant(temperature) * np.where(valid, c * i, 1.0)
    return where(valid, np.cbrt(np.where(valid, q, 0.0) / smooth))


def mean_width_along(widths: Numbers) -> Floats:
    """Width in mm that passes as much as equal lengths of these widths side by side.

    widths: mm, at least 0, (..., places). The mean of the cubes: the widest place carries most.
    """
    w = floats(widths)
    return where(np.all(w >= 0, axis=-1), np.cbrt(np.mean(w**3, axis=-1)))


def mean_width_through(widths: Numbers) -> Floats:
    """Width in mm that passes as much as equal lengths of these widths one behind the other.

    widths: mm, above 0, (..., places). The narrowest place holds the water back.
    """
    w = floats(widths)
    valid = np.all(w > 0, axis=-1)
    return where(valid, np.cbrt(1 / np.mean(np.where(w > 0, w, 1.0) ** -3.0, axis=-1)))


def spread_factor(variation: Numbers) -> Floats:
    """How much more passes than through the mean width, where widths spread log-normally.

    variation: standard deviation over mean, at least 0. (1 + variation squared) cubed; follows
    from the cubic law.
    """
    v = floats(variation)
    return where(v >= 0, (1 + v * v) ** 3)


def wall_crack_flow(
    width: Numbers,
    water_height: Numbers,
    thickness: Numbers,
    temperature: Numbers,
    reduction: Numbers = REDUCTION.likely,
) -> Floats:
    """Flow in L/h through an upright crack in a wall, open from its foot up to the water.

    width: mm; water_height: m above the foot of the crack; thickness: m, above 0;
    temperature: °C. The head grows from nothing to the water height, so half of it counts.
    """
    h, d = floats(water_height), floats(thickness)
    gradient = np.where(d > 0, h / np.where(d > 0, d, 1.0), np.nan) / 2
    return crack_flow(width, gradient, temperature, reduction) * h


def head_exponent(flow: Numbers, flow_later: Numbers, head: Numbers, head_later: Numbers) -> Floats:
    """How the flow grows with the head: about 1 a fine crack or pores, 0.5 a hole, more than 1 an
    opening that widens, or more of it under water.

    Flows in one unit and heads in m, above 0, heads unlike each other; else NaN. Source: laminar
    and orifice laws; field values 0.36-2.95 in pipes, AQUA 66-5, 2017 (verified).
    """
    q1, q2, h1, h2 = floats(flow), floats(flow_later), floats(head), floats(head_later)
    valid = (q1 > 0) & (q2 > 0) & (h1 > 0) & (h2 > 0) & (h1 != h2)
    ratio = np.where(valid, h2 / np.where(valid, h1, 1.0), 2.0)
    more = np.where(valid, q2 / np.where(valid, q1, 1.0), 1.0)
    return where(valid, np.log(more) / np.log(ratio))


def too_fast(flow: Floats, temperature: Floats) -> Bools:
    """Where the law is lost: a Reynolds number past 2300."""
    return reynolds(flow, temperature) > LAMINAR


def doubtful(flow: Floats, temperature: Floats) -> Bools:
    """Where the law gives too much: a Reynolds number past 100."""
    return reynolds(flow, temperature) > ROUGH
