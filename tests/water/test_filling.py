"""Fillings: more to fill never takes less; shapes beside each other."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.filling import (
    CEMENT_DENSITY,
    annulus_volume,
    box_volume,
    core_volume,
    cylinders_volume,
    fillet_volume,
    layer_volume,
    mass_of,
    part_of,
    pores_volume,
    slot_volume,
    suspension_cement,
    together,
    with_loss,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

WIDE, DEEP, LONG = (0.0, 50.0), (0.0, 2000.0), (0.0, 100.0)
AREA, VOLUME, SHARE = (0.0, 500.0), (0.0, 1000.0), (0.0, 1.0)
BELOW, NO_SHARE = (-0.1,), (-0.1, 1.1)

CASES = [
    Case(
        function=slot_volume,
        within=(WIDE, DEEP, LONG),
        rises="+++",
        impossible=(BELOW, BELOW, BELOW),
    ),
    Case(
        function=fillet_volume,
        within=(WIDE, WIDE, LONG),
        rises="+++",
        impossible=(BELOW, BELOW, BELOW),
    ),
    Case(
        function=box_volume,
        within=(DEEP, DEEP, DEEP),
        rises="+++",
        impossible=(BELOW, BELOW, BELOW),
    ),
    Case(function=layer_volume, within=(AREA, WIDE), rises="++", impossible=(BELOW, BELOW)),
    Case(
        function=annulus_volume,
        within=(DEEP, WIDE, DEEP),
        rises="+++",
        impossible=(BELOW, BELOW, BELOW),
    ),
    Case(
        function=cylinders_volume,
        within=((0.0, 500.0), WIDE, DEEP),
        rises="+++",
        impossible=(BELOW, BELOW, BELOW),
    ),
    Case(function=core_volume, within=(WIDE, LONG), rises="++", impossible=(BELOW, BELOW)),
    Case(
        function=pores_volume,
        within=(AREA, DEEP, SHARE),
        rises="+++",
        impossible=(BELOW, BELOW, NO_SHARE),
    ),
    Case(
        function=with_loss,
        within=(VOLUME, (1.0, 3.0)),
        rises="++",
        impossible=(BELOW, (0.99, 0.0)),
    ),
    Case(function=together, within=(VOLUME, VOLUME), rises="++", impossible=((), ())),
    Case(function=part_of, within=(VOLUME, SHARE), rises="++", impossible=((), NO_SHARE)),
    Case(
        function=mass_of,
        within=(VOLUME, (0.5, 3.0)),
        rises="++",
        impossible=(BELOW, (0.0, -1.0)),
    ),
    Case(
        function=suspension_cement,
        within=(VOLUME, (0.2, 3.0)),
        rises="+-",
        impossible=(BELOW, BELOW),
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


def resin(width: float, depth: float, length: float, loss: float) -> float:
    return float(with_loss(slot_volume(width, depth, length), loss))


@given(
    crack=st.tuples(st.floats(0.05, 5), st.floats(50, 1000), st.floats(0.1, 50), st.floats(1, 3)),
    more=st.tuples(*[st.floats(1, 2)] * 4),
)
def test_a_larger_crack_or_more_loss_never_takes_less_resin(
    crack: tuple[float, float, float, float], more: tuple[float, float, float, float]
) -> None:
    larger = [part * times for part, times in zip(crack, more, strict=True)]
    assert resin(*larger) >= resin(*crack)


@given(pipe=st.floats(1, 500), gap=st.floats(0.1, 100), depth=st.floats(10, 1000))
def test_a_ring_is_a_wide_hole_less_the_pipe(pipe: float, gap: float, depth: float) -> None:
    hole, inside = cylinders_volume(1, pipe + 2 * gap, depth), cylinders_volume(1, pipe, depth)
    assert annulus_volume(pipe, gap, depth) == pytest.approx(hole - inside, rel=1e-6)


@given(side=st.floats(1, 2000), area=st.floats(0.1, 100), thickness=st.floats(1, 500))
def test_shapes_agree_where_they_are_one(side: float, area: float, thickness: float) -> None:
    cube = box_volume(side, side, side)
    assert cube == pytest.approx(slot_volume(side, side, side / 1000))
    assert cube == pytest.approx(layer_volume((side / 1000) ** 2, side))
    assert pores_volume(area, thickness, 1) == layer_volume(area, thickness)


@given(volume=st.floats(0.1, 1000), ratio=st.floats(0.3, 2))
def test_cement_and_its_water_fill_the_suspension(volume: float, ratio: float) -> None:
    cement = float(suspension_cement(volume, ratio))
    assert cement / CEMENT_DENSITY + cement * ratio == pytest.approx(volume)


def test_with_no_crack_there_is_nothing_to_fill() -> None:
    assert np.all(slot_volume([0, 1, 1], [1, 0, 1], [1, 1, 0]) == 0)
