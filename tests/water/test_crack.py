"""Flow through a crack: directions, limits, where the law is lost."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.crack import (
    LAMINAR,
    SMOOTH,
    crack_flow,
    flow_through_part,
    flow_through_part_ends,
    reynolds,
    wall_crack_flow,
)
from advisor.water.numbers import floats
from advisor.water.pressure import gradient
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

WIDTH, STEEP, HEAD, THICKNESS = (0.0, 0.3), (0.0, 30.0), (0.0, 4.0), (150.0, 1000.0)
LIQUID, NOT_LIQUID, SHARE = (0.0, 40.0), (-0.1, 100.1), (0.01, 1.0)
BELOW, NOTHING, NO_SHARE = (-0.1,), (0.0, -1.0), (0.0, -0.1, 1.1)

CASES = [
    Case(
        function=crack_flow,
        within=(WIDTH, STEEP, LIQUID, SHARE),
        rises="++++",
        impossible=(BELOW, BELOW, NOT_LIQUID, NO_SHARE),
    ),
    Case(
        function=flow_through_part,
        within=(WIDTH, HEAD, THICKNESS, LIQUID, SHARE),
        rises="++-++",
        impossible=(BELOW, (), NOTHING, NOT_LIQUID, NO_SHARE),
    ),
    Case(
        function=wall_crack_flow,
        within=(WIDTH, HEAD, (0.15, 1.0), LIQUID, SHARE),
        rises="++-++",
        impossible=(BELOW, BELOW, NOTHING, NOT_LIQUID, NO_SHARE),
    ),
    Case(
        function=reynolds,
        within=((0.0, 1e4), LIQUID),
        rises="++",
        impossible=((), NOT_LIQUID),
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


@given(width=st.floats(0, 5), steep=st.floats(0, 60), temperature=st.floats(0, 100))
def test_past_the_end_of_the_law_no_flow_is_given(
    width: float, steep: float, temperature: float
) -> None:
    flow = crack_flow(width, steep, temperature, SMOOTH)
    assert np.isnan(flow) or reynolds(flow, temperature) <= LAMINAR


@given(width=st.floats(0.01, 0.1), times=st.floats(1, 2))
def test_flow_goes_by_the_cube_of_the_width(width: float, times: float) -> None:
    more = crack_flow(width * times, 10, 10) / crack_flow(width, 10, 10)
    assert more == pytest.approx(times**3)


def test_a_crack_is_narrower_than_the_part() -> None:
    assert np.isnan(flow_through_part(0.2, 1, 0.2, 10))
    assert np.isnan(flow_through_part(0.3, 1, 0.2, 10))


def test_where_the_water_stands_below_the_place_nothing_comes() -> None:
    assert flow_through_part(0.2, -1, 300, 10) == 0


@given(
    width=st.floats(0.01, 0.3),
    height=st.floats(0.1, 4),
    thickness=st.floats(150, 1000),
    temperature=st.floats(0, 40),
)
def test_a_wall_crack_passes_what_its_strips_pass(
    width: float, height: float, thickness: float, temperature: float
) -> None:
    strips = (np.arange(1000) + 0.5) / 1000 * height
    flows = crack_flow(width, gradient(strips, thickness), temperature)
    whole = wall_crack_flow(width, height, thickness / 1000, temperature)
    assert whole == pytest.approx(np.mean(flows) * height)


def test_where_the_law_is_lost_a_range_reaches_from_what_is_sure_to_what_it_says() -> None:
    """1 mm under a gradient of 10: a Reynolds number of 4097 by the law. Invented crack."""
    ends = [(floats(x), floats(x)) for x in (1.0, 3.0, 300.0, 20.0, 740 / 2932.0)]
    low, high = flow_through_part_ends(*ends)
    assert reynolds(low, 20) == pytest.approx(100)
    assert reynolds(high, 20) == pytest.approx(4097, rel=1e-3)
    assert np.isnan(flow_through_part(1.0, 3.0, 300.0, 20.0, 740 / 2932.0))
