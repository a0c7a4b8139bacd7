"""Holes and gaps: directions, limits, one law beside the other."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.crack import SMOOTH, crack_flow
from advisor.water.numbers import floats
from advisor.water.opening import (
    hole_flow,
    hole_in_part,
    hole_in_part_ends,
    orifice_flow,
    round_gap_flow,
    tube_flow,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

BORE, HEAD, LENGTH = (0.0, 30.0), (0.5, 20.0), (0.05, 2.0)
LIQUID, NOT_LIQUID, SHARE = (0.0, 40.0), (-0.1, 100.1), (0.01, 1.0)
BELOW, NOTHING, NO_SHARE = (-0.1,), (0.0, -1.0), (0.0, -0.1, 1.1)

CASES = [
    Case(
        function=orifice_flow,
        within=(BORE, HEAD, SHARE),
        rises="+++",
        impossible=(BELOW, BELOW, NO_SHARE),
    ),
    Case(
        function=tube_flow,
        within=((0.0, 0.4), (0.0, 1.0), (0.1, 2.0), LIQUID),
        rises="++-+",
        impossible=(BELOW, BELOW, NOTHING, NOT_LIQUID),
    ),
    Case(  # not with the temperature: where eddies set in, warmer water runs slower
        function=hole_flow,
        within=(BORE, (0.0, 20.0), LENGTH, LIQUID),
        rises="++-?",
        impossible=(BELOW, (), NOTHING, NOT_LIQUID),
    ),
    Case(
        function=hole_in_part,
        within=(BORE, (0.0, 20.0), (50.0, 2000.0), LIQUID),
        rises="++-?",
        impossible=(BELOW, (), NOTHING, NOT_LIQUID),
    ),
    Case(
        function=round_gap_flow,
        within=((1.0, 500.0), (0.0, 0.3), (0.0, 10.0), LIQUID, SHARE),
        rises="+++++",
        impossible=(NOTHING, BELOW, BELOW, NOT_LIQUID, NO_SHARE),
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


@given(
    bore=st.floats(0.1, 30),
    head=st.floats(0.01, 20),
    length=st.floats(0.05, 2),
    temperature=st.floats(0, 40),
)
def test_a_hole_in_a_wall_passes_less_than_friction_or_its_ends_alone_would_let(
    bore: float, head: float, length: float, temperature: float
) -> None:
    flow = hole_flow(bore, head, length, temperature)
    thin = tube_flow(bore, head, length, temperature)
    assert np.isnan(thin) or flow <= thin * (1 + 1e-9)
    # Losses of 1.5 velocity heads are a discharge of 0.816.
    ends = orifice_flow(bore, head, 1.5**-0.5)
    assert np.isnan(ends) or flow <= ends * (1 + 1e-9)


@given(bore=st.floats(0.05, 0.2), length=st.floats(0.3, 2))
def test_a_fine_hole_is_a_tube(bore: float, length: float) -> None:
    assert hole_flow(bore, 1, length, 10) == pytest.approx(tube_flow(bore, 1, length, 10), rel=0.01)


def test_a_shallow_head_over_a_wide_hole_is_outside_the_orifice_law() -> None:
    assert np.isnan(orifice_flow(100, 0.49))
    assert orifice_flow(100, 0.5) > 0


def test_a_tube_past_the_end_of_the_law() -> None:
    assert np.isnan(tube_flow(5, 10, 0.3, 10))


def test_below_the_hole_and_without_a_hole_nothing_comes() -> None:
    assert hole_flow(5, -1, 0.3, 10) == 0
    assert hole_flow(0, 1, 0.3, 10) == 0


def test_a_range_of_temperatures_holds_the_dip_between_the_laws() -> None:
    """1.15 mm through 0.3 m under 3 m. Invented; its flow peaks near 10.6 °C, dips near 18.8 °C."""
    ends = [(floats(x), floats(x)) for x in (1.15, 3.0, 300.0)]
    low, high = hole_in_part_ends(*ends, (floats(8.0), floats(25.0)))
    flows = hole_in_part(1.15, 3.0, 300.0, np.linspace(8, 25, 4001))
    assert low == pytest.approx(flows.min(), rel=1e-4)
    assert high == pytest.approx(flows.max(), rel=1e-4)
    assert low < min(flows[0], flows[-1])
    assert high > max(flows[0], flows[-1])


@given(pipe=st.floats(1, 500), width=st.floats(0, 0.3))
def test_a_round_gap_is_a_crack_as_long_as_the_girth(pipe: float, width: float) -> None:
    crack = crack_flow(width, 10, 10, SMOOTH)
    gap = round_gap_flow(pipe, width, 10, 10, SMOOTH)
    assert gap == pytest.approx(np.pi * pipe / 1000 * crack, nan_ok=True)
