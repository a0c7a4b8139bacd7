"""Moist air against a cold surface: dew point, humidity at the surface, mould, drying.

Source of the vapour pressure: Magnus formula with the constants 611.2 Pa, 17.62 and 243.12 °C
over water (Sonntag, World Meteorological Organization; verified in the facts on water, compared
in the tests with PsychroLib and CoolProp). Valid from -45 to 60 °C.
"""

from functools import reduce

import numpy as np

from advisor.water.formula import Check, Formula, corners
from advisor.water.numbers import Band, Bools, Floats, Numbers, Range, floats, where

A, B, C = 17.62, 243.12, 611.2
"""Without unit, °C, Pa."""

COLDEST, WARMEST = -45.0, 60.0
"""°C, where the formula holds."""

MOULD = 80.0
"""% of humidity at the surface, monthly mean: criterion of ISO 13788 (from memory)."""

STILL_AIR = Band(3.0, 3.0, 6.0)
"""W/m2K, heat passing from air to wall: still room air, up to a slight draught (from memory)."""

# Lewis analogy: density of air kg/m3, its heat J/kgK, Lewis number, gas constant of vapour J/kgK.
_HEAVY, _HEAT, _LEWIS, _VAPOUR = 1.2, 1006.0, 0.87, 461.52
_KELVIN = 273.15
_DAY = 86400.0


def vapour_pressure(temperature: Numbers) -> Floats:
    """Pressure of saturated vapour in Pa. temperature: °C, -45 to 60, else NaN."""
    t = floats(temperature)
    safe = np.where(_in_range(t), t, 20.0)
    return where(_in_range(t), C * np.exp(A * safe / (B + safe)))


def dew_point(air: Numbers, humidity: Numbers) -> Floats:
    """Temperature in °C at which air of `air` °C and `humidity` % begins to drop its water.

    NaN outside -45 to 60 °C, or where the humidity is not above 0 and at most 100 %.
    """
    t, phi = floats(air), floats(humidity)
    valid = _in_range(t) & (phi > 0) & (phi <= 100)
    safe = np.where(valid, t, 20.0)
    gamma = np.log(np.where(valid, phi, 50.0) / 100) + A * safe / (B + safe)
    return where(valid, B * gamma / (A - gamma))


def dew_margin(surface: Numbers, air: Numbers, humidity: Numbers) -> Floats:
    """Surface temperature minus dew point, in K: at or below 0, water settles from the air.

    surface, air: °C; humidity: %. NaN as for the dew point.
    """
    return floats(surface) - dew_point(air, humidity)


def surface_humidity(surface: Numbers, air: Numbers, humidity: Numbers) -> Floats:
    """Humidity in % of the air where it touches the surface; from 100 % on water settles.

    surface, air: °C, -45 to 60; humidity: %, 0 to 100. NaN for others.
    """
    phi = floats(humidity)
    valid = (phi >= 0) & (phi <= 100)
    return where(valid, phi * vapour_pressure(air) / vapour_pressure(surface))


def temperature_for(humidity_there: Numbers, air: Numbers, humidity: Numbers) -> Floats:
    """Surface temperature in °C at which the air touching it has `humidity_there` %.

    80 % is the mould threshold, 100 % the dew point. Humidities: %, above 0, at most 100; air:
    °C. NaN for others, and where the result leaves the range of the formula.
    """
    wanted = floats(humidity_there)
    ok = (wanted > 0) & (wanted <= 100) & (floats(humidity) > 0) & (floats(humidity) <= 100)
    pressure = floats(humidity) * vapour_pressure(air) / np.where(ok, wanted, 50.0)
    ok = ok & np.isfinite(pressure)
    log = np.log(np.where(ok, pressure, C) / C)
    t = B * log / (A - log)
    return where(ok & _in_range(t), t)


def mould_margin(surface: Numbers, air: Numbers, humidity: Numbers) -> Floats:
    """Surface temperature minus that at which the air touching it has 80 %, in K.

    At or below 0 for weeks, mould grows (ISO 13788, from memory). NaN as for the dew point.
    """
    return floats(surface) - temperature_for(MOULD, air, humidity)


def temperature_factor(surface: Numbers, inside: Numbers, outside: Numbers) -> Floats:
    """How much of the way from outside to inside temperature the surface has got; no unit.

    °C each; NaN where inside and outside are alike. 0.70 or more at 20 and -5 °C: DIN 4108-2
    (verified). Outside means air: ground is not as cold, judge the humidity at the surface then.
    """
    s, i, e = floats(surface), floats(inside), floats(outside)
    return where(i != e, (s - e) / np.where(i != e, i - e, 1.0))


def evaporation(
    surface: Numbers, air: Numbers, humidity: Numbers, transfer: Numbers = STILL_AIR.likely
) -> Floats:
    """Water that a wet surface gives off, in L/m2/d; never less than 0.

    surface, air: °C, -45 to 60; humidity: %, 0 to 100; transfer: W/m2K, above 0. NaN for
    others. Source: heat and vapour pass alike (Lewis), figures from memory; in the tests beside
    two other formulas, which differ by up to two fifths.
    """
    h, phi = floats(transfer), floats(humidity)
    beta = h / (_HEAVY * _HEAT * _LEWIS ** (2 / 3))
    there = vapour_pressure(surface) / (floats(surface) + _KELVIN)
    here = phi / 100 * vapour_pressure(air) / (floats(air) + _KELVIN)
    valid = (h > 0) & (phi >= 0) & (phi <= 100)
    return where(valid, np.maximum(beta * (there - here) / _VAPOUR, 0.0) * _DAY)


def water_content(air: Numbers, humidity: Numbers) -> Floats:
    """Water in the air in g a kg of dry air, at 101 325 Pa. air: °C; humidity: %. NaN outside."""
    phi = floats(humidity)
    pressure = phi / 100 * vapour_pressure(air)
    valid = (phi >= 0) & (phi <= 100)
    return where(valid, 621.945 * pressure / (101325 - pressure))


def _in_range(temperature: Floats) -> Bools:
    return (temperature >= COLDEST) & (temperature <= WARMEST)


def _factor_ends(surface: Range, inside: Range, outside: Range) -> Range:
    """Ends of the temperature factor; NaN where inside and outside may be alike."""
    low, high = corners(temperature_factor, "???", (surface, inside, outside))
    apart = (inside[0] > outside[1]) | (outside[0] > inside[1])
    return where(apart, low), where(apart, high)


def _outside(*temperatures: Floats) -> Bools:
    """True where one of them leaves the range of the formula."""
    inside: Bools = reduce(np.logical_and, (_in_range(t) for t in temperatures))
    return ~inside


def _no_mould_surface(surface: Floats, air: Floats, humidity: Floats) -> Bools:
    """True where a temperature leaves the range, also that of the surface with 80 %."""
    lost: Bools = (humidity > 0) & np.isnan(temperature_for(MOULD, air, humidity))
    return _outside(surface, air) | lost


_AIR = Check(key="air-outside", level="outside", bad=lambda air, _: _outside(air))
_BOTH = Check(key="air-outside", level="outside", bad=lambda t, air, *_: _outside(t, air))
_DRY = Check(key="no-humidity", level="outside", bad=lambda *inputs: inputs[-1] <= 0)
_ALIKE = Check(key="inside-as-outside", level="outside", bad=lambda _, i, e: i == e)

FORMULAS = (
    Formula(
        name="dew-point",
        reads=("°C", "%"),
        unit="°C",
        rises="++",
        point=dew_point,
        checks=(_AIR, _DRY),
    ),
    Formula(
        name="dew-margin",
        reads=("°C", "°C", "%"),
        unit="K",
        rises="+--",
        point=dew_margin,
        checks=(_BOTH, _DRY),
    ),
    Formula(
        name="surface-humidity",
        reads=("°C", "°C", "%"),
        unit="%",
        rises="-++",
        point=surface_humidity,
        checks=(_BOTH,),
    ),
    Formula(
        name="mould-margin",
        reads=("°C", "°C", "%"),
        unit="K",
        rises="+--",
        point=mould_margin,
        checks=(Check(key="air-outside", level="outside", bad=_no_mould_surface), _DRY),
    ),
    Formula(
        name="temperature-factor",
        reads=("°C", "°C", "°C"),
        unit="ratio",
        rises="???",  # with the surface it rises only where it is warmer inside
        point=temperature_factor,
        span=_factor_ends,
        checks=(_ALIKE,),
    ),
    Formula(
        name="evaporation",
        reads=("°C", "°C", "%"),
        unit="L/m2/d",
        bands=(STILL_AIR,),
        rises="+--+",
        point=evaporation,
        checks=(_BOTH,),
    ),
)
