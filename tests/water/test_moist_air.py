"""Moist air: directions, limits, one way and back."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

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
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

AIR, DAMP, COLD_OR_HOT = (0.0, 45.0), (10.0, 100.0), (-45.1, 60.1)
NO_HUMIDITY, NO_SHARE = (0.0, -1.0, 100.1), (-1.0, 100.1)

CASES = [
    Case(function=vapour_pressure, within=((-45.0, 60.0),), rises="+", impossible=(COLD_OR_HOT,)),
    Case(function=dew_point, within=(AIR, DAMP), rises="++", impossible=(COLD_OR_HOT, NO_HUMIDITY)),
    Case(
        function=dew_margin,
        within=(AIR, AIR, DAMP),
        rises="+--",
        impossible=((), COLD_OR_HOT, NO_HUMIDITY),
    ),
    Case(
        function=surface_humidity,
        within=(AIR, AIR, (0.0, 100.0)),
        rises="-++",
        impossible=(COLD_OR_HOT, COLD_OR_HOT, NO_SHARE),
    ),
    Case(
        function=temperature_for,
        within=((50.0, 100.0), (0.0, 20.0), DAMP),
        rises="-++",
        impossible=(NO_HUMIDITY, COLD_OR_HOT, NO_HUMIDITY),
    ),
    Case(
        function=mould_margin,
        within=(AIR, AIR, DAMP),
        rises="+--",
        impossible=((), COLD_OR_HOT, NO_HUMIDITY),
    ),
    Case(
        function=temperature_factor,
        within=(AIR, (15.0, 30.0), (-20.0, 0.0)),
        rises="+-?",
        impossible=((), (), ()),
    ),
    Case(
        function=evaporation,
        within=(AIR, AIR, (0.0, 100.0), (1.0, 20.0)),
        rises="+--+",
        impossible=(COLD_OR_HOT, COLD_OR_HOT, NO_SHARE, (0.0, -1.0)),
    ),
    Case(
        function=water_content,
        within=(AIR, (0.0, 100.0)),
        rises="++",
        impossible=(COLD_OR_HOT, NO_SHARE),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
@given(data=st.data())
def test_directions(case: Case, data: st.DataObject) -> None:
    check_directions(case, data)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_impossible(case: Case) -> None:
    check_impossible(case)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_broadcasting(case: Case) -> None:
    check_broadcasting(case)


@given(air=st.floats(0, 60), humidity=st.floats(5, 100))
def test_at_the_dew_point_the_air_is_full(air: float, humidity: float) -> None:
    dew = dew_point(air, humidity)
    assert dew == pytest.approx(temperature_for(100, air, humidity), abs=1e-9)
    assert surface_humidity(dew, air, humidity) == pytest.approx(100)
    assert dew_margin(dew, air, humidity) == 0


@given(air=st.floats(0, 45), humidity=st.floats(5, 100), there=st.floats(5, 100))
def test_the_surface_for_a_humidity_has_it(air: float, humidity: float, there: float) -> None:
    surface = temperature_for(there, air, humidity)
    back = surface_humidity(surface, air, humidity)
    assert np.isnan(surface) or back == pytest.approx(there)


@given(air=st.floats(0, 45), humidity=st.floats(10, 100))
def test_mould_comes_before_dew(air: float, humidity: float) -> None:
    assert mould_margin(air, air, humidity) < dew_margin(air, air, humidity)


@given(surface=st.floats(-20, 40), air=st.floats(0, 45), humidity=st.floats(10, 100))
def test_what_is_below_the_dew_point_gives_nothing_off(
    surface: float, air: float, humidity: float
) -> None:
    """Both go by the pressure of the vapour; the drying by its density, which is a little less."""
    if dew_margin(surface, air, humidity) < -2:
        assert evaporation(surface, air, humidity) == 0
    if dew_margin(surface, air, humidity) > 2:
        assert evaporation(surface, air, humidity) > 0


def test_where_inside_is_as_outside_no_factor_is_known() -> None:
    assert np.isnan(temperature_factor(15, 20, 20))
