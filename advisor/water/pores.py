"""Water through the mass of the concrete and up its pores: Darcy, suction, rising damp."""

import numpy as np

from advisor.water.formula import Formula
from advisor.water.liquid import GRAVITY, density, not_liquid_at, surface_tension
from advisor.water.numbers import Band, Floats, Numbers, floats, where

SOUND = Band(1e-14, 1e-13, 1e-12)
"""m/s, permeability of mature, sound concrete (verified: civilengineeringx.com)."""

YOUNG_OR_POOR = Band(1e-11, 3e-11, 1e-10)
"""m/s, young or poor concrete (from memory)."""

HONEYCOMB = Band(1e-8, 1e-6, 1e-4)
"""m/s, poorly compacted zones whose gaps hold some paste (common practice, no source)."""

SUCTION = Band(0.09, 0.13, 0.17)
"""mm a square root of a minute, water drawn in by dry concrete at a water-cement ratio of 0.4
to 0.6 (Neville 1996, verified as quoted)."""

_DAY_MM = 8.64e7
"""mm a day in a m/s."""


def seepage(permeability: Numbers, gradient: Numbers) -> Floats:
    """Water through each square metre in L/m2/d: Darcy, permeability x gradient.

    permeability: m/s, gradient: head over thickness, both at least 0; else NaN. Saturated, no
    crack. Textbook, from memory.
    """
    k, i = floats(permeability), floats(gradient)
    return where((k >= 0) & (i >= 0), k * i * _DAY_MM)


def zone_flow(permeability: Numbers, area: Numbers, gradient: Numbers) -> Floats:
    """Flow in L/h through a porous zone of so many m2. permeability: m/s. NaN below 0."""
    a = floats(area)
    return where(a >= 0, seepage(permeability, gradient) * a / 24)


def permeability_of_test(depth: Numbers, pores: Numbers, head: Numbers, hours: Numbers) -> Floats:
    """Permeability in m/s out of the depth that water went under pressure (Valenta, from memory).

    depth: mm; pores: share of the volume that fills, 0 to 1; head: m; hours: of the test; all
    above 0, else NaN.
    """
    x, v, h, t = floats(depth) / 1000, floats(pores), floats(head), floats(hours)
    valid = (x > 0) & (v > 0) & (v <= 1) & (h > 0) & (t > 0)
    return where(valid, x * x * v / (2 * np.where(valid, h * t, 1.0) * 3600))


def drawn_in(suction: Numbers, hours: Numbers) -> Floats:
    """Water that dry concrete draws in, in mm (L/m2): suction x square root of time.

    suction: mm a square root of a minute; hours: up to about 24, slower after; at least 0, else
    NaN. Source: verified, NIST page on capillary transport.
    """
    s, t = floats(suction), floats(hours)
    valid = (s >= 0) & (t >= 0)
    return where(valid, s * np.sqrt(np.where(valid, t, 0.0) * 60))


def rising_damp(
    suction: Numbers, thickness: Numbers, evaporation: Numbers, moisture: Numbers
) -> Floats:
    """Height in mm to which water rises in a wall that dries on its faces.

    suction: mm a square root of a minute; thickness: mm; evaporation: mm a minute from each
    face; moisture: share of volume in the wet part; all above 0, else NaN. Source: Hall and
    Hoff, sharp front (verified: summary of the paper).
    """
    s, b, e, m = floats(suction), floats(thickness), floats(evaporation), floats(moisture)
    valid = (s > 0) & (b > 0) & (e > 0) & (m > 0) & (m <= 1)
    return where(valid, s * np.sqrt(np.where(valid, b, 0.0) / (2 * np.where(valid, e * m, 1.0))))


def capillary_rise(width: Numbers, temperature: Numbers) -> Floats:
    """Height in m to which water climbs in a crack: 2 x tension / (density x g x width).

    width: mm, above 0; temperature: °C, 0 to 100; else NaN. Plates that wet well: the most it
    can be. Textbook, from memory.
    """
    w = floats(width) / 1000
    weight = density(temperature) * GRAVITY
    return where(w > 0, 2 * surface_tension(temperature) / (weight * np.where(w > 0, w, 1.0)))


FORMULAS = (
    Formula(
        name="sound-concrete-seepage",
        reads=("ratio",),
        unit="mL/m2/d",
        bands=(SOUND,),
        rises="++",
        point=lambda gradient, permeability: 1000 * seepage(permeability, gradient),
    ),
    Formula(
        name="capillary-rise",
        reads=("mm", "°C"),
        unit="m",
        rises="--",
        point=capillary_rise,
        checks=(not_liquid_at(1),),
    ),
)
