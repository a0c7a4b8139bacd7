"""Pressure and uplift: check values of the facts on water, section 6, computed there.

Status of what they rest on: partial factors of EN 1997-1 verified (textbook table from annex A),
those of the United Kingdom verified (two worked examples).
"""

import pytest

from advisor.water import FORMULAS
from advisor.water.numbers import floats
from advisor.water.pressure import gradient, water_pressure
from advisor.water.uplift import (
    FACTORS,
    Shell,
    floating_head,
    outer_area,
    shell_weight,
    slab_pressure,
    uplift_force,
    water_to_leave,
)

CLOSE = 1e-3
EUROPE, KINGDOM = FACTORS["EN 1997-1, recommended"], FACTORS["EN 1997-1, United Kingdom"]

TANK = Shell(length=8, width=5, depth=3, wall=0.25, base=0.30)
POOL = Shell(length=25, width=12.5, depth=2, wall=0.25, base=0.30)
PUBLISHED = Shell(length=3, width=2, depth=4, wall=0.35, base=0.35)


@pytest.mark.parametrize(("head", "temperature", "pressure"), [(3, 10, 29.41), (10, 20, 97.89)])
def test_pressure(head: float, temperature: float, pressure: float) -> None:
    assert water_pressure(head, temperature) == pytest.approx(pressure, rel=CLOSE)


def test_gradient() -> None:
    """Section 1.1: 3 m through 0.30 m, 5 m through 0.25 m, 4 m through 0.30 m."""
    found = gradient([3, 5, 4], [300, 250, 300])
    assert found == pytest.approx([10.00, 20.00, 13.33], rel=CLOSE)


@pytest.mark.parametrize(
    ("thickness", "lifts", "europe", "kingdom"),
    [(150, 0.3670, 0.3303, 0.3003), (250, 0.6116, 0.5505, 0.5004), (500, 1.223, 1.101, 1.001)],
)
def test_loose_slab(thickness: float, lifts: float, europe: float, kingdom: float) -> None:
    head = slab_pressure(thickness)
    assert head == pytest.approx(lifts, rel=CLOSE)
    assert head * EUROPE.weight / EUROPE.uplift == pytest.approx(europe, rel=CLOSE)
    assert head * KINGDOM.weight / KINGDOM.uplift == pytest.approx(kingdom, rel=CLOSE)


def test_empty_tank() -> None:
    assert shell_weight(TANK) == pytest.approx(822.6, rel=CLOSE)
    assert outer_area(TANK) == pytest.approx(46.75, rel=CLOSE)
    assert uplift_force(TANK, 2.0) == pytest.approx(917.2, rel=CLOSE)
    assert shell_weight(TANK) / uplift_force(TANK, 2.0) == pytest.approx(0.8968, rel=CLOSE)


@pytest.mark.parametrize(
    ("name", "head"),
    [
        ("floating-head", 1.794),
        ("allowed-head-en-1997", 1.614),
        ("allowed-head-united-kingdom", 1.468),
    ],
)
def test_heads_of_the_empty_tank(name: str, head: float) -> None:
    """As knowledge files get it, thicknesses in mm."""
    found = FORMULAS[name].likely(*map(floats, (8, 5, 3, 250, 300)))
    assert found == pytest.approx(head, rel=CLOSE)


def test_heads_of_the_empty_tank_by_its_shell() -> None:
    assert floating_head(TANK) == pytest.approx(1.794, rel=CLOSE)
    assert floating_head(TANK, EUROPE) == pytest.approx(1.614, rel=CLOSE)
    assert floating_head(TANK, KINGDOM) == pytest.approx(1.468, rel=CLOSE)


@pytest.mark.parametrize(("head", "ratio", "stays"), [(1.0, 1.014, 0.2205), (1.5, 0.6763, 0.8687)])
def test_pool(head: float, ratio: float, stays: float) -> None:
    assert shell_weight(POOL) / uplift_force(POOL, head) == pytest.approx(ratio, rel=CLOSE)
    assert water_to_leave(POOL, head, KINGDOM) == pytest.approx(stays, rel=CLOSE)
    inputs = map(floats, (25, 12.5, 2, 250, 300, head))
    assert FORMULAS["water-to-leave"].likely(*inputs) == pytest.approx(stays, rel=CLOSE)


def test_published_worked_example() -> None:
    """A box of 3 x 2 x 4 m, 350 mm all round, 25 and 10 kN/m3, 3.35 m of water (verified:
    structville 2018)."""
    holds = KINGDOM.weight * shell_weight(PUBLISHED, unit_weight=25)
    lifts = KINGDOM.uplift * uplift_force(PUBLISHED, 3.35, water_weight=10)
    assert holds == pytest.approx(437.8, rel=CLOSE)
    assert lifts == pytest.approx(368.1, rel=CLOSE)
    assert holds > lifts
