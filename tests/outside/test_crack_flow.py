"""Cracks: check values of the facts on water, sections 1 and 2, and 4.3 where a crack stands.

All computed there. Status of what they rest on: cubic law textbook, from memory; constant 740
from memory (Edvardsen 1996, 1999); share 0.52 verified (abstract, Lahmann, Edvardsen and Keßler
2024); times of healing verified (Concrete Society).
"""

import numpy as np
import pytest

from advisor.water import FORMULAS
from advisor.water.crack import LAMINAR, REDUCTION, crack_flow, reynolds, wall_crack_flow
from advisor.water.crack_width import (
    hydraulic_width,
    mean_width_along,
    mean_width_through,
    spread_factor,
)
from advisor.water.healing import flow_at_20, healing_time, width_left
from advisor.water.numbers import floats
from advisor.water.pressure import gradient, gradient_down

CLOSE, WITH_VISCOSITY = 1e-3, 5e-3
EDVARDSEN = 740 / 2932.0
"""Her constant over that of smooth plates at 20 °C: the share that her cracks passed."""


# Section 1.1: water 3, 5 and 4 m over the place.
@pytest.mark.parametrize(
    ("width", "head", "thickness", "temperature", "share", "flow"),
    [
        (0.20, 3, 300, 20, 1.0, 234.6),
        (0.20, 3, 300, 20, 0.52, 122.0),
        (0.20, 3, 300, 20, EDVARDSEN, 59.20),
        (0.10, 5, 250, 10, 1.0, 45.04),
        (0.10, 5, 250, 10, 0.52, 23.42),
        (0.10, 5, 250, 10, EDVARDSEN, 11.37),
        (0.15, 4, 300, 12, 1.0, 107.2),
        (0.15, 4, 300, 12, EDVARDSEN, 27.06),
    ],
)
def test_flow(
    *, width: float, head: float, thickness: float, temperature: float, share: float, flow: float
) -> None:
    found = crack_flow(width, gradient(head, thickness), temperature, share)
    assert found == pytest.approx(flow, rel=WITH_VISCOSITY)


# Section 1.1, the same in L a day, to four figures.
@pytest.mark.parametrize(
    ("width", "steep", "temperature", "a_day"),
    [(0.20, 10, 20, 1421), (0.10, 20, 10, 272.8), (0.15, 40 / 3, 12, 649.5)],
)
def test_flow_of_a_day(width: float, steep: float, temperature: float, a_day: float) -> None:
    flow = crack_flow(width, steep, temperature, EDVARDSEN)
    assert 24 * flow == pytest.approx(a_day, rel=WITH_VISCOSITY)


# Section 1.1: Reynolds numbers.
@pytest.mark.parametrize(
    ("flow", "temperature", "number"), [(59.20, 20, 32.78), (11.37, 10, 4.835), (925.0, 20, 512.1)]
)
def test_reynolds_number(flow: float, temperature: float, number: float) -> None:
    assert reynolds(flow, temperature) == pytest.approx(number, rel=WITH_VISCOSITY)


def limits_not_kept(width: float) -> list[str]:
    """At a gradient of 10 (3 m, 300 mm) and 20 °C, with the likely share."""
    inputs = (width, 3.0, 300.0, 20.0)
    return [check.key for check in FORMULAS["crack-flow"].failing(*map(floats, inputs))]


# Section 1.1, guard: 0.5 mm gives 925.0 L/h and the law is doubtful; 1.0 mm, 4097, is refused.
def test_where_the_law_is_doubtful_and_where_it_is_refused() -> None:
    assert crack_flow(0.5, 10, 20, EDVARDSEN) == pytest.approx(925.0, rel=WITH_VISCOSITY)
    assert limits_not_kept(0.5) == ["rough-flow"]
    assert 8 * reynolds(925.0, 20) == pytest.approx(4097, rel=WITH_VISCOSITY)
    assert 8 * reynolds(925.0, 20) > LAMINAR
    assert np.isnan(crack_flow(1.0, 10, 20, EDVARDSEN))
    assert limits_not_kept(1.0) == ["too-fast-for-the-law"]
    assert limits_not_kept(0.2) == []


# Section 1.1: the band, 0.20 mm at a gradient of 10 and 10 °C.
@pytest.mark.parametrize(
    ("share", "flow"), [(0.01, 1.802), (0.1, 18.02), (0.25, 45.04), (0.52, 93.69), (1, 180.2)]
)
def test_band(share: float, flow: float) -> None:
    assert crack_flow(0.20, 10, 10, share) == pytest.approx(flow, rel=WITH_VISCOSITY)


def test_the_band_that_is_used() -> None:
    """Section 1.1, recommended: 0.1 to 0.52 with the centre 0.25."""
    assert (REDUCTION.low, REDUCTION.likely, REDUCTION.high) == (0.1, 0.25, 0.52)
    point = [floats([x]) for x in (0.20, 3.0, 300.0, 10.0)]
    low, high = FORMULAS["crack-flow"](tuple((x, np.nextafter(x, np.inf)) for x in point))
    assert low == pytest.approx(18.02, rel=WITH_VISCOSITY)
    assert FORMULAS["crack-flow"].likely(*point) == pytest.approx(45.04, rel=WITH_VISCOSITY)
    assert high == pytest.approx(93.69, rel=WITH_VISCOSITY)


def test_the_constant_of_1996_beside_the_proposal_of_2024() -> None:
    """Section 1.2."""
    assert pytest.approx(0.2524, rel=CLOSE) == EDVARDSEN
    ratio = crack_flow(0.1, 10, 20, 0.52) / crack_flow(0.1, 10, 20, EDVARDSEN)
    assert ratio == pytest.approx(2.060, rel=CLOSE)


def test_a_season_alone() -> None:
    """Section 1.2: 31 % less at 5 °C than at 18 °C, and that is no healing."""
    winter, summer = crack_flow(0.1, 10, 5), crack_flow(0.1, 10, 18)
    assert winter / summer == pytest.approx(0.6943, rel=WITH_VISCOSITY)
    assert flow_at_20(winter, 5) == pytest.approx(flow_at_20(summer, 18), rel=CLOSE)


# Section 1.3.
@pytest.mark.parametrize(
    ("flow", "length", "steep", "temperature", "share", "width"),
    [
        (2.0, 1.5, 4 / 0.3, 12, 1.0, 0.03475),
        (2.0, 1.5, 4 / 0.3, 12, 0.52, 0.04321),
        (2.0, 1.5, 4 / 0.3, 12, 0.25, 0.05516),
        (2.0, 1.5, 4 / 0.3, 12, 0.10, 0.07487),
        (0.09, 1.0, 10, 10, 1.0, 0.01587),
        (0.09, 1.0, 10, 10, 0.25, 0.02519),
        (0.09, 1.0, 10, 10, 0.10, 0.03419),
        (30.0, 3.0, 10, 20, 1.0, 0.06987),
        (30.0, 3.0, 10, 20, 0.25, 0.1109),
        (30.0, 3.0, 10, 20, 0.10, 0.1505),
        # Section 4.3: the widest crack whose water dries off as it comes.
        (6.25e-3, 1.0, 10, 10, 0.25, 0.01035),
        (1 / 24, 1.0, 10, 10, 0.25, 0.01949),
    ],
)
def test_hydraulic_width(
    *, flow: float, length: float, steep: float, temperature: float, share: float, width: float
) -> None:
    found = hydraulic_width(flow / length, steep, temperature, share)
    assert found == pytest.approx(width, rel=WITH_VISCOSITY)


# Section 1.4.
def test_widths_along_a_crack() -> None:
    widths = np.array([0.05, 0.10, 0.15, 0.20, 0.30])
    along = mean_width_along(widths)
    assert along == pytest.approx(0.1992, rel=CLOSE)
    more = crack_flow(along, 10, 10) / crack_flow(np.mean(widths), 10, 10)
    assert more == pytest.approx(1.929, rel=CLOSE)
    flows = crack_flow(widths, 10, 10)
    assert flows[-1] / flows.sum() == pytest.approx(0.6835, rel=CLOSE)


@pytest.mark.parametrize(
    ("widths", "width"), [((0.30, 0.20, 0.10), 0.1372), ((0.10, 0.20), 0.1211)]
)
def test_widths_through_a_wall(widths: tuple[float, ...], width: float) -> None:
    assert mean_width_through(widths) == pytest.approx(width, rel=CLOSE)


@pytest.mark.parametrize(("variation", "factor"), [(0.2, 1.125), (0.4, 1.561)])
def test_log_normal_widths(variation: float, factor: float) -> None:
    assert spread_factor(variation) == pytest.approx(factor, rel=CLOSE)


def test_log_normal_widths_by_drawing_them() -> None:
    """No check value: the same from 4 million widths drawn with numpy."""
    sigma = np.sqrt(np.log(1 + 0.4**2))
    widths = np.random.default_rng(1).lognormal(0.0, sigma, 4_000_000)
    assert np.mean(widths**3) / np.mean(widths) ** 3 == pytest.approx(spread_factor(0.4), rel=0.01)


@pytest.mark.parametrize(
    ("width", "height", "thickness", "flow"), [(0.20, 3, 0.3, 67.57), (0.10, 4, 0.25, 18.02)]
)
def test_crack_in_a_wall(width: float, height: float, thickness: float, flow: float) -> None:
    found = wall_crack_flow(width, height, thickness, 10, 0.25)
    assert found == pytest.approx(flow, rel=WITH_VISCOSITY)


@pytest.mark.parametrize(
    ("width", "pond", "thickness", "steep", "flow"),
    [(0.20, 0.10, 200, 1.500, 8.796), (0.30, 0.05, 150, 1.333, 26.39)],
)
def test_soffit(width: float, pond: float, thickness: float, steep: float, flow: float) -> None:
    found = gradient_down(pond, thickness)
    assert found == pytest.approx(steep, rel=CLOSE)
    assert crack_flow(width, found, 20, 0.25) == pytest.approx(flow, rel=WITH_VISCOSITY)


@pytest.mark.parametrize(
    ("width", "head", "thickness", "temperature", "steep", "likely", "most"),
    [(0.15, 1.8, 250, 10, 7.200, 13.68, 28.46), (0.3, 0.6, 200, 12, 3.000, 48.25, 100.4)],
)
def test_base_slab(
    *,
    width: float,
    head: float,
    thickness: float,
    temperature: float,
    steep: float,
    likely: float,
    most: float,
) -> None:
    found = gradient(head, thickness)
    assert found == pytest.approx(steep, rel=CLOSE)
    flows = crack_flow(width, found, temperature, np.array([0.25, 0.52]))
    assert flows == pytest.approx([likely, most], rel=WITH_VISCOSITY)


@pytest.mark.parametrize(
    ("wide", "narrow", "ratio"),
    [(0.25, 0.15, 4.630), (0.22, 0.18, 1.826), (0.25, 0.20, 1.953), (0.30, 0.20, 3.375)],
)
def test_what_a_misread_width_does(wide: float, narrow: float, ratio: float) -> None:
    found = crack_flow(wide, 5, 10) / crack_flow(narrow, 5, 10)
    assert found == pytest.approx(ratio, rel=CLOSE)


# Section 2.1: cracks as wide as EN 1992-3 allows (verified: open calculator source).
@pytest.mark.parametrize(
    ("width", "steep", "flow"), [(0.1750, 10, 39.66), (0.1250, 20, 28.91), (0.0750, 30, 9.366)]
)
def test_flow_before_healing(width: float, steep: float, flow: float) -> None:
    assert crack_flow(width, steep, 20, EDVARDSEN) == pytest.approx(flow, rel=WITH_VISCOSITY)


# Section 2.2: verified, Concrete Society, after BS 8007.
@pytest.mark.parametrize(("width", "days"), [(0.1, 14), (0.2, 28)])
def test_time_of_healing(width: float, days: float) -> None:
    assert healing_time(width) == days


# Section 2.2, computed there.
@pytest.mark.parametrize(("flow", "width"), [(0.10, 0.4642), (0.50, 0.7937)])
def test_width_that_is_left(flow: float, width: float) -> None:
    assert width_left(flow) == pytest.approx(width, rel=CLOSE)
