"""Widths, classes of leakage, level tests and pipe tests against the check values of the facts on
water, sections 2.1, 3, 7 and 8.

The check values follow from the published rules by hand (computed); the status of each rule stands
beside it. Tolerance: the four figures that are printed.
"""

import numpy as np
import pytest

from advisor.water.crack_limits import (
    TABLES,
    en_1992_3_limit,
    german_guideline_limit,
    least_compression_zone,
)
from advisor.water.leak_classes import SCHEMES, dripping, leakage_class, tunnel_leakage
from advisor.water.level_tests import (
    days_of_test,
    five_hundredth_allowed,
    loss,
    net_drop,
    share_allowed,
    smallest_loss,
    thermal_change,
)
from advisor.water.pipe_tests import ALLOWED, added, main_allowed, wetted_manhole, wetted_pipe
from advisor.water.plain import over_area

FIGURES = 5e-4
"""Relative: half a step in the last of four figures."""


# German guideline: verified in a technical paper. EN 1992-3: verified, open calculator source.
@pytest.mark.parametrize(
    ("gradient", "guideline", "code"),
    [
        (5, 0.20, 0.2000),
        (10, 0.20, 0.1750),
        (12, 0.15, 0.1650),
        (15, 0.15, 0.1500),
        (20, 0.10, 0.1250),
        (25, 0.10, 0.1000),
        (30, None, 0.0750),
        (4, 0.20, 0.2000),
        (40, None, 0.0500),
    ],
)
def test_width_by_gradient(gradient: float, guideline: float | None, code: float) -> None:
    assert en_1992_3_limit(gradient) == pytest.approx(code, rel=FIGURES)
    found = german_guideline_limit(gradient)
    assert np.isnan(found) if guideline is None else found == pytest.approx(guideline)


def test_compression_zone() -> None:
    # 50 mm and 0.2 h verified (Zych 2016), "lesser of" from memory.
    assert least_compression_zone([200, 250, 400]) == pytest.approx([40, 50, 50])


def test_named_tables() -> None:
    widths = {name: tuple(limit.width for limit in table) for name, table in TABLES.items()}
    assert widths["ACI 224R, table 4.1"] == (0.41, 0.30, 0.18, 0.15, 0.10)
    assert widths["fib Model Code 2020, 30.5.2.4.2"] == (0.15, 0.20)
    assert widths["BS 8007:1987, withdrawn"] == (0.20, 0.10)


# ACI 350.1: share of volume verified for open tanks; 10 mm and 5 days from memory.
@pytest.mark.parametrize(
    ("depth", "share", "allowed", "days"),
    [(5, 0.05, 2.500, 4.000), (5, 0.10, 5.000, 2.000), (3, 0.05, 1.500, 5.0)],
)
def test_share_of_volume(depth: float, share: float, allowed: float, days: float) -> None:
    found = share_allowed(share, depth)
    assert found == pytest.approx(allowed, rel=FIGURES)
    assert days_of_test(found) == pytest.approx(days, rel=FIGURES)


def test_share_of_volume_in_litres() -> None:
    # 500 m3: 5 m deep, 100 m2.
    assert loss(share_allowed([0.05, 0.1], 5), 100) == pytest.approx([250.0, 500.0], rel=FIGURES)


def test_five_hundredth_of_the_depth() -> None:
    # BS 8007:1987 9.2: 1/500, 10 mm and 7 days verified (a contractor's handbook).
    found = five_hundredth_allowed([2, 3, 5, 6])
    assert found == pytest.approx([4.0, 6.0, 10.0, 10.0], rel=FIGURES)
    assert loss(five_hundredth_allowed(3), 100) == pytest.approx(600.0, rel=FIGURES)
    assert loss(five_hundredth_allowed(3), 100) / 7 == pytest.approx(85.71, rel=FIGURES)


def test_evaporation_taken_off() -> None:
    assert net_drop(9.0, 5.5, 3) == pytest.approx(1.167, rel=FIGURES)
    assert loss(net_drop(9.0, 5.5, 3), 200) == pytest.approx(233.3, rel=FIGURES)
    assert loss(net_drop(8, 5, 1), 32) == pytest.approx(96.00, rel=FIGURES)


@pytest.mark.parametrize(
    ("depth", "before", "after", "net"),
    [(3, 20, 18, -1.055), (2, 25, 20, -2.120), (5, 15, 10, -2.503)],
)
def test_cooling_looks_like_a_leak(depth: float, before: float, after: float, net: float) -> None:
    # Computed with IAPWS-97 densities; 0.5 % where the formula for the density enters.
    assert thermal_change(depth, before, after) == pytest.approx(net, rel=5e-3)


def test_what_a_reading_can_show() -> None:
    assert loss(0.5, 100) == pytest.approx(50.00)
    assert smallest_loss(1, 200, 2.0) == pytest.approx(100.0)


def test_drains_and_manholes() -> None:
    # EN 1610, method W: verified, public test pages.
    pipe = wetted_pipe(300, 50)
    assert pipe == pytest.approx(47.12, rel=FIGURES)
    assert pipe * ALLOWED["EN 1610, pipes"].litres == pytest.approx(7.069, rel=FIGURES)
    manholes = wetted_manhole([1.0, 1.2], [2.0, 3.0])
    assert manholes == pytest.approx([7.069, 12.44], rel=FIGURES)
    allowed = manholes * ALLOWED["EN 1610, manholes and chambers"].litres
    assert allowed == pytest.approx([2.827, 4.976], rel=FIGURES)
    assert added(7.069, pipe) == pytest.approx(0.15, rel=FIGURES)


def test_pressure_mains() -> None:
    # EN 805:2000, formula from memory.
    first = main_allowed(np.pi * 0.2**2 / 4 * 500 * 1000, 20, 200, 6.3, 1.7e8)
    second = main_allowed(np.pi * 0.15**2 / 4 * 1000 * 1000, 20, 150, 5, 2.1e8)
    assert [float(first), float(second)] == pytest.approx([0.2499, 0.2625], rel=FIGURES)


@pytest.mark.parametrize(
    ("drops", "volume", "litres"), [(30, 0.05, 0.0900), (30, 0.25, 0.4500), (30, 0.33, 0.5940)]
)
def test_drops(drops: float, volume: float, litres: float) -> None:
    # 0.05 mL: laboratory convention; 0.25 and 0.33 mL: USGS, both verified.
    assert dripping(drops, volume) == pytest.approx(litres, rel=FIGURES)
    assert dripping([5, 60], 0.05) * 24 == pytest.approx([0.3600, 4.320], rel=FIGURES)


def test_classes_of_tunnels() -> None:
    # BTS classes 1 to 3 verified, the others and ITA/STUVA from memory.
    assert over_area(dripping(30, 0.05), 20) == pytest.approx(0.1080, rel=FIGURES)
    assert leakage_class(0.1080, SCHEMES["bts"]) == 4  # beyond class 3
    assert leakage_class([0.01, 0.1, 0.6], SCHEMES["bts"]) == pytest.approx([1, 3, 6])
    assert leakage_class([0.01, 0.1, 0.6], SCHEMES["ita-10-m"]) == pytest.approx([1, 2, 5])
    # Class 3 on 50 m2 is 5 L/d, which is 69.44 drops a minute of 0.05 mL.
    assert dripping(69.44, 0.05) * 24 == pytest.approx(5.000, rel=FIGURES)
    assert over_area(dripping(69.44, 0.05), 50) == pytest.approx(0.1, rel=FIGURES)


def test_leakage_of_a_tunnel() -> None:
    # 0.1 L/s over 100 m, 6 m across (verified: limit of 1 L/s a km, AusIMM).
    assert tunnel_leakage(0.1, 100, 6) == pytest.approx(4.584, rel=FIGURES)
