"""Shrinkage by EN 1992-1-1: check values of the facts on water, section 13 (verified there by
structuralcodes and by hand), and the library structuralcodes over a grid."""

from itertools import product
from typing import Literal

import pytest
from structuralcodes.codes import ec2_2004

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

CLOSE = 1e-3
YEAR = 365
FROM = 7

# Strength, humidity, notional size; basic strain, after 1 and 10 years of drying, autogenous in
# the end, all in the end, opening of a joint after a year between bays of 6 m, by drying alone.
CASES = [
    (30, 80, 300, 269.0, 127.6, 190.8, 50.00, 251.7, 0.7657),
    (30, 50, 300, 482.2, 228.8, 342.2, 50.00, 411.7, 1.373),
    (30, 60, 150, 432.1, 331.6, 391.8, 50.00, 449.7, 1.990),
    (40, 80, 250, 238.5, 132.4, 182.9, 75.00, 265.8, 0.7942),
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"C{case[0]} {case[1]} % {case[2]} mm")
def test_check_values(case: tuple[float, ...]) -> None:
    strength, humidity, size, basic, one_year, ten_years, autogenous, final, opening = case
    thin = drying_shrinkage_in_the_end(strength, humidity, 100)  # its factor of size is 1
    after_a_year = drying_shrinkage(strength, humidity, size, YEAR, FROM)
    after_ten = drying_shrinkage(strength, humidity, size, 10 * YEAR, FROM)
    whole = drying_shrinkage_in_the_end(strength, humidity, size) + autogenous_shrinkage_in_the_end(
        strength
    )
    assert thin == pytest.approx(basic, rel=CLOSE)
    assert after_a_year == pytest.approx(one_year, rel=CLOSE)
    assert after_ten == pytest.approx(ten_years, rel=CLOSE)
    assert autogenous_shrinkage_in_the_end(strength) == pytest.approx(autogenous, rel=CLOSE)
    assert whole == pytest.approx(final, rel=CLOSE)
    assert shrinkage_opening(6, after_a_year) == pytest.approx(opening, rel=CLOSE)


CLASSES: list[tuple[Literal["S", "N", "R"], Cement]] = [("S", SLOW), ("N", NORMAL), ("R", RAPID)]


@pytest.mark.parametrize(("letter", "cement"), CLASSES)
def test_agrees_with_structuralcodes(letter: Literal["S", "N", "R"], cement: Cement) -> None:
    grid = product((20, 30, 45, 60, 90), (40, 65, 80, 100), (100, 170, 250, 400, 800), (7, 365))
    for strength, humidity, size, age in grid:
        basic = ec2_2004.eps_cd_0(
            ec2_2004.alpha_ds1(letter),
            ec2_2004.alpha_ds2(letter),
            ec2_2004.fcm(strength),
            ec2_2004.beta_RH(humidity),
        )
        done = ec2_2004.beta_ds(age, 3, size)
        drying = ec2_2004.eps_cd(done, ec2_2004.k_h(size), basic)
        setting = ec2_2004.eps_ca(ec2_2004.beta_as(age), ec2_2004.eps_ca_inf(strength))
        ours = drying_shrinkage(strength, humidity, size, age, 3, cement=cement)
        both = shrinkage(strength, humidity, size, age, 3, cement=cement)
        assert ours == pytest.approx(1e6 * drying, rel=1e-9)
        assert autogenous_shrinkage(strength, age) == pytest.approx(1e6 * setting, rel=1e-9)
        assert both == pytest.approx(1e6 * (drying + setting), rel=1e-9)


def test_notional_size_agrees_with_structuralcodes() -> None:
    """A wall of a metre: drying on both faces, and on one."""
    for thickness in (150, 300, 600):
        area = 1000 * thickness
        assert notional_size(thickness, 2) == pytest.approx(ec2_2004.h_0(area, 2000))
        assert notional_size(thickness, 1) == pytest.approx(ec2_2004.h_0(area, 1000))
