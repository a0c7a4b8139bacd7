"""Coverings: they scale with the face; no coat is none."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.covering import (
    coats_mass,
    face_area,
    pump_flow,
    sheet_area,
    strip_length,
    strip_loop,
    sump_reserve,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

AREA, FLOW, BELOW, NOTHING = (0.0, 500.0), (0.0, 5000.0), (-0.1,), (0.0, -1.0)

CASES = [
    Case(
        function=face_area,
        within=((0.0, 50.0), (0.0, 50.0)),
        rises="++",
        impossible=(BELOW, BELOW),
    ),
    Case(
        function=coats_mass,
        within=(AREA, (0.1, 3.0), (1.0, 4.0)),
        rises="+++",
        impossible=(BELOW, NOTHING, NOTHING),
    ),
    Case(
        function=strip_length,
        within=((0.1, 100.0), (0.0, 500.0)),
        rises="++",
        impossible=(NOTHING, BELOW),
    ),
    Case(
        function=strip_loop,
        within=((0.0, 50.0), (2.0, 4.0)),
        rises="++",
        impossible=(BELOW, NOTHING),
    ),
    Case(function=sheet_area, within=(AREA, (0.0, 50.0)), rises="++", impossible=(BELOW, BELOW)),
    Case(function=pump_flow, within=(FLOW, (1.0, 3.0)), rises="++", impossible=(BELOW, (0.9,))),
    Case(function=sump_reserve, within=(FLOW, (0.0, 24.0)), rises="++", impossible=(BELOW, BELOW)),
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


@given(
    area=st.floats(0.1, 500),
    rate=st.floats(0.1, 3),
    coats=st.integers(1, 4),
    times=st.integers(1, 5),
)
def test_slurry_scales_with_area_and_with_coats(
    area: float, rate: float, coats: int, times: int
) -> None:
    once = float(coats_mass(area, rate, coats))
    assert coats_mass(area * times, rate, coats) == pytest.approx(once * times)
    assert coats_mass(area, rate, coats * times) == pytest.approx(once * times)


@given(movement=st.floats(0.1, 50))
def test_a_strip_can_always_follow_its_joint(movement: float) -> None:
    assert strip_loop(movement) > movement


@given(inflow=st.floats(0.1, 5000))
def test_a_pump_empties_its_reserve_while_water_comes(inflow: float) -> None:
    assert pump_flow(inflow) - inflow >= sump_reserve(inflow) * (1 - 1e-12)
