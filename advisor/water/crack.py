"""Water through a crack: the cubic law with a reduction factor.

Source of the law: flow between parallel plates, textbook (from memory). The reduction factor
stands for roughness, winding and what narrows the crack inside.
"""

import numpy as np

from advisor.water.formula import Check, Formula
from advisor.water.liquid import GRAVITY, not_liquid_at, slot_constant
from advisor.water.numbers import Band, Floats, Numbers, Range, floats, where
from advisor.water.pressure import gradient as gradient_of
from advisor.water.pressure import no_thickness_at

REDUCTION = Band(0.10, 0.25, 0.52)
"""Share of the smooth-plate flow that a crack passes. 0.17-0.25: Akhavan, Shafaatian and
Rajabipour, Cem. Concr. Res. 42 (2012) 313 (verified: abstract). 0.25: follows from Edvardsen's
constant (from memory). 0.52: Lahmann, Edvardsen and Keßler, Beton- und Stahlbetonbau 2024
(verified: abstract). Published values as a whole go from 0.01 to 1 (verified: abstract)."""

SMOOTH = 1.0
"""Reduction of two smooth plates."""

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
    w, part = floats(width), floats(reduction)
    q = part * slot_constant(temperature) * (w * w * w) * floats(gradient)
    valid = (w >= 0) & (q >= 0) & (part > 0) & (part <= 1)
    return where(valid & (reynolds(q, temperature) <= LAMINAR), q)


def reynolds(flow: Numbers, temperature: Numbers) -> Floats:
    """Reynolds number of a flow in a slot, whatever its width: 2 x flow / viscosity.

    flow: L/h a metre; temperature: °C, 0 to 100, else NaN.
    """
    return 2 * floats(flow) * _LITRES_AN_HOUR / (_kinematic(temperature) * 1e-6)


def flow_through_part(
    width: Numbers,
    head: Numbers,
    thickness: Numbers,
    temperature: Numbers,
    reduction: Numbers = REDUCTION.likely,
) -> Floats:
    """`crack_flow` of a part of so many mm under a head of so many m; 0 where the head is below 0.

    NaN also where the crack is not narrower than the part is thick.
    """
    narrower = floats(width) < floats(thickness)
    flow = crack_flow(width, gradient_of(head, thickness), temperature, reduction)
    return where(narrower, flow)


def flow_through_part_ends(
    width: Range, head: Range, thickness: Range, temperature: Range, reduction: Range
) -> Range:
    """`flow_through_part` for closed ranges, lowest and highest it can be, arrays (rows,).

    Nothing is lost where the law is: eddies only add resistance, so the law is the most that can
    pass, and what passes at a Reynolds number of 100, where it still holds, is the least.
    """
    low = _law(width[0], gradient_of(head[0], thickness[1]), temperature[0], reduction[0])
    high = _law(width[1], gradient_of(head[1], thickness[0]), temperature[1], reduction[1])
    at_rough = ROUGH / 2 * _kinematic(temperature[1]) * 1e-6 / _LITRES_AN_HOUR
    narrower = width[1] < thickness[0]
    return where(narrower, np.minimum(low, at_rough)), where(narrower, high)


def _kinematic(temperature: Numbers) -> Floats:
    """Kinematic viscosity in mm2/s, out of the slot constant, which is read from a table."""
    return GRAVITY * 1e-3 * 3.6e6 / 12 / slot_constant(temperature)


def _law(width: Floats, gradient: Floats, temperature: Floats, reduction: Floats) -> Floats:
    """The cubic law without its limit."""
    return reduction * slot_constant(temperature) * (width * width * width) * gradient


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


def reynolds_in_part(*inputs: Floats) -> Floats:
    """Reynolds number by the law: width mm, head m, thickness mm, temperature °C, reduction."""
    width, head, thickness, temperature, reduction = inputs
    flow = _law(width, gradient_of(head, thickness), temperature, reduction)
    return reynolds(flow, temperature)


FORMULAS = (
    Formula(
        name="crack-flow",
        reads=("mm", "m", "mm", "°C"),
        unit="L/h/m",
        bands=(REDUCTION,),
        rises="++-++",
        point=flow_through_part,
        span=flow_through_part_ends,
        checks=(
            no_thickness_at(2),
            Check(key="crack-wider-than-part", level="impossible", bad=lambda w, _h, d, *_: w >= d),
            not_liquid_at(3),
            Check(
                key="too-fast-for-the-law",
                level="outside",
                bad=lambda *i: reynolds_in_part(*i) > LAMINAR,
            ),
            Check(
                key="rough-flow",
                level="doubtful",
                bad=lambda *i: (reynolds_in_part(*i) > ROUGH) & (reynolds_in_part(*i) <= LAMINAR),
            ),
        ),
    ),
)
