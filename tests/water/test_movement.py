"""Movement: directions, limits, and that the flow follows the cube of the width."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.movement import (
    EXPANSION,
    EXPANSION_BY_AGGREGATE,
    crack_swing,
    flow_change,
    flow_span,
    free_movement,
    joint_movement,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

LENGTH, SWING, SHARE, EXPANDS = (0.1, 100.0), (0.0, 100.0), (0.0, 1.0), (4.0, 20.0)
NO_LENGTH, NO_SWING, NO_SHARE = (0.0, -1.0), (-1.0, 100.1), (-0.1, 1.1)
NO_EXPANSION = (0.0, 10e-6, 3.9, 20.1)

CASES = [
    Case(
        function=free_movement,
        within=(LENGTH, SWING, EXPANDS),
        rises="+++",
        impossible=(NO_LENGTH, NO_SWING, NO_EXPANSION),
    ),
    Case(
        function=joint_movement,
        within=(LENGTH, SWING, SHARE, EXPANDS),
        rises="++-+",
        impossible=(NO_LENGTH, NO_SWING, NO_SHARE, NO_EXPANSION),
    ),
    Case(
        function=crack_swing,
        within=(LENGTH, SWING, SHARE, EXPANDS),
        rises="++++",
        impossible=(NO_LENGTH, NO_SWING, NO_SHARE, NO_EXPANSION),
    ),
    Case(
        function=flow_change,
        within=((0.01, 5.0), (0.0, 5.0)),
        rises="-+",
        impossible=((0.0, -0.1), (-0.1,)),
    ),
    Case(
        function=flow_span,
        within=((0.2, 5.0), (0.0, 0.19)),
        rises="-+",
        impossible=((0.0, -0.1, 0.05), (-0.1, 2.6, 3.0)),
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


@given(length=st.floats(0.1, 100), swing=st.floats(0, 100), share=st.floats(0, 1))
def test_what_a_joint_does_not_do_the_cracks_do(length: float, swing: float, share: float) -> None:
    together = joint_movement(length, swing, share) + crack_swing(length, swing, share)
    assert together == pytest.approx(free_movement(length, swing))


@given(first=st.floats(0.01, 5), later=st.floats(0.01, 5))
def test_there_and_back_the_flow_is_what_it_was(first: float, later: float) -> None:
    assert flow_change(first, later) * flow_change(later, first) == pytest.approx(1)


def test_every_aggregate_lies_in_the_band() -> None:
    assert min(EXPANSION_BY_AGGREGATE.values()) == EXPANSION.low
    assert max(EXPANSION_BY_AGGREGATE.values()) == EXPANSION.high
    assert EXPANSION.low < EXPANSION.likely < EXPANSION.high
