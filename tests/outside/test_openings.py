"""Holes and gaps: check values of the facts on water, section 5, computed there.

Status of what they rest on: orifice, pipe friction and tube laws textbook, from memory; head
exponents verified (AQUA 66-5, 2017).
"""

import numpy as np
import pytest

from advisor.water.crack_width import head_exponent
from advisor.water.liquid import kinematic_viscosity
from advisor.water.opening import SHARP_EDGE, hole_flow, orifice_flow, round_gap_flow, tube_flow

CLOSE, WITH_VISCOSITY = 1e-3, 5e-3


@pytest.mark.parametrize(
    ("diameter", "head", "discharge", "a_minute"),
    [(3, 3, SHARP_EDGE, 1.984), (6, 2, SHARP_EDGE, 6.481), (10, 4, 0.8, 33.39)],
)
def test_sharp_hole(diameter: float, head: float, discharge: float, a_minute: float) -> None:
    assert orifice_flow(diameter, head, discharge) == pytest.approx(60 * a_minute, rel=CLOSE)


# The same in L/h, to four figures.
@pytest.mark.parametrize(("diameter", "head", "flow"), [(3, 3, 119.1), (6, 2, 388.9)])
def test_sharp_hole_in_an_hour(diameter: float, head: float, flow: float) -> None:
    assert orifice_flow(diameter, head) == pytest.approx(flow, rel=CLOSE)


@pytest.mark.parametrize(("diameter", "flow"), [(1, 5.898), (3, 88.72), (12, 2192)])
def test_hole_through_a_wall(diameter: float, flow: float) -> None:
    assert hole_flow(diameter, 3, 0.3, 10) == pytest.approx(flow, rel=WITH_VISCOSITY)


@pytest.mark.parametrize(
    ("diameter", "flow", "reynolds"), [(0.5, 0.4146, 224.5), (1.0, 6.633, 1796)]
)
def test_thin_tube(diameter: float, flow: float, reynolds: float) -> None:
    found = tube_flow(diameter, 3, 0.3, 10)
    assert found == pytest.approx(flow, rel=WITH_VISCOSITY)
    wetted = np.pi * diameter / 1000 * kinematic_viscosity(10) * 1e-6
    assert 4 * found / 3.6e6 / wetted == pytest.approx(reynolds, rel=WITH_VISCOSITY)


@pytest.mark.parametrize(
    ("diameter", "width", "share", "flow"),
    [(110, 0.2, 1, 62.26), (110, 0.2, 0.25, 15.57), (16, 0.1, 1, 1.132), (16, 0.1, 0.25, 0.2830)],
)
def test_gap_round_a_pipe_or_a_tie(
    diameter: float, width: float, share: float, flow: float
) -> None:
    found = round_gap_flow(diameter, width, 3 / 0.3, 10, share)
    assert found == pytest.approx(flow, rel=WITH_VISCOSITY)


@pytest.mark.parametrize(("later", "exponent"), [(15, 1.000), (12.25, 0.5005), (18.40, 1.504)])
def test_head_exponent(later: float, exponent: float) -> None:
    assert head_exponent(10, later, 2, 3) == pytest.approx(exponent, rel=CLOSE)
