"""Liquid water: directions, limits, the table that flow formulas read."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.water.liquid import (
    DENSEST,
    GRAVITY,
    density,
    kinematic_viscosity,
    slot_constant,
    surface_tension,
    viscosity,
)
from tests.water.steady import Case, check_broadcasting, check_directions, check_impossible

LIQUID, NOT_LIQUID = (0.0, 100.0), (-0.1, 100.1)

CASES = [
    Case(function=viscosity, within=(LIQUID,), rises="-", impossible=(NOT_LIQUID,)),
    Case(function=kinematic_viscosity, within=(LIQUID,), rises="-", impossible=(NOT_LIQUID,)),
    Case(function=surface_tension, within=(LIQUID,), rises="-", impossible=(NOT_LIQUID,)),
    Case(function=slot_constant, within=(LIQUID,), rises="+", impossible=(NOT_LIQUID,)),
    Case(function=density, within=((DENSEST, 100.0),), rises="-", impossible=(NOT_LIQUID,)),
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


@given(temperature=st.floats(0, 100))
def test_water_is_densest_at_four_degrees(temperature: float) -> None:
    assert density(temperature) <= density(DENSEST) * (1 + 1e-12)


def test_the_table_lies_on_the_law() -> None:
    t = np.linspace(0, 100, 9973)
    law = density(t) * GRAVITY * 1e-9 * 3.6e6 / (12 * viscosity(t) * 1e-3)
    np.testing.assert_allclose(slot_constant(t), law, rtol=2e-5)
