"""Water through and up the pores: check values of the facts on water, sections 4.1 and 4.2.

All computed there. Status of what they rest on stands beside each.
"""

import numpy as np
import pytest

from advisor.water import FORMULAS
from advisor.water.numbers import floats
from advisor.water.pores import (
    SOUND,
    SUCTION,
    capillary_rise,
    drawn_in,
    permeability_of_test,
    rising_damp,
    seepage,
    zone_flow,
)

CLOSE, WITH_VISCOSITY = 1e-3, 5e-3


# Darcy, textbook; permeability of sound concrete verified (civilengineeringx.com), the rest of
# them from memory.
@pytest.mark.parametrize(
    ("permeability", "steep", "millilitres"),
    [(1e-12, 10, 0.8640), (1e-11, 20, 17.28), (1e-10, 10, 86.40)],
)
def test_seepage(permeability: float, steep: float, millilitres: float) -> None:
    assert 1000 * seepage(permeability, steep) == pytest.approx(millilitres, rel=CLOSE)


def test_the_most_that_sound_concrete_lets_through() -> None:
    """The first of them as knowledge files get it."""
    assert SOUND.high == 1e-12
    steep = floats([10.0])
    _, high = FORMULAS["sound-concrete-seepage"](((steep, np.nextafter(steep, np.inf)),))
    assert high == pytest.approx(0.8640, rel=CLOSE)


# Permeability of honeycomb: common practice, no source.
@pytest.mark.parametrize(
    ("permeability", "area", "flow"), [(1e-6, 0.01, 0.7200), (1e-5, 0.04, 28.80)]
)
def test_honeycomb(permeability: float, area: float, flow: float) -> None:
    assert zone_flow(permeability, area, 20) == pytest.approx(flow, rel=CLOSE)


# Valenta, from memory. 5 bar are 50.99 m.
@pytest.mark.parametrize(
    ("depth", "pores", "permeability"), [(25, 0.10, 2.365e-12), (50, 0.12, 1.135e-11)]
)
def test_depth_under_pressure(depth: float, pores: float, permeability: float) -> None:
    found = permeability_of_test(depth, pores, 50.99, 72)
    assert found == pytest.approx(permeability, rel=CLOSE)


# Neville 1996, verified as quoted; the law verified (NIST page on capillary transport).
@pytest.mark.parametrize(("suction", "amount"), [(SUCTION.low, 3.415), (SUCTION.high, 6.451)])
def test_drawn_in_within_a_day(suction: float, amount: float) -> None:
    assert drawn_in(suction, 24) == pytest.approx(amount, rel=CLOSE)


# The first is the published example of Hall and Hoff, Proc. R. Soc. (verified: summary).
@pytest.mark.parametrize(
    ("suction", "thickness", "evaporation", "moisture", "height"),
    [(1.0, 500, 0.001, 0.2, 1118), (0.2, 300, 0.0005, 0.1, 346.4)],
)
def test_rising_damp(
    suction: float, thickness: float, evaporation: float, moisture: float, height: float
) -> None:
    found = rising_damp(suction, thickness, evaporation, moisture)
    assert found == pytest.approx(height, rel=CLOSE)


# Textbook, from memory.
@pytest.mark.parametrize(("width", "height"), [(0.05, 0.2975), (0.10, 0.1488), (0.30, 0.04959)])
def test_climb_in_a_crack(width: float, height: float) -> None:
    assert capillary_rise(width, 20) == pytest.approx(height, rel=WITH_VISCOSITY)
