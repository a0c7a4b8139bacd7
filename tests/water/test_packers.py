"""Packers: directions, limits, whole numbers of holes, a hole that meets the crack."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.packers import (
    THIN_PART,
    THIN_PART_PRESSURE,
    WIDEST_PORTS,
    WIDEST_SPACING,
    curtain_holes,
    face_force,
    hole_length,
    hole_offset,
    packer_spacing,
    packers_along,
    port_spacing,
    pressure_ceiling,
    start_pressure,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

THICK, ANGLE, LINE, APART = (20.0, 2000.0), (5.0, 90.0), (0.1, 50.0), (50.0, 1500.0)
NOTHING, BELOW = (0.0, -1.0), (-0.1,)

CASES = [
    Case(
        function=packer_spacing,
        within=(THICK, (0.5, 1.0)),
        rises="++",
        impossible=(NOTHING, (0.0, 1.1)),
    ),
    Case(function=port_spacing, within=(THICK,), rises="+", impossible=(NOTHING,)),
    Case(function=packers_along, within=(LINE, APART), rises="+-", impossible=(NOTHING, NOTHING)),
    Case(
        function=hole_length, within=(THICK, ANGLE), rises="+-", impossible=(NOTHING, (0.0, 90.1))
    ),
    Case(
        function=hole_offset, within=(THICK, ANGLE), rises="+-", impossible=(NOTHING, (0.0, 90.1))
    ),
    Case(
        function=curtain_holes,
        within=(LINE, LINE, APART),
        rises="++-",
        impossible=(NOTHING, NOTHING, NOTHING),
    ),
    Case(
        function=start_pressure,
        within=((-5.0, 60.0), (1.0, 2.0)),
        rises="++",
        impossible=((), BELOW),
    ),
    Case(
        function=face_force,
        within=((0.0, 200.0), (0.0, 5.0)),
        rises="++",
        impossible=(BELOW, BELOW),
    ),
    Case(
        function=pressure_ceiling,
        within=((1.0, 100.0), THICK),
        rises="++",
        impossible=(NOTHING, NOTHING),
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


@given(thickness=st.floats(20, 1000), angle=st.floats(5, 90))
def test_twice_the_thickness_takes_twice_the_hole(thickness: float, angle: float) -> None:
    once = hole_length(thickness, angle)
    assert hole_length(2 * thickness, angle) == pytest.approx(2 * once, rel=1e-12)


@given(thickness=st.floats(20, 1000), angle=st.floats(5, 89))
def test_the_hole_meets_the_crack_at_half_the_thickness(thickness: float, angle: float) -> None:
    along, aside = hole_length(thickness, angle), hole_offset(thickness, angle)
    assert np.hypot(thickness / 2, aside) == pytest.approx(along, rel=1e-12)


@given(thickness=st.floats(1, 3000))
def test_spacing_is_never_more_than_the_thickness_or_its_cap(thickness: float) -> None:
    assert packer_spacing(thickness) == min(thickness, WIDEST_SPACING)
    assert port_spacing(thickness) == min(thickness, WIDEST_PORTS)


@given(length=st.floats(0.05, 100), spacing=st.floats(20, 1500))
def test_no_gap_between_packers_is_wider_than_the_spacing(length: float, spacing: float) -> None:
    count = float(packers_along(length, spacing))
    assert count == int(count) >= 2
    assert length * 1000 / (count - 1) <= spacing * (1 + 1e-9)


@pytest.mark.parametrize("spacing", [100.0, 150.0, 300.0])
@pytest.mark.parametrize("gaps", range(1, 40))
def test_a_whole_number_of_spacings_gains_no_packer(gaps: int, spacing: float) -> None:
    assert packers_along(gaps * spacing / 1000, spacing) == gaps + 1


@given(rows=st.integers(1, 20), columns=st.integers(1, 20))
def test_a_shifted_row_has_one_hole_less(rows: int, columns: int) -> None:
    """Counted one by one on a grid of 500 mm."""
    holes = [columns + 1 - row % 2 for row in range(rows + 1)]
    assert curtain_holes(columns * 0.5, rows * 0.5, 500) == sum(holes)


@given(strength=st.floats(1, 100), thickness=st.floats(10, THIN_PART, exclude_max=True))
def test_a_thin_part_is_never_pressed_harder_than_its_cap(
    strength: float, thickness: float
) -> None:
    assert pressure_ceiling(strength, thickness) <= THIN_PART_PRESSURE
    assert pressure_ceiling(strength, THIN_PART) == pytest.approx(strength * 10 / 3)


@given(head=st.floats(0, 60))
def test_the_start_is_above_the_water(head: float) -> None:
    assert start_pressure(head) > 0.098 * head
    assert start_pressure(-head) == start_pressure(0)
