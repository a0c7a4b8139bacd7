"""Arrival of water and tide: check values of the facts on water, section 12, computed there.

Status there: travel times textbook; tide by Ferris 1952, formulas from memory, method verified.
"""

import pytest

from advisor.water.arrival import pressure_time, tide_lag, tide_share, travel_time

CLOSE = 1e-3


@pytest.mark.parametrize(
    ("pores", "distance", "permeability", "days"),
    [(0.3, 3, 1e-5, 25.00 / 24), (0.35, 2, 1e-6, 8.102), (0.4, 3, 1e-7, 138.9)],
)
def test_travel_time(pores: float, distance: float, permeability: float, days: float) -> None:
    assert travel_time(distance, permeability, pores) == pytest.approx(days, rel=CLOSE)


@pytest.mark.parametrize(
    ("distance", "diffusivity", "hours"), [(3, 1e-3, 0.6250), (10, 1e-4, 69.44)]
)
def test_pressure_time(distance: float, diffusivity: float, hours: float) -> None:
    assert pressure_time(distance, diffusivity) == pytest.approx(hours, rel=CLOSE)


@pytest.mark.parametrize(
    ("distance", "storage", "share", "lag"),
    [(100, 1e-4, 0.7672, 0.5240), (20, 0.1, 0.1870, 3.314), (50, 0.1, 0.01513, 8.285)],
)
def test_tide(distance: float, storage: float, share: float, lag: float) -> None:
    assert tide_share(distance, storage, 1e-3) == pytest.approx(share, rel=CLOSE)
    assert tide_lag(distance, storage, 1e-3) == pytest.approx(lag, rel=CLOSE)
