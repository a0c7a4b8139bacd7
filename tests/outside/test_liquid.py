"""Liquid water against two libraries, and against the table of the facts on water, section 0.

Libraries: iapws (IAPWS-97, the industrial formulation) and CoolProp. Status of the table:
computed there from both, which agree to five digits.
"""

import iapws
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from advisor.water.crack import crack_flow
from advisor.water.healing import flow_at_20
from advisor.water.liquid import (
    density,
    kinematic_viscosity,
    slot_constant,
    surface_tension,
    viscosity,
)

CLOSE, WITH_VISCOSITY = 1e-3, 5e-3
OF_TENSION = 2e-3
"""CoolProp has a fit of its own for the surface tension, which lies up to 0.12 % above the release
of IAPWS that this follows (0.07282 and 0.07274 N/m at 20 °C). Hence more than 0.1 %."""

ATMOSPHERE = 101_325.0
GRID = np.array([0.02, *range(2, 61, 2)])
"""°C."""


@pytest.mark.parametrize("temperature", GRID)
def test_agrees_with_iapws_97(temperature: float) -> None:
    theirs = iapws.IAPWS97(T=temperature + 273.15, P=ATMOSPHERE / 1e6)
    assert density(temperature) == pytest.approx(theirs.rho, rel=1e-4)
    assert viscosity(temperature) == pytest.approx(theirs.mu * 1e3, rel=CLOSE)
    assert kinematic_viscosity(temperature) == pytest.approx(theirs.nu * 1e6, rel=CLOSE)
    assert surface_tension(temperature) == pytest.approx(theirs.sigma, rel=1e-6)


@pytest.mark.parametrize("temperature", GRID)
def test_agrees_with_coolprop(temperature: float) -> None:
    state = ("T", temperature + 273.15, "P", ATMOSPHERE, "Water")
    assert density(temperature) == pytest.approx(PropsSI("D", *state), rel=1e-4)
    assert viscosity(temperature) == pytest.approx(PropsSI("V", *state) * 1e3, rel=CLOSE)
    boiling = ("T", temperature + 273.15, "Q", 0, "Water")
    assert surface_tension(temperature) == pytest.approx(PropsSI("I", *boiling), rel=OF_TENSION)


@pytest.mark.parametrize(
    ("temperature", "heavy", "thick", "kinematic", "constant", "beside_20"),
    [
        (5, 999.97, 1.5182, 1.5182, 1937.8, 0.6609),
        (8, 999.85, 1.3847, 1.3849, 2124.3, 0.7245),
        (10, 999.70, 1.3059, 1.3063, 2252.2, 0.7681),
        (12, 999.50, 1.2340, 1.2347, 2382.8, 0.8127),
        (15, 999.10, 1.1376, 1.1386, 2583.9, 0.8813),
        (20, 998.21, 1.0016, 1.0034, 2932.0, 1.0000),
        (25, 997.05, 0.8900, 0.8927, 3295.8, 1.1241),
        (30, 995.65, 0.7972, 0.8007, 3674.3, 1.2531),
    ],
)
def test_table_of_the_facts(
    *,
    temperature: float,
    heavy: float,
    thick: float,
    kinematic: float,
    constant: float,
    beside_20: float,
) -> None:
    assert density(temperature) == pytest.approx(heavy, abs=0.01)
    assert viscosity(temperature) == pytest.approx(thick, rel=WITH_VISCOSITY)
    assert kinematic_viscosity(temperature) == pytest.approx(kinematic, rel=WITH_VISCOSITY)
    assert slot_constant(temperature) == pytest.approx(constant, rel=WITH_VISCOSITY)
    # A crack 1 mm wide at a gradient of 1 is the constant itself, times its reduction.
    assert crack_flow(1, 1, temperature, 0.25) == pytest.approx(constant / 4, rel=WITH_VISCOSITY)
    assert flow_at_20(beside_20, temperature) == pytest.approx(1, rel=WITH_VISCOSITY)


# Section 0, computed there with CoolProp.
@pytest.mark.parametrize(("temperature", "tension"), [(10, 0.07429), (20, 0.07282)])
def test_surface_tension_of_the_facts(temperature: float, tension: float) -> None:
    assert surface_tension(temperature) == pytest.approx(tension, rel=OF_TENSION)
