"""Units as people write them on site, and exact conversion between them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from advisor.terms.problem import nearest

# How much water is in a drop: laboratory drops 0.05 mL (20 a mL, public teaching texts),
# tap drips 0.25 mL (USGS water science school, 15 140 drops a US gallon). The facts on
# water, section 8.2, hold both; nobody knows which, so a drop is a range.
DROP_ML = (Fraction("0.05"), Fraction("0.25"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """A unit. A value `v` is `v * factor + offset` in the base unit of its dimension.

    `high`: the factor of a unit that is itself a range goes from `factor` to `high`.
    `bare`: numbers are written without the unit. `one`: the symbol after exactly 1.
    """

    symbol: str
    dimension: str
    factor: Fraction
    high: Fraction
    offset: Fraction = Fraction(0)
    bare: bool = False
    one: str = ""


def unit_named(name: str) -> Unit | None:
    """The unit of a spelling, or None. Case, spaces, plurals and signs are forgiven."""
    return _by_spelling().get(_spelling(name))


def units_of(dimension: str) -> tuple[Unit, ...]:
    """All units of a dimension, in the order of the table."""
    return tuple(unit for unit in all_units() if unit.dimension == dimension)


def nearest_unit(name: str, dimension: str) -> str | None:
    """The symbol of this dimension closest to a spelling that fits nothing."""
    return nearest(name, [unit.symbol for unit in units_of(dimension)])


def convert(value: Fraction, unit: Unit, to: Unit) -> tuple[Fraction, Fraction]:
    """`value` of `unit` in `to`, exactly: lowest and highest it can be.

    The two differ only where one of the units is a range (drops).
    Raises ValueError when the dimensions differ.
    """
    if unit.dimension != to.dimension:
        raise ValueError(f"{unit.symbol} is no {to.dimension}")
    if unit == to:
        return value, value
    ends = (
        (value * unit.factor + unit.offset - to.offset) / to.high,
        (value * unit.high + unit.offset - to.offset) / to.factor,
    )
    return min(ends), max(ends)


_INCH = Fraction("0.0254")
_FOOT = 12 * _INCH
_YARD = 3 * _FOOT
_LITRE = Fraction(1, 1000)
_GALLON = 231 * _INCH**3
_POUND = Fraction("0.45359237")
_GRAVITY = Fraction("9.80665")
_MINUTE, _HOUR, _DAY = Fraction(60), Fraction(3600), Fraction(86400)
_MILLI, _MICRO, _ONE = Fraction(1, 1000), Fraction(1, 1_000_000), Fraction(1)

# Dimension -> symbol -> factor to the base unit, named first (it need not be listed).
_TABLE: dict[str, dict[str, Fraction]] = {
    # metre
    "length": {
        "mm": _MILLI,
        "cm": _ONE / 100,
        "m": _ONE,
        "µm": _MICRO,
        "in": _INCH,
        "ft": _FOOT,
        "mil": _INCH / 1000,
    },
    # square metre
    "area": {
        "m2": _ONE,
        "cm2": _ONE / 10_000,
        "mm2": _MICRO,
        "ft2": _FOOT**2,
        "in2": _INCH**2,
    },
    # cubic metre
    "volume": {"L": _LITRE, "mL": _MICRO, "m3": _ONE, "gal": _GALLON},
    # cubic metre a second
    "flow": {
        "L/h": _LITRE / _HOUR,
        "L/min": _LITRE / _MINUTE,
        "L/d": _LITRE / _DAY,
        "L/s": _LITRE,
        "mL/min": _MICRO / _MINUTE,
        "mL/h": _MICRO / _HOUR,
        "m3/h": _ONE / _HOUR,
        "m3/d": _ONE / _DAY,
        "gal/min": _GALLON / _MINUTE,
        "gal/h": _GALLON / _HOUR,
        "gal/d": _GALLON / _DAY,
        "drops/min": DROP_ML[0] * _MICRO / _MINUTE,
    },
    # square metre a second
    "flow per length": {"L/h/m": _LITRE / _HOUR, "L/d/m": _LITRE / _DAY, "mL/h/m": _MICRO / _HOUR},
    # metre
    "volume per area": {"L/m2": _MILLI, "mL/m2": _MICRO},
    # metre a second
    "flow per area": {
        "L/m2/d": _LITRE / _DAY,
        "L/m2/h": _LITRE / _HOUR,
        "mL/m2/d": _MICRO / _DAY,
        "gal/ft2/d": _GALLON / _FOOT**2 / _DAY,
    },
    # metre a second
    "speed": {
        "mm/h": _MILLI / _HOUR,
        "mm/d": _MILLI / _DAY,
        "m/s": _ONE,
        "in/h": _INCH / _HOUR,
        "in/d": _INCH / _DAY,
    },
    # kelvin; a temperature is a point on its scale, see _OFFSET
    "temperature": {"°C": _ONE, "°F": Fraction(5, 9)},
    # kelvin
    "temperature difference": {"K": _ONE},
    # pascal; a head is of water at 1000 kg/m3 under standard gravity
    "pressure": {
        "kPa": 1000 * _ONE,
        "Pa": _ONE,
        "MPa": 1_000_000 * _ONE,
        "mbar": 100 * _ONE,
        "bar": 100_000 * _ONE,
        "N/mm2": 1_000_000 * _ONE,
        "psi": _POUND * _GRAVITY / _INCH**2,
        "m head": 1000 * _GRAVITY,
        "ft head": 1000 * _GRAVITY * _FOOT,
    },
    "share": {"%": _ONE},
    # milligram a litre, in water
    "concentration": {"mg/L": _ONE, "g/L": 1000 * _ONE},
    # microsiemens a centimetre
    "conductivity": {"µS/cm": _ONE, "mS/cm": 1000 * _ONE},
    "acidity": {"pH": _ONE},
    # second
    "time": {
        "min": _MINUTE,
        "h": _HOUR,
        "days": _DAY,
        "weeks": 7 * _DAY,
        "months": Fraction("30.4375") * _DAY,
        "years": Fraction("365.25") * _DAY,
        "s": _ONE,
    },
    # kilogram a cubic metre
    "density": {
        "kg/m3": _ONE,
        "g/m3": _MILLI,
        "g/cm3": 1000 * _ONE,
        "kg/L": 1000 * _ONE,
        "lb/ft3": _POUND / _FOOT**3,
        "lb/yd3": _POUND / _YARD**3,
    },
    # kilogram a square metre
    "mass per area": {"kg/m2": _ONE, "g/m2": _MILLI, "lb/yd2": _POUND / _YARD**2},
    # kilogram
    "mass": {"kg": _ONE, "g": _MILLI, "mg": _MICRO, "t": 1000 * _ONE, "lb": _POUND},
    # kilonewton
    "force": {"kN": _ONE, "N": _MILLI},
    # degree
    "angle": {"deg": _ONE},
    # volt
    "voltage": {"mV": _MILLI, "V": _ONE},
    "number": {"count": _ONE},
    "proportion": {"ratio": _ONE},
}

_HIGH = {"drops/min": DROP_ML[1] * _MICRO / _MINUTE}
_OFFSET = {"°C": Fraction("273.15"), "°F": Fraction("459.67") * 5 / 9}
_BARE = {"pH", "count", "ratio"}
_SINGULAR = {
    "days": "day",
    "weeks": "week",
    "months": "month",
    "years": "year",
    "drops/min": "drop/min",
}

# Words of a spelling, after folding, that mean a word of a symbol.
_WORDS = {
    "l": "litre litres liter liters ltr",
    "ml": "millilitre millilitres milliliter milliliters cc",
    "gal": "gallon gallons gals usgal",
    "um": "micron microns micrometre micrometres micrometer micrometers",
    "mm": "millimetre millimetres millimeter millimeters",
    "cm": "centimetre centimetres centimeter centimeters",
    "m": "metre metres meter meters",
    "mil": "mils thou",
    "in": 'inch inches "',
    "ft": "foot feet '",
    "s": "second seconds sec secs",
    "min": "minute minutes mins",
    "h": "hour hours hr hrs",
    "d": "day days",
    "weeks": "week wk wks",
    "months": "month",
    "years": "year yr yrs",
    "drops": "drop drips drip",
    "kg": "kilogram kilograms",
    "g": "gram grams",
    "lb": "lbs pound pounds",
    "deg": "degree degrees",
    "degc": "c celsius degreesc degreescelsius",
    "degf": "f fahrenheit degreesf degreesfahrenheit",
    "k": "kelvin",
    "%": "percent percentage %rh %r.h",
    "m2": "sqm squaremetre squaremetres squaremeter squaremeters",
    "ft2": "sqft squarefoot squarefeet",
    "m3": "cubicmetre cubicmetres cubicmeter cubicmeters cum",
    "mhead": "mwater mh2o mwg mwc metreshead metershead",
    "fthead": "ftwater fth2o feethead",
    "mg/l": "ppm",
    "gal/min": "gpm",
    "gal/h": "gph",
    "gal/d": "gpd",
}
_SIGNS = str.maketrans({"µ": "u", "μ": "u", "²": "2", "³": "3", "^": None, "°": "deg", "º": "deg"})


@cache
def all_units() -> tuple[Unit, ...]:
    """The whole table."""
    return tuple(
        Unit(
            symbol=symbol,
            dimension=dimension,
            factor=factor,
            high=_HIGH.get(symbol, factor),
            offset=_OFFSET.get(symbol, Fraction(0)),
            bare=symbol in _BARE,
            one=_SINGULAR.get(symbol, symbol),
        )
        for dimension, units in _TABLE.items()
        for symbol, factor in units.items()
    )


@cache
def _by_spelling() -> dict[str, Unit]:
    return {_spelling(unit.symbol): unit for unit in all_units()}


@cache
def _words() -> dict[str, str]:
    return {word: symbol for symbol, words in _WORDS.items() for word in words.split()}


def _spelling(name: str) -> str:
    """One form for all spellings: `Litres per Hour` and `l / h` are both `l/h`."""
    folded = re.sub(r"\s+(?:per|a)\s+", "/", name.strip().translate(_SIGNS).lower())
    parts = re.sub(r"[\s.]+", "", folded).split("/")
    words = _words()
    spelt = "/".join(words.get(part, part) for part in parts)
    return words.get(spelt, spelt)
