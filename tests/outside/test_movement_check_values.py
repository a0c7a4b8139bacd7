"""Movement by temperature, check values of the facts on water, section 13 (computed there from
the textbook formulas), and of section 1 for what a change of width does to the flow."""

import pytest

from advisor.water.movement import (
    EXPANSION_BY_AGGREGATE,
    crack_swing,
    flow_change,
    flow_span,
    free_movement,
    joint_movement,
)

CLOSE = 1e-3


@pytest.mark.parametrize(
    ("expansion", "length", "swing", "expected"),
    [(10, 6, 25, 1.500), (8, 30, 15, 3.600), (12, 7.5, 40, 3.600)],
)
def test_free_movement(expansion: float, length: float, swing: float, expected: float) -> None:
    assert free_movement(length, swing, expansion) == pytest.approx(expected, rel=CLOSE)
    assert joint_movement(length, swing, 0, expansion) == pytest.approx(expected, rel=CLOSE)


def test_a_base_that_holds_half_halves_the_movement_of_a_joint() -> None:
    """By hand: the form of section 13, with a restraint."""
    assert joint_movement(6, 25, 0.5, 10) == pytest.approx(0.75, rel=CLOSE)


def test_swing_of_a_crack() -> None:
    assert crack_swing(3, 10, 0.5, 10) == pytest.approx(0.1500, rel=CLOSE)


# Verified there by a trade journal, which prints millionths a °F; here that figure times 9/5.
@pytest.mark.parametrize(
    ("aggregate", "per_fahrenheit"),
    [
        ("quartz", 6.6),
        ("sandstone", 6.5),
        ("gravel", 6.0),
        ("granite", 5.3),
        ("basalt", 4.8),
        ("limestone", 3.8),
    ],
)
def test_expansion_by_aggregate(aggregate: str, per_fahrenheit: float) -> None:
    ours = EXPANSION_BY_AGGREGATE[aggregate]
    assert ours == pytest.approx(per_fahrenheit * 9 / 5, rel=CLOSE)


@pytest.mark.parametrize(("later", "expected"), [(0.25, 1.953), (0.30, 3.375)])
def test_flow_after_a_change_of_width(later: float, expected: float) -> None:
    assert flow_change(0.20, later) == pytest.approx(expected, rel=CLOSE)


@pytest.mark.parametrize(("either_way", "expected"), [(0.05, 4.630), (0.02, 1.826)])
def test_flow_over_a_swing(either_way: float, expected: float) -> None:
    assert flow_span(0.20, either_way) == pytest.approx(expected, rel=CLOSE)
