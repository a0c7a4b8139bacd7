"""Heads of water: directions, limits, what stands below the place."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.pressure import gradient, gradient_down, water_pressure
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

HEAD, THICKNESS, LIQUID = (0.0, 60.0), (50.0, 2000.0), (0.0, 100.0)
NOTHING = (0.0, -200.0)

CASES = [
    Case(function=gradient, within=(HEAD, THICKNESS), rises="+-", impossible=((), NOTHING)),
    Case(
        function=gradient_down,
        within=(HEAD, THICKNESS),
        rises="+-",
        impossible=((-0.1,), NOTHING),
    ),
    Case(
        function=water_pressure,
        within=(HEAD, LIQUID),
        rises="+?",
        impossible=((), (-0.1, 100.1)),
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


@given(head=st.floats(-100, 0), thickness=st.floats(50, 2000), temperature=st.floats(0, 100))
def test_above_the_water_nothing_presses(head: float, thickness: float, temperature: float) -> None:
    assert gradient(head, thickness) == 0
    assert water_pressure(head, temperature) == 0


@given(thickness=st.floats(50, 2000))
def test_through_a_slab_the_water_falls_by_its_own_weight(thickness: float) -> None:
    assert gradient_down(0, thickness) == 1
