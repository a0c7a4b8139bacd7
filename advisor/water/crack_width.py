"""How wide a crack is for the water: from its flow, and from widths that differ."""

import numpy as np

from advisor.water.crack import LAMINAR, REDUCTION, reynolds
from advisor.water.formula import Check, Formula, corners
from advisor.water.liquid import not_liquid_at, slot_constant
from advisor.water.numbers import Bools, Floats, Numbers, Range, floats, where
from advisor.water.pressure import gradient as gradient_of
from advisor.water.pressure import no_thickness_at


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


def width_from_flow(
    flow: Numbers,
    head: Numbers,
    thickness: Numbers,
    temperature: Numbers,
    reduction: Numbers = REDUCTION.likely,
) -> Floats:
    """`hydraulic_width` in a part of so many mm under a head of so many m, above 0."""
    return hydraulic_width(flow, gradient_of(head, thickness), temperature, reduction)


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


def _exponent_ends(flow: Range, flow_later: Range, head: Range, head_later: Range) -> Range:
    """Ends of the head exponent; NaN where the heads may be alike."""
    low, high = corners(head_exponent, "????", (flow, flow_later, head, head_later))
    apart = (head[0] > head_later[1]) | (head_later[0] > head[1])
    return where(apart, low), where(apart, high)


def _too_fast(*inputs: Floats) -> Bools:
    fast: Bools = reynolds(inputs[0], inputs[3]) > LAMINAR
    return fast


FORMULAS = (
    Formula(
        name="hydraulic-width",
        reads=("L/h/m", "m", "mm", "°C"),
        unit="mm",
        bands=(REDUCTION,),
        rises="+-+--",
        point=width_from_flow,
        checks=(
            no_thickness_at(2),
            Check(key="no-head", level="outside", bad=lambda _q, h, *_: h <= 0),
            not_liquid_at(3),
            Check(key="too-fast-for-the-law", level="outside", bad=_too_fast),
        ),
    ),
    Formula(
        name="head-exponent",
        reads=("L/h", "L/h", "m", "m"),
        unit="ratio",
        rises="????",
        point=head_exponent,
        span=_exponent_ends,
        checks=(
            Check(key="no-flow", level="outside", bad=lambda q1, q2, *_: (q1 <= 0) | (q2 <= 0)),
            Check(key="no-head", level="outside", bad=lambda _a, _b, h1, h2: (h1 <= 0) | (h2 <= 0)),
            Check(key="heads-alike", level="outside", bad=lambda _a, _b, h1, h2: h1 == h2),
        ),
    ),
)
