"""Sums that are no physics: directions, limits, one way and back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.plain import (
    along_length,
    difference,
    from_area,
    over_area,
    over_length,
    ratio,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

ANY, FLOW, SIZE = (-1000.0, 1000.0), (0.0, 1000.0), (0.1, 1000.0)
BELOW, NOTHING = (-0.1,), (0.0, -1.0)

CASES = [
    Case(function=difference, within=(ANY, ANY), rises="+-", impossible=((), ())),
    Case(function=ratio, within=(FLOW, SIZE), rises="+-", impossible=((), NOTHING)),
    Case(function=over_length, within=(FLOW, SIZE), rises="+-", impossible=((), NOTHING)),
    Case(function=along_length, within=(FLOW, SIZE), rises="++", impossible=((), BELOW)),
    Case(function=over_area, within=(FLOW, SIZE), rises="+-", impossible=((), NOTHING)),
    Case(function=from_area, within=(FLOW, SIZE), rises="++", impossible=((), BELOW)),
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


@given(flow=st.floats(0, 1000), size=st.floats(0.1, 1000))
def test_spread_and_gathered_again_it_is_the_same_flow(flow: float, size: float) -> None:
    assert along_length(over_length(flow, size), size) == pytest.approx(flow)
    assert from_area(over_area(flow, size), size) == pytest.approx(flow)


def test_a_litre_an_hour_is_24_a_day() -> None:
    assert over_area(1, 1) == 24
