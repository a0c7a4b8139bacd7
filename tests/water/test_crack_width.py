"""Widths of cracks for the water: back from the flow, means of widths, spread, head exponent."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.crack import LAMINAR, crack_flow, reynolds
from advisor.water.crack_width import (
    head_exponent,
    hydraulic_width,
    mean_width_along,
    mean_width_through,
    spread_factor,
    width_from_flow,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

FLOW, STEEP, HEAD, THICKNESS = (0.0, 500.0), (0.1, 60.0), (0.1, 20.0), (50.0, 2000.0)
LIQUID, NOT_LIQUID, SHARE = (0.0, 40.0), (-0.1, 100.1), (0.01, 1.0)
BELOW, NOTHING, NO_SHARE = (-0.1,), (0.0, -1.0), (0.0, -0.1, 1.1)

CASES = [
    Case(
        function=hydraulic_width,
        within=(FLOW, STEEP, LIQUID, SHARE),
        rises="+---",
        impossible=((-0.1, 1e6), NOTHING, NOT_LIQUID, NO_SHARE),
    ),
    Case(
        function=width_from_flow,
        within=(FLOW, HEAD, THICKNESS, LIQUID, SHARE),
        rises="+-+--",
        impossible=((-0.1, 1e6), NOTHING, NOTHING, NOT_LIQUID, NO_SHARE),
    ),
    Case(function=spread_factor, within=((0.0, 2.0),), rises="+", impossible=(BELOW,)),
    Case(
        function=head_exponent,
        within=((0.1, 100.0), (0.1, 100.0), (0.1, 1.0), (2.0, 20.0)),
        rises="-+??",
        impossible=(NOTHING, NOTHING, NOTHING, NOTHING),
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
    width=st.floats(0.001, 1),
    steep=st.floats(0.1, 60),
    temperature=st.floats(0, 60),
    reduction=st.floats(0.01, 1),
)
def test_the_flow_of_a_width_gives_the_width(
    width: float, steep: float, temperature: float, reduction: float
) -> None:
    flow = crack_flow(width, steep, temperature, reduction)
    back = hydraulic_width(flow, steep, temperature, reduction)
    assert np.isnan(flow) == np.isnan(back)
    assert np.isnan(flow) or back == pytest.approx(width)


@given(flow=st.floats(0, 1e5), temperature=st.floats(0, 60))
def test_no_width_past_the_end_of_the_law(flow: float, temperature: float) -> None:
    lost = reynolds(flow, temperature) > LAMINAR
    assert np.isnan(hydraulic_width(flow, 10, temperature)) == lost


@given(width=st.floats(0.001, 5), places=st.integers(1, 9))
def test_the_mean_of_equal_widths_is_the_width(width: float, places: int) -> None:
    widths = np.full(places, width)
    assert mean_width_along(widths) == pytest.approx(width)
    assert mean_width_through(widths) == pytest.approx(width)


@given(widths=st.lists(st.floats(0.001, 5), min_size=1, max_size=9))
def test_the_widest_counts_along_and_the_narrowest_through(widths: list[float]) -> None:
    along, through = float(mean_width_along(widths)), float(mean_width_through(widths))
    slack = 1 + 1e-9
    assert min(widths) <= through * slack
    assert through <= np.mean(widths) * slack
    assert np.mean(widths) <= along * slack
    assert along <= max(widths) * slack


def test_a_closed_place_stops_what_goes_through_and_no_width_is_below_0() -> None:
    assert np.isnan(mean_width_through([0.1, 0.0]))
    assert np.isnan(mean_width_along([0.1, -0.1]))
    assert mean_width_along([[0.2, 0.2], [0.0, 0.0]]).tolist() == pytest.approx([0.2, 0.0])


@given(head=st.floats(0.1, 50), n=st.floats(0.1, 3), flow=st.floats(0.1, 100))
def test_the_head_exponent_is_that_of_the_flows(head: float, n: float, flow: float) -> None:
    assert head_exponent(flow, flow * 2**n, head, head * 2) == pytest.approx(n)


def test_alike_heads_tell_nothing() -> None:
    assert np.isnan(head_exponent(1, 2, 3, 3))
