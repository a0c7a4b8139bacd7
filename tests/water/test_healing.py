"""Healing: directions, limits, flow without the season."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.crack import crack_flow
from advisor.water.healing import flow_at_20, healing_time, width_left
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

CASES = [
    Case(
        function=healing_time,
        within=((0.0, 0.2),),
        rises="+",
        impossible=((-0.01, 0.201),),
    ),
    Case(function=width_left, within=((0.0, 2.0),), rises="+", impossible=((-0.1,),)),
    Case(
        function=flow_at_20,
        within=((0.0, 100.0), (0.0, 100.0)),
        rises="+-",
        impossible=((-0.1,), (-0.1, 100.1)),
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


@given(width=st.floats(0.01, 0.2), temperature=st.floats(0, 40))
def test_winter_is_no_healing(width: float, temperature: float) -> None:
    flow = crack_flow(width, 5, temperature)
    assert flow_at_20(flow, temperature) == pytest.approx(crack_flow(width, 5, 20))


@given(width=st.floats(0.01, 0.2), share=st.floats(0.01, 1))
def test_the_width_that_is_left_passes_the_flow_that_is_left(width: float, share: float) -> None:
    left = crack_flow(width * width_left(share), 5, 10)
    assert left == pytest.approx(share * crack_flow(width, 5, 10))


def test_up_to_a_tenth_of_a_millimetre_the_time_is_the_same() -> None:
    assert healing_time(np.array([0.0, 0.05, 0.1])).tolist() == [14, 14, 14]
