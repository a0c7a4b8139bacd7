"""Moist air against the psychrometric libraries PsychroLib (ASHRAE Handbook of Fundamentals) and
CoolProp, against a printed table of dew points, and the check values of the facts on water,
sections 4.3 and 9. Those were computed there; the constants of the Magnus formula are verified.
"""

import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI
from hypothesis import example, given
from hypothesis import strategies as st

from advisor.water import FORMULAS
from advisor.water.moist_air import (
    dew_margin,
    dew_point,
    evaporation,
    mould_margin,
    surface_humidity,
    temperature_factor,
    temperature_for,
    vapour_pressure,
    water_content,
)
from advisor.water.plain import from_area

psychrolib.SetUnitSystem(psychrolib.SI)

ATMOSPHERE = 101_325.0
CLOSE, WITH_VAPOUR = 1e-3, 5e-3
ANY_SET = 0.02
"""K. Section 9: all sets of constants lie within this of the dew point."""

# Where rooms and tunnels are, both formulas describe the same vapour over water. Below 0 °C
# PsychroLib goes over to ice, which this formula leaves out on purpose.
CLOSE_DEW_POINT = 0.1  # K


@pytest.mark.parametrize("air", [2, 5, 8, 12, 15, 18, 20, 22, 25, 28, 30, 35, 40])
def test_agrees_with_psychrolib(air: float) -> None:
    compared = 0
    for humidity in range(10, 101, 5):
        theirs = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
        if theirs < 0:
            continue
        ours = float(dew_point(np.array([air]), np.array([humidity]))[0])
        assert ours == pytest.approx(theirs, abs=CLOSE_DEW_POINT)
        compared += 1
    assert compared >= 3


# Computed with the constants of the World Meteorological Organization, from the facts on causes.
@pytest.mark.parametrize(
    ("air", "humidity", "expected"),
    [
        (20, 50, 9.3),
        (20, 60, 12.0),
        (20, 70, 14.4),
        (20, 80, 16.4),
        (15, 70, 9.6),
        (25, 50, 13.9),
        (25, 60, 16.7),
        (25, 70, 19.1),
        (30, 80, 26.2),
    ],
)
def test_printed_table(air: float, humidity: float, expected: float) -> None:
    assert dew_point(np.array([air]), np.array([humidity]))[0] == pytest.approx(expected, abs=0.05)


def test_saturated_air_is_at_its_dew_point() -> None:
    air = np.linspace(-40, 60, 101)
    np.testing.assert_allclose(dew_point(air, np.full_like(air, 100)), air, atol=1e-9)


@pytest.mark.parametrize(
    ("air", "humidity"), [(-45.1, 50), (60.1, 50), (20, 0), (20, -1), (20, 100.1)]
)
def test_outside_its_validity_nothing_is_known(air: float, humidity: float) -> None:
    assert np.isnan(dew_point(np.array([air]), np.array([humidity]))[0])


def interval(low: float, high: float) -> st.SearchStrategy[tuple[float, float]]:
    """Ranges lo <= x < hi, single values among them."""
    ends = st.tuples(st.floats(low, high), st.floats(low, high)).map(sorted)
    return ends.map(lambda pair: (pair[0], float(np.nextafter(pair[1], np.inf))))


def inside(ends: tuple[float, float], part: float) -> float:
    """A point of the range; part: from 0 to 1."""
    last = float(np.nextafter(ends[1], -np.inf))
    return min(max(ends[0] + part * (last - ends[0]), ends[0]), last)


@example(
    surface=(14.0, float(np.nextafter(14.0, np.inf))),
    air=(20.0, float(np.nextafter(20.0, np.inf))),
    humidity=(60.0, float(np.nextafter(60.0, np.inf))),
    parts=(0.0, 0.0, 0.0),
)
@given(
    surface=interval(-40, 80),
    air=interval(-45, 60),
    humidity=interval(1, 100),
    parts=st.tuples(*[st.floats(0, 1)] * 3),
)
def test_a_range_holds_every_point_result(
    surface: tuple[float, float],
    air: tuple[float, float],
    humidity: tuple[float, float],
    parts: tuple[float, float, float],
) -> None:
    lowest, highest = FORMULAS["dew-margin"](
        tuple((np.array([low]), np.array([high])) for low, high in (surface, air, humidity))
    )
    t, a, h = (inside(e, p) for e, p in zip((surface, air, humidity), parts, strict=True))
    margin = t - float(dew_point(np.array([a]), np.array([h]))[0])
    # A point in the middle may round by one step more than the ends do.
    step = 1e-9
    assert lowest[0] - step <= margin < highest[0] + step


def test_a_single_value_gives_a_single_margin() -> None:
    points = [np.array([x]) for x in (14.0, 20.0, 60.0)]
    ranges = tuple((x, np.nextafter(x, np.inf)) for x in points)
    lowest, highest = FORMULAS["dew-margin"](ranges)
    assert highest[0] - lowest[0] < 1e-12
    assert lowest[0] == pytest.approx(2.0, abs=0.05)


# CoolProp, over the same grid: dew point of real moist air at the pressure of the sea.


@pytest.mark.parametrize("air", [2, 5, 8, 12, 15, 18, 20, 22, 25, 28, 30, 35, 40])
def test_agrees_with_coolprop(air: float) -> None:
    compared = 0
    for humidity in range(10, 101, 5):
        state = ("T", air + 273.15, "P", ATMOSPHERE, "R", humidity / 100)
        theirs = HAPropsSI("D", *state) - 273.15
        if theirs < 0.01:
            continue
        assert dew_point(air, humidity) == pytest.approx(theirs, abs=CLOSE_DEW_POINT)
        compared += 1
    assert compared >= 3


def vapour(temperature: float) -> tuple[float, float]:
    """Pressure of saturated vapour in Pa, by PsychroLib and by CoolProp."""
    return (
        psychrolib.GetSatVapPres(temperature),
        PropsSI("P", "T", temperature + 273.15, "Q", 0, "Water"),
    )


@pytest.mark.parametrize("temperature", range(1, 46, 2))
def test_vapour_pressure_agrees_with_both(temperature: float) -> None:
    for theirs in vapour(temperature):
        assert vapour_pressure(temperature) == pytest.approx(theirs, rel=WITH_VAPOUR)


@pytest.mark.parametrize("surface", range(3, 31, 3))
@pytest.mark.parametrize(("air", "humidity"), [(10, 90), (15, 75), (20, 50), (24, 70), (28, 60)])
def test_surface_humidity_agrees_with_both(surface: float, air: float, humidity: float) -> None:
    for in_air, at_surface in zip(vapour(air), vapour(surface), strict=True):
        found = surface_humidity(surface, air, humidity)
        assert found == pytest.approx(humidity * in_air / at_surface, rel=WITH_VAPOUR)


@pytest.mark.parametrize(("air", "humidity"), [(18, 65), (20, 50), (22, 60), (24, 70), (28, 60)])
def test_surface_for_mould_agrees_with_both(air: float, humidity: float) -> None:
    """Where the vapour of the room is 80 % of what the air at the surface can hold."""
    found = temperature_for(80, air, humidity)
    ashrae, real = (pressure * humidity / 80 for pressure in vapour(air))
    dew = psychrolib.GetTDewPointFromVapPres(air, ashrae)
    assert found == pytest.approx(dew, abs=ANY_SET)
    boiling = PropsSI("T", "P", real, "Q", 0, "Water") - 273.15
    assert found == pytest.approx(boiling, abs=ANY_SET)


@pytest.mark.parametrize("air", range(2, 41, 2))
@pytest.mark.parametrize("humidity", [30, 50, 70, 85, 100])
def test_water_content_agrees_with_both(air: float, humidity: float) -> None:
    found = water_content(air, humidity)
    ashrae = psychrolib.GetHumRatioFromRelHum(air, humidity / 100, ATMOSPHERE)
    assert found == pytest.approx(1000 * ashrae, rel=WITH_VAPOUR)
    # CoolProp counts that air and vapour push each other a little: section 9, 0.4 to 0.5 % more.
    real = HAPropsSI("W", "T", air + 273.15, "P", ATMOSPHERE, "R", humidity / 100)
    pressure = HAPropsSI("P_w", "T", air + 273.15, "P", ATMOSPHERE, "R", humidity / 100)
    push = pressure / (humidity / 100 * vapour(air)[1])
    assert found == pytest.approx(1000 * real / push, rel=WITH_VAPOUR)


# Check values of section 9.


@pytest.mark.parametrize(
    ("air", "humidity", "ashrae", "real", "sonntag"),
    [
        (20, 50, 9.272, 9.274, 9.255),
        (24, 70, 18.194, 18.195, 18.188),
        (15, 75, 10.610, 10.611, 10.602),
        (10, 90, 8.437, 8.437, 8.434),
        (30, 60, 21.388, 21.391, 21.385),
        (5, 80, 1.841, 1.842, 1.834),
    ],
)
def test_dew_points_of_the_facts(
    air: float, humidity: float, ashrae: float, real: float, sonntag: float
) -> None:
    found = dew_point(air, humidity)
    assert found == pytest.approx(sonntag, abs=0.0005)
    assert found == pytest.approx(ashrae, abs=ANY_SET)
    assert found == pytest.approx(real, abs=ANY_SET)


@pytest.mark.parametrize(("humidity", "dew"), [(48, 8.668), (50, 9.272), (52, 9.856)])
def test_a_meter_that_is_2_percent_off(humidity: float, dew: float) -> None:
    assert dew_point(20, humidity) == pytest.approx(dew, abs=ANY_SET)


@pytest.mark.parametrize(
    ("temperature", "ashrae", "sonntag"), [(10, 1228, 1226), (20, 2339, 2333), (30, 4246, 4234)]
)
def test_vapour_pressures_of_the_facts(temperature: float, ashrae: float, sonntag: float) -> None:
    assert vapour_pressure(temperature) == pytest.approx(sonntag, rel=CLOSE)
    assert vapour_pressure(temperature) == pytest.approx(ashrae, rel=WITH_VAPOUR)


# The criterion of ISO 13788 is from memory; these were computed with PsychroLib.
@pytest.mark.parametrize(
    ("air", "humidity", "surface"),
    [(20, 50, 12.63), (22, 60, 17.37), (18, 65, 14.74), (24, 70, 21.80), (20, 40, 9.272)],
)
def test_surface_at_80_percent(air: float, humidity: float, surface: float) -> None:
    assert temperature_for(80, air, humidity) == pytest.approx(surface, abs=ANY_SET)
    assert mould_margin(surface, air, humidity) == pytest.approx(0, abs=ANY_SET)


@pytest.mark.parametrize(
    ("air", "humidity", "surface", "there", "margin"),
    [
        (24, 70, 15, 122.5, -3.19),
        (28, 60, 17, 117.1, -2.51),
        (18, 60, 12, 88.31, 1.87),
        (20, 50, 10, 95.23, 0.73),
    ],
)
def test_walls_of_the_facts(
    air: float, humidity: float, surface: float, there: float, margin: float
) -> None:
    assert surface_humidity(surface, air, humidity) == pytest.approx(there, rel=WITH_VAPOUR)
    assert dew_margin(surface, air, humidity) == pytest.approx(margin, abs=ANY_SET)


# 0.70 at 20 and -5 °C: DIN 4108-2, verified (isopedia, bauko.info).
@pytest.mark.parametrize(
    ("surface", "inside", "outside", "factor"),
    [(12.6, 20, -5, 0.7040), (13.5, 20, -5, 0.7400), (11, 19, 0, 0.5789)],
)
def test_temperature_factor(surface: float, inside: float, outside: float, factor: float) -> None:
    assert temperature_factor(surface, inside, outside) == pytest.approx(factor, rel=CLOSE)


@pytest.mark.parametrize(("there", "factor"), [(80, 0.7051), (100, 0.5709)])
def test_temperature_factor_where_mould_and_dew_begin(there: float, factor: float) -> None:
    surface = temperature_for(there, 20, 50)
    assert temperature_factor(surface, 20, -5) == pytest.approx(factor, rel=WITH_VAPOUR)


@pytest.mark.parametrize(
    ("air", "humidity", "content"),
    [(20, 50, 7.262), (24, 70, 13.10), (15, 85, 9.027), (12, 85, 7.405), (14, 100, 9.970)],
)
def test_water_contents_of_the_facts(air: float, humidity: float, content: float) -> None:
    assert water_content(air, humidity) == pytest.approx(content, rel=WITH_VAPOUR)


# Check values of section 4.3. Lewis, Shah and Menzel: forms and figures from memory.

WET_WALLS = [
    (12, 12, 85, 0.3766, 0.7533, 0.2525, 0.3549),
    (13, 15, 75, 0.4060, 0.8121, 0.2625, 0.3162),
    (15, 20, 60, 0.5777, 1.155, 0.3626, 0.4392),
    (18, 20, 50, 1.583, 3.166, 1.074, 1.596),
    (20, 20, 60, 1.629, 3.258, 1.123, 1.709),
]


@pytest.mark.parametrize(
    ("surface", "air", "humidity", "still", "draught", "shah", "menzel"), WET_WALLS
)
def test_evaporation(
    *,
    surface: float,
    air: float,
    humidity: float,
    still: float,
    draught: float,
    shah: float,
    menzel: float,
) -> None:
    found = evaporation(surface, air, humidity, 3)
    assert found == pytest.approx(still, rel=WITH_VAPOUR)
    assert evaporation(surface, air, humidity, 6) == pytest.approx(draught, rel=WITH_VAPOUR)
    # Two other formulas, for still air: none of the three is traced to better than this.
    assert shah == pytest.approx(found, rel=0.4)
    assert menzel == pytest.approx(found, rel=0.4)


def test_what_a_patch_dries_off() -> None:
    assert from_area(0.3, 2) == pytest.approx(0.0250, rel=CLOSE)
    assert 24 * from_area(0.3, 10) == pytest.approx(3.000, rel=CLOSE)
