"""The dew point against the psychrometric library PsychroLib, which follows the ASHRAE Handbook
of Fundamentals, and against a printed table of dew points."""

import numpy as np
import psychrolib
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from advisor.water import dew_margin, dew_point

psychrolib.SetUnitSystem(psychrolib.SI)

# Where rooms and tunnels are, both formulas describe the same vapour over water. Below 0 °C
# PsychroLib goes over to ice, which this formula leaves out on purpose.
CLOSE = 0.1  # K


@pytest.mark.parametrize("air", [2, 5, 8, 12, 15, 18, 20, 22, 25, 28, 30, 35, 40])
def test_agrees_with_psychrolib(air: float) -> None:
    compared = 0
    for humidity in range(10, 101, 5):
        theirs = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
        if theirs < 0:
            continue
        ours = float(dew_point(np.array([air]), np.array([humidity]))[0])
        assert ours == pytest.approx(theirs, abs=CLOSE)
        compared += 1
    assert compared >= 3


# Computed with the constants of the World Meteorological Organization, from the facts on causes.
@pytest.mark.parametrize(
    ("air", "humidity", "expected"),
    [
        (20, 50, 9.3),
        (20, 60, 12.0),
        (20, 70, 14.4),
        (20, 80, 16.4),
        (15, 70, 9.6),
        (25, 50, 13.9),
        (25, 60, 16.7),
        (25, 70, 19.1),
        (30, 80, 26.2),
    ],
)
def test_printed_table(air: float, humidity: float, expected: float) -> None:
    assert dew_point(np.array([air]), np.array([humidity]))[0] == pytest.approx(expected, abs=0.05)


def test_saturated_air_is_at_its_dew_point() -> None:
    air = np.linspace(-40, 60, 101)
    np.testing.assert_allclose(dew_point(air, np.full_like(air, 100)), air, atol=1e-9)


@pytest.mark.parametrize(
    ("air", "humidity"), [(-45.1, 50), (60.1, 50), (20, 0), (20, -1), (20, 100.1)]
)
def test_outside_its_validity_nothing_is_known(air: float, humidity: float) -> None:
    assert np.isnan(dew_point(np.array([air]), np.array([humidity]))[0])


def interval(low: float, high: float) -> st.SearchStrategy[tuple[float, float]]:
    """Ranges lo <= x < hi, single values among them."""
    ends = st.tuples(st.floats(low, high), st.floats(low, high)).map(sorted)
    return ends.map(lambda pair: (pair[0], float(np.nextafter(pair[1], np.inf))))


def inside(ends: tuple[float, float], part: float) -> float:
    """A point of the range; part: from 0 to 1."""
    last = float(np.nextafter(ends[1], -np.inf))
    return min(max(ends[0] + part * (last - ends[0]), ends[0]), last)


@example(
    surface=(14.0, float(np.nextafter(14.0, np.inf))),
    air=(20.0, float(np.nextafter(20.0, np.inf))),
    humidity=(60.0, float(np.nextafter(60.0, np.inf))),
    parts=(0.0, 0.0, 0.0),
)
@given(
    surface=interval(-40, 80),
    air=interval(-45, 60),
    humidity=interval(1, 100),
    parts=st.tuples(*[st.floats(0, 1)] * 3),
)
def test_a_range_holds_every_point_result(
    surface: tuple[float, float],
    air: tuple[float, float],
    humidity: tuple[float, float],
    parts: tuple[float, float, float],
) -> None:
    lowest, highest = dew_margin(
        *(tuple(np.array([end]) for end in ends) for ends in (surface, air, humidity))
    )
    t, a, h = (inside(e, p) for e, p in zip((surface, air, humidity), parts, strict=True))
    margin = t - float(dew_point(np.array([a]), np.array([h]))[0])
    # A point in the middle may round by one step more than the ends do.
    step = 1e-9
    assert lowest[0] - step <= margin < highest[0] + step


def test_a_single_value_gives_a_single_margin() -> None:
    points = [np.array([x]) for x in (14.0, 20.0, 60.0)]
    lowest, highest = dew_margin(*((x, np.nextafter(x, np.inf)) for x in points))
    assert highest[0] - lowest[0] < 1e-12
    assert lowest[0] == pytest.approx(2.0, abs=0.05)
