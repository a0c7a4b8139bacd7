"""Doses: directions, limits, and that a dose at the limit is within it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.dosing import (
    TOLERANCES,
    beyond_tolerance,
    dose_deviation,
    out_of_tolerance,
    required_dose,
    required_dose_by_volume,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

VOLUME, CEMENT, DOSE = (0.1, 15.0), (100.0, 600.0), (0.1, 500.0)
LOW, HIGH = (-100.0, 0.0), (0.0, 100.0)
NOTHING, BELOW = (0.0, -1.0), (-1.0,)

CASES = [
    Case(
        function=required_dose,
        within=(VOLUME, CEMENT, (0.0, 100.0)),
        rises="+++",
        impossible=(NOTHING, NOTHING, (-0.1, 100.1)),
    ),
    Case(
        function=required_dose_by_volume,
        within=(VOLUME, (0.1, 50.0)),
        rises="++",
        impossible=(NOTHING, NOTHING),
    ),
    Case(
        function=dose_deviation,
        within=((0.0, 500.0), DOSE),
        rises="+-",
        impossible=(BELOW, NOTHING),
    ),
    Case(
        function=beyond_tolerance,
        within=((0.0, 500.0), DOSE, LOW, HIGH),
        rises="+---",
        impossible=(BELOW, NOTHING, (0.1, -100.1), BELOW),
    ),
    Case(
        function=out_of_tolerance,
        within=((0.0, 500.0), DOSE, LOW, HIGH),
        rises="????",
        impossible=(BELOW, NOTHING, (0.1, -100.1), BELOW),
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


@given(required=st.floats(0.1, 500), tolerance=st.floats(0, 50))
def test_at_the_limit_is_within(required: float, tolerance: float) -> None:
    for recorded in (required * (1 - tolerance / 100), required * (1 + tolerance / 100)):
        assert out_of_tolerance(recorded, required, -tolerance, tolerance) == 0


@given(required=st.floats(0.1, 500), off=st.floats(-100, 400))
def test_a_deviation_is_what_was_put_in(required: float, off: float) -> None:
    recorded = max(required * (1 + off / 100), 0.0)
    assert dose_deviation(recorded, required) == pytest.approx(off, abs=1e-6)
    assert out_of_tolerance(recorded, required, -5, 5) in (0, 1)
    if abs(abs(off) - 5) > 1e-6:
        assert out_of_tolerance(recorded, required, -5, 5) == float(abs(off) > 5)


@pytest.mark.parametrize("name", TOLERANCES)
def test_a_named_tolerance_says_where_it_is_from(name: str) -> None:
    low, high, edition, status = TOLERANCES[name]
    assert low < 0 < high
    assert name in edition
    assert status == "from memory"


def test_nothing_recorded_is_not_nothing_dosed() -> None:
    assert np.isnan(dose_deviation(np.nan, 24))
    assert dose_deviation(0, 24) == -100
