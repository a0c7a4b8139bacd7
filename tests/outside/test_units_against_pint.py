"""Our unit table against the general units library Pint (https://pint.readthedocs.io), and
drops against the published drop volumes kept in the facts on water, section 8.2."""

from fractions import Fraction

import pint
import pytest

from advisor.terms import Unit, all_units, convert, read_quantity, unit_named

REGISTRY = pint.UnitRegistry()

# Our symbol -> Pint's, where Pint does not read ours.
PINT = {
    "µm": "micrometer", "mil": "thou", "in": "inch", "ft": "foot", "gal": "US_liquid_gallon",
    "°C": "degree_Celsius", "°F": "degree_Fahrenheit", "m head": "meter_H2O",
    "ft head": "foot_H2O", "%": "percent", "µS/cm": "microsiemens/centimeter",
    "mS/cm": "millisiemens/centimeter", "days": "day", "weeks": "week", "months": "month",
    "years": "year", "K": "kelvin", "t": "metric_ton", "count": "", "ratio": "",
    "h": "hour", "d": "day", "min": "minute",
}  # fmt: skip
# Pint has no such unit: acidity is a scale of its own, a drop is a range.
WITHOUT = {"pH", "drops/min"}


def pints(unit: Unit) -> str:
    if unit.symbol in PINT:
        return PINT[unit.symbol]
    parts = unit.symbol.split("/")
    spelt = [PINT.get(p, p[:-1] + "**" + p[-1] if p[-1] in "23" else p) for p in parts]
    return "/".join(part.replace("in**", "inch**").replace("ft**", "foot**") for part in spelt)


CHECKED = [unit for unit in all_units() if unit.symbol not in WITHOUT]


@pytest.mark.parametrize("unit", CHECKED, ids=lambda unit: unit.symbol)
@pytest.mark.parametrize("value", [1, 37.5])
def test_every_unit(unit: Unit, value: float) -> None:
    """Each unit to each other of its dimension; water heads differ by rounding in Pint."""
    for to in CHECKED:
        if to.dimension != unit.dimension:
            continue
        low, high = convert(Fraction(value), unit, to)
        theirs = REGISTRY.Quantity(value, pints(unit)).to(pints(to)).magnitude
        assert low == high
        assert float(low) == pytest.approx(theirs, rel=1e-12)


# n drops/min at 0.05 and 0.25 mL: L/h = n V 0.06, L/d = n V 1.44 (facts on water, 8.2).
@pytest.mark.parametrize(
    ("written", "unit", "low", "high"),
    [
        ("30 drops/min", "L/h", 0.09, 0.45),
        ("30 drops/min", "L/d", 2.16, 10.8),
        ("5 drops/min", "L/d", 0.36, 1.8),
        ("60 drops/min", "L/d", 4.32, 21.6),
        ("5 L/d", "drops/min", 13.89, 69.44),
    ],
)
def test_drops(written: str, unit: str, low: float, high: float) -> None:
    read = read_quantity(written, unit, lowest=0)
    assert (read.lo, read.hi) == pytest.approx((low, high), rel=1e-3)


def test_the_table_names_each_unit_once() -> None:
    assert all(unit_named(unit.symbol) == unit for unit in all_units())
