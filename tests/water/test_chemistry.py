"""Chemistry: directions, limits, and that mixing and fading can be undone."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from advisor.water.chemistry import (
    chlorine_lasts,
    chlorine_left,
    conductivity_at_25,
    french_degrees,
    german_degrees,
    hardness,
    lime_conductivity,
    mixed,
    sea_share,
    share_of_source,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

AMOUNT, BELOW = (0.0, 5000.0), (-1.0,)
DECAY, NO_DECAY = (0.01, 5.0), (0.0, -0.5)

CASES = [
    Case(function=hardness, within=(AMOUNT, AMOUNT), rises="++", impossible=(BELOW, BELOW)),
    Case(function=german_degrees, within=(AMOUNT,), rises="+", impossible=(BELOW,)),
    Case(function=french_degrees, within=(AMOUNT,), rises="+", impossible=(BELOW,)),
    Case(
        function=conductivity_at_25,
        within=((0.0, 60_000.0), (0.0, 40.0)),
        rises="+-",
        impossible=(BELOW, (-0.1, 40.1)),
    ),
    Case(
        function=lime_conductivity,
        within=((7.0, 12.45),),
        rises="+",
        impossible=((6.9, 12.5, 14.0),),
    ),
    Case(
        function=mixed,
        within=((0.0, 1.0), AMOUNT, AMOUNT),
        rises="?++",
        impossible=((-0.1, 1.1), BELOW, BELOW),
    ),
    Case(
        function=share_of_source,
        within=((100.0, 200.0), (0.0, 100.0), (201.0, 5000.0)),
        rises="+--",
        impossible=((-1.0, 49.0, 2601.0), (-1.0, 150.1, 5000.0), (-1.0, 149.0, 50.0)),
    ),
    Case(
        function=sea_share,
        within=((100.0, 200.0), (0.0, 100.0), (201.0, 20_000.0)),
        rises="+--",
        impossible=((-1.0, 49.0), (-1.0, 150.1, 20_001.0), (-1.0, 149.0, 0.0)),
    ),
    Case(
        function=chlorine_left,
        within=((0.0, 10.0), (0.0, 60.0), DECAY),
        rises="+--",
        impossible=(BELOW, BELOW, NO_DECAY),
    ),
    Case(
        function=chlorine_lasts,
        within=((1.0, 10.0), (0.01, 1.0), DECAY),
        rises="+--",
        impossible=((0.5, 0.0, -1.0, np.inf), (0.0, -1.0, 5.6), NO_DECAY),
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


@given(share=st.floats(0.01, 0.99), here=st.floats(0, 5000), there=st.floats(0, 5000))
def test_mixed_and_taken_apart(share: float, here: float, there: float) -> None:
    assume(abs(here - there) > 0.1)
    found = share_of_source(mixed(share, there, here), there, here)
    assert found == pytest.approx(share, rel=1e-6)


@given(start=st.floats(0.1, 10), part=st.floats(0.01, 1), decay=st.floats(0.01, 5))
def test_chlorine_there_and_back(start: float, part: float, decay: float) -> None:
    days = chlorine_lasts(start, part * start, decay)
    assert chlorine_left(start, days, decay) == pytest.approx(part * start)


def test_at_25_degrees_conductivity_stays() -> None:
    assert conductivity_at_25(700, 25) == 700


def test_waters_alike_cannot_be_told_apart() -> None:
    assert np.isnan(share_of_source(40, 40, 40))
