from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.terms import Unit, all_units, convert, unit_named, units_of

UNITS = st.sampled_from(all_units())


def unit(name: str) -> Unit:
    found = unit_named(name)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("written", "symbol"),
    [
        ("um", "µm"), ("μm", "µm"), ("microns", "µm"), ("MM", "mm"), ("inches", "in"),
        ('"', "in"), ("feet", "ft"), ("mils", "mil"), ("m²", "m2"), ("m^2", "m2"),
        ("sq m", "m2"), ("litres", "L"), ("US gal", "gal"), ("l/h", "L/h"),
        ("Litres per Hour", "L/h"), ("L / hr", "L/h"), ("litre a day", "L/d"),
        ("drops per minute", "drops/min"), ("drop/min", "drops/min"), ("gpm", "gal/min"),
        ("C", "°C"), ("deg C", "°C"), ("degC", "°C"), ("º C", "°C"), ("F", "°F"),
        ("kelvin", "K"), ("m head", "m head"), ("mH2O", "m head"), ("percent", "%"),
        ("ppm", "mg/L"), ("uS/cm", "µS/cm"), ("μS/cm", "µS/cm"), ("d", "days"),
        ("hrs", "h"), ("week", "weeks"), ("yr", "years"), ("L/m²/d", "L/m2/d"),
        ("kg/m³", "kg/m3"), ("lbs", "lb"), ("PH", "pH"),
    ],
)  # fmt: skip
def test_spellings_of_the_site(written: str, symbol: str) -> None:
    assert unit(written).symbol == symbol


@given(st.text(max_size=20))
def test_any_text_is_a_unit_or_none(written: str) -> None:
    found = unit_named(written)
    assert found is None or found in all_units()


def test_every_symbol_names_its_own_unit() -> None:
    assert [unit(each.symbol) for each in all_units()] == list(all_units())


@pytest.mark.parametrize("written", ["", "/", "mmm", "drops", "L/fortnight"])
def test_what_is_no_unit(written: str) -> None:
    assert unit_named(written) is None


@given(UNITS, st.fractions(min_value=0, max_value=1000))
def test_there_and_back_is_exact(of: Unit, value: Fraction) -> None:
    for to in units_of(of.dimension):
        low, high = convert(value, of, to)
        assert low <= high
        if of.factor == of.high and to.factor == to.high:
            assert low == high
            assert convert(low, to, of) == (value, value)


@pytest.mark.parametrize(
    ("value", "of", "to", "result"),
    [
        ("30", "cm", "m", Fraction(3, 10)),
        ("1", "in", "mm", Fraction(254, 10)),
        ("32", "°F", "°C", Fraction(0)),
        ("-40", "°C", "°F", Fraction(-40)),
        ("1", "months", "days", Fraction("30.4375")),
        ("12", "months", "years", Fraction(1)),
        ("1", "gal", "L", Fraction("3.785411784")),
        ("1", "m head", "kPa", Fraction("9.80665")),
    ],
)
def test_figures(value: str, of: str, to: str, result: Fraction) -> None:
    assert convert(Fraction(value), unit(of), unit(to)) == (result, result)


def test_drops_are_a_range_but_not_against_themselves() -> None:
    low, high = convert(Fraction(40), unit("drops/min"), unit("L/h"))
    assert (float(low), float(high)) == (0.12, 0.6)
    low, high = convert(Fraction("0.6"), unit("L/h"), unit("drops/min"))
    assert (float(low), float(high)) == (40, 200)
    drops = unit("drops/min")
    assert convert(Fraction(7), drops, drops) == (Fraction(7), Fraction(7))


def test_dimensions_do_not_mix() -> None:
    with pytest.raises(ValueError, match="mm is no flow"):
        convert(Fraction(1), unit("mm"), unit("L/h"))
    with pytest.raises(ValueError, match="K is no temperature"):
        convert(Fraction(1), unit("K"), unit("°C"))
