"""Restraint: directions, limits, and that parts of a strain add up."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.restraint import (
    crack_spacing,
    crack_width,
    cracking_strain,
    edge_restraint_width,
    end_restraint_strain,
    end_restraint_width,
    modular_ratio,
    restrained_strain,
    stiffness,
    tensile_strength,
    top_restraint,
    wall_restraint,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

STRAIN, SHARE, STEEL, SPACING = (0.0, 1000.0), (0.0, 1.0), (0.002, 0.05), (50.0, 2000.0)
NO_SHARE, NO_STEEL, NO_LENGTH = (-0.1, 1.1), (0.0, -0.01, 1.0), (0.0, -1.0)
STRENGTH, NO_STRENGTH = (12.0, 90.0), (11.9, 90.1, -30.0)
TENSILE, MODULAR, SELF = (0.5, 5.0), (4.0, 15.0), (0.65, 1.0)

CASES = [
    Case(function=top_restraint, within=((0.1, 20.0),), rises="+", impossible=(NO_LENGTH,)),
    Case(
        function=wall_restraint,
        within=((0.5, 100.0), (3.0, 10.0), (0.0, 3.0)),
        rises="+?-",
        impossible=(NO_LENGTH, (*NO_LENGTH, 1.4), (-0.1, 6.6)),
    ),
    Case(
        function=restrained_strain,
        within=((0.0, 60.0), STRAIN, SHARE, (0.1, 1.0), (4.0, 20.0)),
        rises="+++++",
        impossible=((-1.0,), (-1.0,), NO_SHARE, (0.0, 1.1), (10e-6, 3.9, 20.1)),
    ),
    Case(
        function=cracking_strain,
        within=(STRAIN, (10.0, 300.0)),
        rises="+-",
        impossible=((-1.0,), NO_LENGTH),
    ),
    Case(
        function=crack_spacing,
        within=((10.0, 100.0), (6.0, 40.0), STEEL, (0.8, 1.6)),
        rises="++-+",
        impossible=(NO_LENGTH, NO_LENGTH, NO_STEEL, (0.7, 1.7)),
    ),
    Case(function=tensile_strength, within=(STRENGTH,), rises="?", impossible=(NO_STRENGTH,)),
    Case(function=stiffness, within=(STRENGTH,), rises="+", impossible=(NO_STRENGTH,)),
    Case(function=modular_ratio, within=(STRENGTH,), rises="-", impossible=(NO_STRENGTH,)),
    Case(
        function=end_restraint_strain,
        within=(TENSILE, STEEL, MODULAR, SELF),
        rises="+-++",
        impossible=(NO_LENGTH, NO_STEEL, (0.9,), (0.64, 1.1)),
    ),
    Case(
        function=end_restraint_width,
        within=(SPACING, TENSILE, STEEL, MODULAR, SELF),
        rises="++-++",
        impossible=(NO_LENGTH, NO_LENGTH, NO_STEEL, (0.9,), (0.64, 1.1)),
    ),
    Case(
        function=edge_restraint_width,
        within=(SPACING, SHARE, STRAIN),
        rises="+++",
        impossible=(NO_LENGTH, NO_SHARE, (-1.0,)),
    ),
    Case(
        function=crack_width,
        within=(SPACING, STRAIN),
        rises="++",
        impossible=(NO_LENGTH, (-1.0,)),
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


@given(fall=st.floats(0, 60), shortening=st.floats(0, 1000), share=st.floats(0, 1))
def test_cooling_and_shrinking_add_up(fall: float, shortening: float, share: float) -> None:
    parts = restrained_strain(fall, 0, share) + restrained_strain(0, shortening, share)
    assert restrained_strain(fall, shortening, share) == pytest.approx(parts)


@given(ratio=st.floats(0.1, 20), height=st.floats(0.5, 10), part=st.floats(0, 1))
def test_up_a_wall_the_restraint_lies_between_base_and_top(
    ratio: float, height: float, part: float
) -> None:
    found = wall_restraint(ratio * height, height, min(part * height, height))
    assert top_restraint(ratio) - 1e-9 <= found <= 0.5
