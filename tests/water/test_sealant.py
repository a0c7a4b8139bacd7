"""Sealants and pressed seals: both rules of the width, the turn of the depth, what presses."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water import FORMULAS
from advisor.water.numbers import floats
from advisor.water.sealant import (
    LEAST_PRESSED,
    MOST_PRESSED,
    SQUARE_TO,
    THINNEST,
    TIMES_MOVEMENT,
    backer_rod,
    compression_seal_width,
    seal_for_gap,
    sealant_depth,
    sealant_width,
    width_by_share,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

MOVES, PERCENT, BELOW, NOTHING = (0.0, 30.0), (5.0, 100.0), (-0.1,), (0.0, -1.0)

CASES = [
    Case(
        function=width_by_share,
        within=(MOVES, PERCENT),
        rises="+-",
        impossible=(BELOW, (0.0, 100.1)),
    ),
    Case(
        function=sealant_width,
        within=(MOVES, PERCENT),
        rises="+-",
        impossible=(BELOW, (0.0, 100.1)),
    ),
    Case(function=sealant_depth, within=((0.1, 60.0),), rises="?", impossible=(NOTHING,)),
    Case(
        function=backer_rod,
        within=((1.0, 60.0), (1.25, 1.3)),
        rises="++",
        impossible=(NOTHING, (0.9,)),
    ),
    Case(
        function=compression_seal_width,
        within=((20.0, 24.0), (15.0, 20.0), (0.0, 1.0)),
        rises="+++",
        impossible=((10.0, 40.0), (0.0, -1.0, 10.0), (-0.1, 1.1)),
    ),
    Case(
        function=seal_for_gap,
        within=((20.0, 40.0), (0.0, 9.0), (0.0, 1.0)),
        rises="+?+",
        impossible=((0.0, 4.0), (-1.0, 30.0), (-0.1, 1.1)),
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


@given(movement=st.floats(0, 30), times=st.floats(1, 4), share=st.floats(5, 100))
def test_the_width_scales_with_the_movement(movement: float, times: float, share: float) -> None:
    once = float(sealant_width(movement, share))
    assert sealant_width(movement * times, share) == pytest.approx(once * times)
    assert once >= TIMES_MOVEMENT * movement


@given(movement=st.floats(0.1, 30))
def test_a_sealant_that_may_move_less_is_wider(movement: float) -> None:
    assert width_by_share(movement, 25) > width_by_share(movement, 30)
    assert sealant_width(movement, 25) >= sealant_width(movement, 30)


@given(width=st.floats(0.1, 60))
def test_the_depth_stays_within_its_limits(width: float) -> None:
    assert THINNEST <= sealant_depth(width) <= SQUARE_TO


@given(low=st.floats(0.1, 40), more=st.floats(0, 30))
def test_a_range_of_widths_holds_the_turn_of_the_depth(low: float, more: float) -> None:
    high = low + more
    depths = sealant_depth(np.linspace(low, high, 501))
    lowest, highest = FORMULAS["sealant-depth"](((floats(low), np.nextafter(high, np.inf)),))
    assert lowest <= depths.min()
    assert highest >= depths.max()


@given(
    narrowest=st.floats(5, 60),
    wider=st.floats(1, 1.6, exclude_max=True),
    between=st.floats(0, 1),
)
def test_a_pressed_seal_is_pressed_at_the_widest_and_fits_at_the_narrowest(
    narrowest: float, wider: float, between: float
) -> None:
    widest = narrowest * wider
    free = float(compression_seal_width(widest, narrowest, between))
    assert 1 - widest / free >= LEAST_PRESSED - 1e-9
    assert 1 - narrowest / free <= MOST_PRESSED + 1e-9


@given(narrowest=st.floats(5, 60), wider=st.floats(1.61, 4))
def test_a_joint_that_moves_too_far_has_no_pressed_seal(narrowest: float, wider: float) -> None:
    assert np.isnan(compression_seal_width(narrowest * wider, narrowest))
