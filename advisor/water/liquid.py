"""Liquid water at the pressure of the air: viscosity, density, surface tension."""

from functools import reduce

import numpy as np

from advisor.water.formula import Check
from advisor.water.numbers import Bools, Floats, Numbers, floats, where

GRAVITY = 9.80665
"""m/s2, standard gravity."""

COLDEST, WARMEST = 0.0, 100.0
"""°C. Below it is ice, above it is steam."""

DENSEST = 3.98317
"""°C, where the density below is highest."""

_KELVIN = 273.15

# IAPWS, revised supplementary release on liquid water at 0.1 MPa, viscosity: the factors and
# exponents of its four terms. From memory; compared in the tests with the library iapws.
_FACTORS = (280.68, 511.45, 61.131, 0.45903)
_EXPONENTS = (-1.9, -7.7, -19.6, -40.0)

# Kell, J. Chem. Eng. Data 20 (1975) 97, density of water in g/L. From memory; compared in the
# tests with the libraries iapws and CoolProp.
_TOP = (999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
_BOTTOM = 16.879850e-3


def viscosity(temperature: Numbers) -> Floats:
    """Dynamic viscosity of water in mPa·s.

    temperature: °C, 0 to 100, else NaN. Source: IAPWS release on liquid water at 0.1 MPa
    (from memory, within 0.1 % of IAPWS-97).
    """
    t = floats(temperature)
    scaled = (np.where(_liquid(t), t, 20.0) + _KELVIN) / 300.0
    terms = sum(a * scaled**b for a, b in zip(_FACTORS, _EXPONENTS, strict=True))
    return where(_liquid(t), floats(terms) * 1e-3)


def density(temperature: Numbers) -> Floats:
    """Density of water in kg/m3.

    temperature: °C, 0 to 100, else NaN. Source: Kell 1975 (from memory, within 0.01 % of
    IAPWS-97).
    """
    t = floats(temperature)
    top = reduce(lambda found, factor: found * t + factor, reversed(_TOP), floats(0.0))
    return where(_liquid(t), top / (1 + _BOTTOM * t))


def kinematic_viscosity(temperature: Numbers) -> Floats:
    """Viscosity over density, in mm2/s. temperature: °C, 0 to 100, else NaN."""
    return viscosity(temperature) / density(temperature) * 1e3


def surface_tension(temperature: Numbers) -> Floats:
    """Surface tension of water against air in N/m.

    temperature: °C, 0 to 100, else NaN. Source: IAPWS release on surface tension, Vargaftik
    form (from memory, compared in the tests with the libraries iapws and CoolProp).
    """
    t = floats(temperature)
    below = 1 - (np.where(_liquid(t), t, 20.0) + _KELVIN) / 647.096
    return where(_liquid(t), 0.2358 * below**1.256 * (1 - 0.625 * below))


def _liquid(temperature: Floats) -> Bools:
    liquid: Bools = (temperature >= COLDEST) & (temperature <= WARMEST)
    return liquid


def not_liquid_at(place: int) -> Check:
    """That the input at this place, a temperature in °C, is none of liquid water."""
    return Check(
        key="water-not-liquid",
        level="outside",
        bad=lambda *inputs: (inputs[place] < COLDEST) | (inputs[place] > WARMEST),
    )


# Flow formulas are asked for millions of rows: they read the four terms from this table. Steps
# of a quarter of a degree keep the straight lines within 0.002 %.
_PER_DEGREE = 4
_STEPS = np.linspace(COLDEST, WARMEST, int(WARMEST) * _PER_DEGREE + 1)
_SLOT = density(_STEPS) * GRAVITY * 1e-9 * 3.6e6 / (12 * viscosity(_STEPS) * 1e-3)
_RISE = np.diff(_SLOT, append=_SLOT[-1])


def slot_constant(temperature: Numbers) -> Floats:
    """Flow of water through smooth parallel plates 1 mm apart at a gradient of 1, in L/h a metre.

    temperature: °C, 0 to 100, else NaN. Source: cubic law, density x gravity / (12 x viscosity);
    textbook, from memory.
    """
    t = floats(temperature)
    liquid = _liquid(t)
    steps = np.where(liquid, t, 20.0) * _PER_DEGREE
    below = steps.astype(np.intp)
    return where(liquid, _SLOT[below] + _RISE[below] * (steps - below))
