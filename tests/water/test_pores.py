"""Water through and up the pores: directions, limits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.pores import (
    capillary_rise,
    drawn_in,
    permeability_of_test,
    rising_damp,
    seepage,
    zone_flow,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

PASSES, STEEP, HOURS = (0.0, 1e-4), (0.0, 60.0), (0.0, 24.0)
BELOW, NOTHING, NO_SHARE = (-1e-9,), (0.0, -1.0), (0.0, -0.1, 1.1)

CASES = [
    Case(function=seepage, within=(PASSES, STEEP), rises="++", impossible=(BELOW, BELOW)),
    Case(
        function=zone_flow,
        within=(PASSES, (0.0, 10.0), STEEP),
        rises="+++",
        impossible=(BELOW, BELOW, BELOW),
    ),
    Case(
        function=permeability_of_test,
        within=((1.0, 150.0), (0.01, 0.3), (1.0, 100.0), (1.0, 200.0)),
        rises="++--",
        impossible=(NOTHING, NO_SHARE, NOTHING, NOTHING),
    ),
    Case(
        function=drawn_in,
        within=((0.0, 2.0), HOURS),
        rises="++",
        impossible=(BELOW, BELOW),
    ),
    Case(
        function=rising_damp,
        within=((0.01, 2.0), (50.0, 1000.0), (1e-4, 0.01), (0.01, 0.5)),
        rises="++--",
        impossible=(NOTHING, NOTHING, NOTHING, NO_SHARE),
    ),
    Case(
        function=capillary_rise,
        within=((0.01, 1.0), (0.0, 100.0)),
        rises="--",
        impossible=(NOTHING, (-0.1, 100.1)),
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


@given(suction=st.floats(0.01, 2), hours=st.floats(0, 6))
def test_four_times_as_long_draws_in_twice_as_much(suction: float, hours: float) -> None:
    assert drawn_in(suction, 4 * hours) == pytest.approx(2 * drawn_in(suction, hours))
