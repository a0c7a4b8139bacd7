"""Doses against hand sums. The facts on water hold no check values for them: the figures are
invented, the tolerances are those named from memory in `dosing.py`."""

import pytest

from advisor.water.dosing import (
    TOLERANCES,
    beyond_tolerance,
    dose_deviation,
    out_of_tolerance,
    required_dose,
    required_dose_by_volume,
)


def test_required_dose() -> None:
    assert required_dose(7.5, 320, 1.0) == pytest.approx(24.0, rel=1e-12)
    assert required_dose_by_volume(7.5, 3.2) == pytest.approx(24.0, rel=1e-12)


@pytest.mark.parametrize(
    ("recorded", "off", "beyond_european", "beyond_american"),
    [
        (24.0, 0.0, 0.0, 0.0),
        (22.8, -5.0, 0.0, -2.0),
        (23.28, -3.0, 0.0, 0.0),
        (25.2, 5.0, 0.0, 2.0),
        (12.0, -50.0, -45.0, -47.0),
        (0.0, -100.0, -95.0, -97.0),
        (48.0, 100.0, 95.0, 97.0),
    ],
)
def test_tolerances(
    recorded: float, off: float, beyond_european: float, beyond_american: float
) -> None:
    assert dose_deviation(recorded, 24.0) == pytest.approx(off, abs=1e-9)
    expected = {"EN 206": beyond_european, "ASTM C94": beyond_american}
    for name, beyond in expected.items():
        low, high, _, status = TOLERANCES[name]
        assert status == "from memory"
        assert beyond_tolerance(recorded, 24.0, low, high) == pytest.approx(beyond, abs=1e-9)
        assert out_of_tolerance(recorded, 24.0, low, high) == float(beyond != 0)
