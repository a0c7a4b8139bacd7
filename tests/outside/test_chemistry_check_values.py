"""Chemistry of water: check values of the facts on water, section 11, computed there.

Status there: hardness and mixing textbook; conductivity form and chlorine constants from memory.
"""

import pytest

from advisor.water.chemistry import (
    chlorine_lasts,
    chlorine_left,
    conductivity_at_25,
    french_degrees,
    german_degrees,
    hardness,
    lime_conductivity,
    mixed,
    sea_share,
    share_of_source,
)

CLOSE = 1e-3


def test_hardness() -> None:
    total = hardness(80, 15)
    assert total == pytest.approx(261.5, rel=CLOSE)
    assert german_degrees(total) == pytest.approx(14.65, rel=CLOSE)
    assert french_degrees(total) == pytest.approx(26.15, rel=CLOSE)


@pytest.mark.parametrize(
    ("decay", "days", "expected"), [(0.5, 1, 0.3033), (0.5, 3, 0.1116), (2, 1, 0.06767)]
)
def test_chlorine_left(decay: float, days: float, expected: float) -> None:
    assert chlorine_left(0.5, days, decay) == pytest.approx(expected, rel=CLOSE)


@pytest.mark.parametrize(("decay", "expected"), [(0.1, 6.931), (0.5, 1.386), (2, 0.3466)])
def test_half_life_of_chlorine(decay: float, expected: float) -> None:
    assert chlorine_lasts(1, 0.5, decay) == pytest.approx(expected, rel=CLOSE)


@pytest.mark.parametrize(("decay", "expected"), [(0.5, 4.605), (2, 1.151)])
def test_time_to_fall_to_a_tenth(decay: float, expected: float) -> None:
    assert chlorine_lasts(0.5, 0.05, decay) == pytest.approx(expected, rel=CLOSE)


@pytest.mark.parametrize(("acidity", "expected"), [(11, 258.1), (12, 2581), (12.45, 7274)])
def test_conductivity_of_lime(acidity: float, expected: float) -> None:
    assert lime_conductivity(acidity) == pytest.approx(expected, rel=CLOSE)


@pytest.mark.parametrize(("measured", "at", "expected"), [(520, 12, 691.8), (1450, 8, 2147)])
def test_conductivity_at_25(measured: float, at: float, expected: float) -> None:
    assert conductivity_at_25(measured, at) == pytest.approx(expected, rel=CLOSE)


def test_share_of_a_source() -> None:
    assert share_of_source(0.45, 0.15, 0.90) == pytest.approx(0.4000, rel=CLOSE)
    assert sea_share(1500, 40, 19_400) == pytest.approx(0.07541, rel=CLOSE)


def test_one_percent_of_sea_water() -> None:
    assert mixed(0.01, 0, 19_400) == pytest.approx(194.0, rel=CLOSE)
