"""Water through holes and round gaps: tie holes, drilled holes, gaps round a pipe or a tie."""

import numpy as np

from advisor.water.crack import (
    LAMINAR,
    REDUCTION,
    SMOOTH,
    crack_flow,
    reynolds_in_part,
)
from advisor.water.formula import Check, Formula
from advisor.water.liquid import GRAVITY, density, kinematic_viscosity, not_liquid_at, viscosity
from advisor.water.numbers import Band, Bools, Floats, Numbers, Range, floats, where
from advisor.water.pressure import gradient as gradient_of
from advisor.water.pressure import no_thickness_at

SHARP_EDGE = 0.61
"""Share of the free jet that a sharp hole passes. Textbook, from memory. A short tube: 0.8."""

ENTRY_AND_EXIT = 1.5
"""Velocity heads lost where water enters a hole and leaves it. Textbook, from memory."""

ROUND_GAP = Band(REDUCTION.low, REDUCTION.likely, SMOOTH)
"""A gap round a smooth pipe can be as open as two plates."""

_BLASIUS = 0.316
_CLOSED = 1e-9
"""m. A hole finer than a few molecules is none."""

_LITRES_AN_HOUR = 3.6e6
_STEPS = 12
"""Newton steps from above: the curve bends one way, so that each comes closer."""


def orifice_flow(diameter: Numbers, head: Numbers, discharge: Numbers = SHARP_EDGE) -> Floats:
    """Flow in L/h through a hole with no length: discharge x area x square root of 2 g head.

    diameter: mm, head: m, both at least 0; discharge: above 0, at most 1. NaN for others, and
    where the head is under five diameters. An order of magnitude where it runs slowly.
    Source: orifice law, textbook (from memory).
    """
    d, h, c = floats(diameter) / 1000, floats(head), floats(discharge)
    valid = (d >= 0) & (h >= 5 * d) & (c > 0) & (c <= 1)
    speed = np.sqrt(2 * GRAVITY * np.where(valid, h, 0.0))
    return where(valid, c * np.pi * d * d / 4 * speed * _LITRES_AN_HOUR)


def tube_flow(diameter: Numbers, head: Numbers, length: Numbers, temperature: Numbers) -> Floats:
    """Flow in L/h through a thin tube, friction alone: Hagen-Poiseuille (textbook, from memory).

    diameter: mm, at least 0; head: m, at least 0; length: m, above 0; temperature: °C, 0-100.
    NaN for others, and past a Reynolds number of 2300.
    """
    d, h, length_ = floats(diameter) / 1000, floats(head), floats(length)
    ok = length_ > 0
    drop = density(temperature) * GRAVITY * h / np.where(ok, length_, 1.0)
    q = np.pi * (d / 2) ** 4 * drop / (8 * viscosity(temperature) * 1e-3)
    valid = (d >= 0) & (h >= 0) & ok & (_reynolds(q, d, temperature) <= LAMINAR)
    return where(valid, q * _LITRES_AN_HOUR)


def hole_flow(diameter: Numbers, head: Numbers, length: Numbers, temperature: Numbers) -> Floats:
    """Flow in L/h through a round hole in a wall, with friction and the losses at its ends.

    diameter: mm, at least 0; head: m, at least 0 (below 0 nothing comes: 0); length: m, above 0;
    temperature: °C, 0 to 100. NaN for others. head = (1.5 + friction x length / diameter) x
    velocity head; friction 64 / Re up to a Reynolds number of 2300, above it 0.316 / Re^0.25
    (Blasius). Between the two laws the flow stands at 2300. Textbook, from memory.
    """
    d, h = floats(diameter) / 1000, np.maximum(floats(head), 0.0)
    length_, nu = floats(length), kinematic_viscosity(temperature) * 1e-6
    valid = (d >= 0) & (length_ > 0) & np.isfinite(nu * h)
    wide = np.where(valid & (d > _CLOSED), d, 1.0)
    energy = 2 * GRAVITY * np.where(valid, h, 0.0)
    nu, length_ = np.where(valid, nu, 1e-6), np.where(valid, length_, 1.0)
    slow = _laminar_speed(energy, 64 * nu * length_ / wide**2)
    rough = _rough_speed(energy, _BLASIUS * nu**0.25 * length_ / wide**1.25)
    turn = LAMINAR * nu / wide
    speed = np.where(slow <= turn, slow, np.maximum(rough, turn))
    return where(valid, np.where(d > _CLOSED, np.pi * d * d / 4 * speed * _LITRES_AN_HOUR, 0.0))


def _laminar_speed(energy: Floats, drag: Floats) -> Floats:
    """Speed v in m/s from 1.5 v2 + drag v = energy, in the form that keeps its figures."""
    return 2 * energy / (drag + np.sqrt(drag * drag + 4 * ENTRY_AND_EXIT * energy))


def _rough_speed(energy: Floats, drag: Floats) -> Floats:
    """Speed v in m/s from 1.5 v2 + drag v^1.75 = energy, by Newton from above."""
    v = np.sqrt(energy / ENTRY_AND_EXIT)
    for _ in range(_STEPS):
        over = ENTRY_AND_EXIT * v * v + drag * v**1.75 - energy
        slope = 2 * ENTRY_AND_EXIT * v + 1.75 * drag * v**0.75
        v = v - over / np.where(slope > 0, slope, 1.0)
    return v


def _reynolds(flow: Floats, diameter: Floats, temperature: Numbers) -> Floats:
    """Reynolds number of a flow in m3/s in a hole of so many m."""
    wide = np.where(diameter > 0, diameter, 1.0)
    return 4 * flow / (np.pi * wide * kinematic_viscosity(temperature) * 1e-6)


def round_gap_flow(
    diameter: Numbers,
    width: Numbers,
    gradient: Numbers,
    temperature: Numbers,
    reduction: Numbers = ROUND_GAP.likely,
) -> Floats:
    """Flow in L/h through the gap all round a pipe, a tie or a cable: a crack as long as its girth.

    diameter: mm of what passes through, above 0; width: mm of the gap; gradient: head over
    length; temperature: °C; reduction: as for a crack. NaN as for a crack.
    """
    d = floats(diameter)
    return where(d > 0, np.pi * d / 1000 * crack_flow(width, gradient, temperature, reduction))


def hole_in_part(
    diameter: Numbers, head: Numbers, thickness: Numbers, temperature: Numbers
) -> Floats:
    """`hole_flow` through a part of so many mm."""
    return hole_flow(diameter, head, floats(thickness) / 1000, temperature)


def hole_in_part_ends(diameter: Range, head: Range, thickness: Range, temperature: Range) -> Range:
    """`hole_in_part` for closed ranges, lowest and highest it can be, arrays (rows,).

    Warmer water runs faster, but for the Reynolds number of 2300: there, between the two laws,
    it runs slower. So the ends may lie where one law is left and where the other is reached.
    """
    least, most = (diameter[0], head[0], thickness[1]), (diameter[1], head[1], thickness[0])
    low = np.minimum(*(hole_in_part(*least, t) for t in temperature))
    high = np.maximum(*(hole_in_part(*most, t) for t in temperature))
    dip = _at_the_turn(*least, temperature, _BLASIUS / LAMINAR**0.25)
    peak = _at_the_turn(*most, temperature, 64 / LAMINAR)
    return np.where(dip < low, dip, low), np.where(peak > high, peak, high)


def _at_the_turn(
    diameter: Floats, head: Floats, thickness: Floats, temperature: Range, friction: Floats | float
) -> Floats:
    """Flow in L/h at a Reynolds number of 2300 and this friction, NaN where no temperature of the
    range brings it there."""
    d, length = diameter / 1000, thickness / 1000
    ok = (d > _CLOSED) & (length > 0) & (head >= 0)
    lost = ENTRY_AND_EXIT + friction * np.where(ok, length / np.where(ok, d, 1.0), 1.0)
    speed = np.sqrt(2 * GRAVITY * np.where(ok, head, 0.0) / lost)
    nu = speed * d / LAMINAR * 1e6
    cold, warm = (kinematic_viscosity(t) for t in temperature)
    return where(ok & (warm <= nu) & (nu <= cold), np.pi * d * d / 4 * speed * _LITRES_AN_HOUR)


def _gap_in_part(*inputs: Numbers) -> Floats:
    """`round_gap_flow` through a part of so many mm under a head of so many m."""
    diameter, width, thickness, temperature, head, reduction = inputs
    gradient = gradient_of(head, thickness)
    return round_gap_flow(diameter, width, gradient, temperature, reduction)


def _too_fast(*inputs: Floats) -> Bools:
    _, width, thickness, temperature, head, reduction = inputs
    fast: Bools = reynolds_in_part(width, head, thickness, temperature, reduction) > LAMINAR
    return fast


FORMULAS = (
    Formula(
        name="hole-flow",
        reads=("mm", "m", "mm", "°C"),
        unit="L/h",
        rises="++-?",
        point=hole_in_part,
        span=hole_in_part_ends,
        checks=(no_thickness_at(2), not_liquid_at(3)),
    ),
    Formula(
        name="round-gap-flow",
        reads=("mm", "mm", "mm", "°C", "m"),
        unit="L/h",
        bands=(ROUND_GAP,),
        rises="++-+++",
        point=_gap_in_part,
        checks=(
            no_thickness_at(2),
            not_liquid_at(3),
            Check(key="too-fast-for-the-law", level="outside", bad=_too_fast),
        ),
    ),
)
