"""Uplift: directions, limits, and that the box is held by what must stay in it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.numbers import Floats, Numbers
from advisor.water.uplift import (
    FACTORS,
    WATER,
    Factors,
    Shell,
    floating_head,
    outer_area,
    shell_weight,
    slab_pressure,
    uplift_force,
    water_to_leave,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

NONE = Factors(1.0, 1.0, "no factors")
MEASURE, THICK, HEAD = (0.5, 50.0), (0.1, 1.0), (0.0, 10.0)
NOTHING = (0.0, -1.0)
BOX = {"within": (MEASURE, MEASURE, MEASURE, THICK, THICK), "impossible": (NOTHING,) * 5}


def shell(length: Numbers, width: Numbers, depth: Numbers, wall: Numbers, base: Numbers) -> Shell:
    return Shell(length=length, width=width, depth=depth, wall=wall, base=base)


def weight(*box: Numbers) -> Floats:
    return shell_weight(shell(*box))


def floats_at(*box: Numbers) -> Floats:
    return floating_head(shell(*box))


def stays(*inputs: Numbers) -> Floats:
    return water_to_leave(shell(*inputs[:5]), inputs[5], NONE)


CASES = [
    Case(function=weight, rises="+++++", **BOX),
    Case(function=floats_at, rises="--+++", **BOX),
    Case(
        function=stays,
        within=(MEASURE, MEASURE, MEASURE, THICK, THICK, HEAD),
        rises="??-?-+",
        impossible=((NOTHING,) * 5 + ((),)),
    ),
    Case(
        function=slab_pressure,
        within=((50.0, 2000.0), (20.0, 26.0)),
        rises="++",
        impossible=(NOTHING, ()),
    ),
]

shells = st.builds(
    Shell,
    length=st.floats(*MEASURE),
    width=st.floats(*MEASURE),
    depth=st.floats(*MEASURE),
    wall=st.floats(*THICK),
    base=st.floats(*THICK),
)


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


@given(box=shells)
def test_at_the_floating_head_the_weight_is_the_uplift(box: Shell) -> None:
    assert uplift_force(box, floating_head(box)) == pytest.approx(shell_weight(box))


@given(box=shells, factors=st.sampled_from(list(FACTORS.values())))
def test_factors_allow_less_than_floats(box: Shell, factors: Factors) -> None:
    assert floating_head(box, factors) < floating_head(box)
    assert water_to_leave(box, floating_head(box, factors), factors) == pytest.approx(0, abs=1e-9)


@given(box=shells, more=st.floats(0.1, 5), factors=st.sampled_from(list(FACTORS.values())))
def test_what_must_stay_in_holds_the_box(box: Shell, more: float, factors: Factors) -> None:
    head = floating_head(box, factors) + more
    inside = water_to_leave(box, head, factors) * box.length * box.width * WATER
    held = factors.weight * (shell_weight(box) + inside)
    assert held == pytest.approx(factors.uplift * uplift_force(box, head))


@given(box=shells, head=st.floats(-10, 0))
def test_water_below_the_base_lifts_nothing(box: Shell, head: float) -> None:
    assert uplift_force(box, head) == 0


@pytest.mark.parametrize("measure", Shell._fields)
def test_a_box_without_one_of_its_measures_weighs_nothing_known(measure: str) -> None:
    box = shell(8, 5, 3, 0.25, 0.3)._replace(**{measure: 0.0})
    assert np.isnan(shell_weight(box))
    assert np.isnan(floating_head(box))


@given(box=shells)
def test_water_lifts_the_walls_too(box: Shell) -> None:
    assert outer_area(box) > np.multiply(box.length, box.width)
