"""Restrained cracking: check values of the facts on water, section 13, and the general library
structuralcodes (https://github.com/fib-international/structuralcodes) over a grid.

Status there: EN 1992 formulas verified by structuralcodes; CIRIA and the edge formula from memory.
"""

from itertools import product

import numpy as np
import pytest
from structuralcodes.codes import ec2_2004

from advisor.water.restraint import (
    BASE_RESTRAINT,
    PLAIN,
    RIBBED,
    STEEL_STIFFNESS,
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

CLOSE = 1e-3


# EN 1992-3, table L.1 and between its rows; verified there by an open calculator's source.
@pytest.mark.parametrize(
    ("length_over_height", "expected"),
    [
        (1, 0),
        (2, 0),
        (2.5, 0.025),
        (3, 0.05),
        (3.5, 0.175),
        (4, 0.30),
        (6, 0.400),
        (8, 0.50),
        (20, 0.50),
    ],
)
def test_restraint_up_a_wall(length_over_height: float, expected: float) -> None:
    assert top_restraint(length_over_height) == pytest.approx(expected, rel=CLOSE)
    assert wall_restraint(3 * length_over_height, 3, 3) == pytest.approx(expected, rel=CLOSE)
    assert wall_restraint(3 * length_over_height, 3, 0) == BASE_RESTRAINT


def test_concrete_of_30_megapascal() -> None:
    assert tensile_strength(30) == pytest.approx(2.896, rel=CLOSE)
    assert stiffness(30) == pytest.approx(32_840, rel=CLOSE)
    assert modular_ratio(30) == pytest.approx(6.091, rel=CLOSE)


@pytest.mark.parametrize(
    ("tensile", "ratio", "self_stress", "expected"),
    [(2.9, 0.01, 1, 769.2), (1.73, 0.012, 0.895, 346.1)],
)
def test_end_restraint_strain(
    tensile: float, ratio: float, self_stress: float, expected: float
) -> None:
    strain = end_restraint_strain(tensile, ratio, 6.091, self_stress)
    assert strain == pytest.approx(expected, rel=CLOSE)


@pytest.mark.parametrize(
    "case",
    [(40, 16, 0.02, 408.0, 0.1659, 0.0612), (50, 12, 0.012, 510.0, 0.3306, 0.0765)],
)
def test_spacing_and_widths(case: tuple[float, ...]) -> None:
    cover, bar, ratio, spacing, end, edge = case
    ours = crack_spacing(cover, bar, ratio)
    assert ours == pytest.approx(spacing, rel=CLOSE)
    assert end_restraint_width(ours, 2.9, ratio, 6.091) == pytest.approx(end, rel=CLOSE)
    assert edge_restraint_width(ours, 0.5, 300) == pytest.approx(edge, rel=CLOSE)


def test_early_age() -> None:
    held = restrained_strain(30, 15, 0.8, 0.65, 10)
    assert held == pytest.approx(163.8, rel=CLOSE)
    assert cracking_strain(held, 76) == pytest.approx(125.8, rel=CLOSE)


def test_long_term() -> None:
    setting = restrained_strain(30, 15, 0.5, 1, 10)
    season = restrained_strain(20, 0, 0.5, 1, 10)
    drying = restrained_strain(0, 150, 0.5, 1, 10)
    held = setting + season + drying
    assert held == pytest.approx(332.5, rel=CLOSE)
    assert crack_width(408, held) == pytest.approx(0.1357, rel=CLOSE)
    assert crack_width(408, cracking_strain(held, 108)) == pytest.approx(0.1136, rel=CLOSE)


def test_concrete_agrees_with_structuralcodes() -> None:
    for strength in range(12, 91):
        assert tensile_strength(strength) == pytest.approx(ec2_2004.fctm(strength), rel=1e-9)
        theirs = ec2_2004.Ecm(ec2_2004.fcm(strength))
        assert stiffness(strength) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize("bond", [RIBBED, PLAIN])
def test_spacing_agrees_with_structuralcodes(bond: float) -> None:
    for cover, bar, ratio in product((20, 35, 50, 75), (8, 12, 20, 32), (0.003, 0.01, 0.04)):
        theirs = ec2_2004.sr_max_close(cover, bar, ratio, bond, 1.0)
        assert crack_spacing(cover, bar, ratio, bond) == pytest.approx(theirs, rel=1e-9)


def test_end_restraint_agrees_with_structuralcodes() -> None:
    grid = product((0.65, 0.8, 1.0), (1.0, 2.5, 4.0), (0.003, 0.01, 0.04), np.linspace(5, 10, 5))
    for k, tensile, ratio, modular in grid:
        theirs = ec2_2004.eps_sm_eps_cm_restraint_end(
            modular, ratio, 1.0, k, tensile, STEEL_STIFFNESS
        )
        ours = end_restraint_strain(tensile, ratio, modular, k)
        assert ours == pytest.approx(1e6 * theirs, rel=1e-9)
