"""Shrinkage: directions, limits, and where it ends."""

from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.shrinkage import (
    NORMAL,
    RAPID,
    SLOW,
    Cement,
    autogenous_shrinkage,
    autogenous_shrinkage_in_the_end,
    drying_shrinkage,
    drying_shrinkage_in_the_end,
    notional_size,
    shrinkage,
    shrinkage_opening,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

STRENGTH, HUMIDITY, SIZE = (20.0, 90.0), (40.0, 100.0), (100.0, 2000.0)
AGE, START = (0.0, 20_000.0), (1.0, 60.0)
NO_STRENGTH, NO_HUMIDITY, NO_SIZE = (19.9, 90.1, -30.0), (39.9, 100.1), (99.9, 0.0, -300.0)

CASES = [
    Case(
        function=drying_shrinkage_in_the_end,
        within=(STRENGTH, HUMIDITY, SIZE),
        rises="---",
        impossible=(NO_STRENGTH, NO_HUMIDITY, NO_SIZE),
    ),
    Case(
        function=drying_shrinkage,
        within=(STRENGTH, HUMIDITY, SIZE, AGE, START),
        rises="---+-",
        impossible=(NO_STRENGTH, NO_HUMIDITY, NO_SIZE, (-1.0, np.inf), (0.9, -1.0)),
    ),
    Case(
        function=autogenous_shrinkage_in_the_end,
        within=(STRENGTH,),
        rises="+",
        impossible=(NO_STRENGTH,),
    ),
    Case(
        function=autogenous_shrinkage,
        within=(STRENGTH, AGE),
        rises="++",
        impossible=(NO_STRENGTH, (-1.0,)),
    ),
    Case(
        function=shrinkage,
        within=(STRENGTH, HUMIDITY, SIZE, AGE, START),
        rises="?--+-",
        impossible=(NO_STRENGTH, NO_HUMIDITY, NO_SIZE, (-1.0, np.inf), (0.9, -1.0)),
    ),
    Case(
        function=shrinkage_opening,
        within=((0.1, 100.0), (0.0, 1000.0)),
        rises="++",
        impossible=((0.0, -1.0), (-1.0,)),
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


@pytest.mark.parametrize("cement", [SLOW, NORMAL, RAPID], ids=["slow", "normal", "rapid"])
@given(strength=st.floats(20, 90), humidity=st.floats(40, 100), size=st.floats(100, 2000))
def test_it_ends_where_it_ends(
    cement: Cement, strength: float, humidity: float, size: float
) -> None:
    end = drying_shrinkage_in_the_end(strength, humidity, size, cement=cement)
    at = partial(drying_shrinkage, strength, humidity, size, cement=cement)
    assert at(3, 7) == 0
    assert at(1000, 7) <= end
    assert at(1e12, 7) == pytest.approx(end, rel=1e-3)


def test_quicker_cement_dries_more() -> None:
    slow, normal, rapid = (
        drying_shrinkage_in_the_end(30, 60, 300, cement=c) for c in (SLOW, NORMAL, RAPID)
    )
    assert slow < normal < rapid


@given(thickness=st.floats(1, 5000))
def test_a_wall_dries_through_its_faces(thickness: float) -> None:
    assert notional_size(thickness, 2) == pytest.approx(thickness)
    assert notional_size(thickness, 1) == pytest.approx(2 * thickness)


@pytest.mark.parametrize(("thickness", "faces"), [(0, 2), (-300, 2), (300, 0), (300, 3)])
def test_no_such_wall(thickness: float, faces: int) -> None:
    assert np.isnan(notional_size(thickness, faces))
