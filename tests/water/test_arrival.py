"""Arrival of water, pressure and tide: directions, limits, and what comes first."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.arrival import pressure_time, tide_lag, tide_share, travel_time
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

DISTANCE, STORAGE, PASSES, PERIOD = (0.0, 500.0), (1e-5, 0.3), (1e-5, 0.1), (1.0, 48.0)
BELOW, NOTHING, NO_SHARE = (-1.0,), (0.0, -1.0), (0.0, -0.1, 1.0)

CASES = [
    Case(
        function=travel_time,
        within=(DISTANCE, (1e-9, 1e-2), (0.05, 0.6)),
        rises="+-+",
        impossible=(BELOW, NOTHING, NO_SHARE),
    ),
    Case(
        function=pressure_time,
        within=(DISTANCE, (1e-6, 1.0)),
        rises="+-",
        impossible=(BELOW, NOTHING),
    ),
    Case(
        function=tide_share,
        within=(DISTANCE, STORAGE, PASSES, PERIOD),
        rises="--++",
        impossible=(BELOW, NO_SHARE, NOTHING, NOTHING),
    ),
    Case(
        function=tide_lag,
        within=(DISTANCE, STORAGE, PASSES, PERIOD),
        rises="++-+",
        impossible=(BELOW, NO_SHARE, NOTHING, NOTHING),
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


@given(storage=st.floats(1e-5, 0.3), passes=st.floats(1e-5, 0.1))
def test_at_the_bank_the_tide_is_whole_and_at_once(storage: float, passes: float) -> None:
    assert tide_share(0, storage, passes) == 1
    assert tide_lag(0, storage, passes) == 0


def test_pressure_arrives_before_the_water() -> None:
    """Sand of 1e-5 m/s, 3 m, specific storage of 0.01 a metre: invented."""
    assert pressure_time(3, 1e-5 / 0.01) < 24 * travel_time(3, 1e-5, 0.3) == pytest.approx(25)
