import math
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.terms import Range, Unreadable, all_units, read_quantity, say_number, say_range

UNITS = st.sampled_from([unit.symbol for unit in all_units()])
SHORT = st.integers(0, 9999).map(lambda n: n / 1000)


def after(x: float) -> float:
    return math.nextafter(x, math.inf)


@pytest.mark.parametrize(
    ("written", "lo", "hi"),
    [
        ("0.3 mm", 0.3, after(0.3)),
        ("0,3mm", 0.3, after(0.3)),
        (".5 mm", 0.5, after(0.5)),
        ("0.2-0.3 mm", 0.2, 0.3),
        ("0.2 – 0.3 mm", 0.2, 0.3),
        ("0.2 to 0.3 mm", 0.2, 0.3),
        ("0.3-0.3 mm", 0.3, after(0.3)),
        ("5 mm to 1 cm", 5, 10),
        ("1/16 in", 1.5875, after(1.5875)),
        ("1 1/2 in", 38.1, after(38.1)),
        ("1/16-1/8 in", 1.5875, 3.175),
        ("12 mil", 0.3048, after(0.3048)),
        ("0 ft 2 1/2 in", 63.5, after(63.5)),
        ("0'2\"", 50.8, after(50.8)),
        ("under 0 feet 2 inches", 0, 50.8),
        ("0' 1\" - 0' 2\"", 25.4, 50.8),
        ("under 0.1 mm", 0, 0.1),
        ("< 0.1 mm", 0, 0.1),
        ("at most 0.1 mm", 0, after(0.1)),
        ("over 3 mm", after(3), after(100)),
        ("at least 3 mm", 3, after(100)),
        ("at least 100 mm", 100, after(100)),
        ("unknown", 0, after(100)),
        ("0 mm", 0, after(0)),
    ],
)
def test_forms(written: str, lo: float, hi: float) -> None:
    assert read_quantity(written, "mm", lowest=0, highest=100) == Range(lo, hi)


def test_exact_until_the_end() -> None:
    assert read_quantity("11 ft 6 in", "m") == Range.point(3.5052)
    assert read_quantity("30 cm", "m") == Range.point(0.3)
    assert read_quantity("68 °F", "°C") == Range.point(20)


def test_negative_numbers_where_they_can_be() -> None:
    for written in ("-5 to -2 °C", "-5--2 C", "−5 - −2 degC", "23 to 28.4 F"):
        assert read_quantity(written, "°C").lo == -5
    assert read_quantity("unknown", "°C") == Range(-math.inf, math.inf)


def test_drops_in_litres_are_a_range() -> None:
    assert read_quantity("40 drops/min", "L/h", lowest=0) == Range(0.12, 0.6)
    assert read_quantity("under 40 drops/min", "L/h", lowest=0) == Range(0, 0.6)
    assert read_quantity("over 40 drops/min", "L/h", lowest=0) == Range(after(0.12), math.inf)
    assert read_quantity("10-40 drops/min", "L/h", lowest=0) == Range(0.03, 0.6)
    assert read_quantity("40 drops/min", "drops/min") == Range.point(40)
    assert read_quantity("0 drops/min", "L/h", lowest=0) == Range.point(0)


def test_numbers_written_without_unit() -> None:
    assert read_quantity("3", "count") == Range.point(3)
    assert read_quantity("under 3", "count", lowest=0) == Range(0, 3)
    assert read_quantity("0.45-0.5", "ratio") == Range(0.45, 0.5)
    for written in ("11-12", "pH 11-12", "11-12 pH"):
        assert read_quantity(written, "pH") == Range(11, 12)


@pytest.mark.parametrize(
    ("written", "message", "expected", "nearest"),
    [
        ("", "does not start with a number", "such as 3 mm, 2-4 mm or under 3 mm", None),
        ("wide", "does not start with a number", "such as 3 mm", None),
        ("3", "the unit is missing", "a unit: mm, cm, m, µm, in, ft, mil", None),
        ("0.3 mmm", '"mmm" is no unit', "a unit: mm, cm, m, µm, in, ft, mil", "mm"),
        ("3 L/h", '"L/h" is a unit of flow, not of length', "a unit: mm", None),
        ("1,000.5 mm", '"1,000.5" is not one clear number', "a number without thousands", None),
        ("1,000 mm", '"1,000" is not one clear number', "a number without thousands", None),
        ("1 000 mm", '"1 000" is not one clear number', "a number without thousands", None),
        ("0.3-0.2 mm", "the larger number stands first", "the smaller number first", None),
        ("1/0 mm", "a fraction over 0", "such as", None),
        ("1 ft 1/0 in", "a fraction over 0", "such as", None),
        ("1e400 mm", '"1e400" is not one clear number', "a number without thousands", None),
        ("nan mm", "does not start with a number", "such as", None),
        ("inf mm", "does not start with a number", "such as", None),
        ("-1 mm", "-1 mm cannot be", "0-100 mm", None),
        ("1 m", "1000 mm cannot be", "0-100 mm", None),
        ("under 1 m", "1000 mm cannot be", "0-100 mm", None),
        ("under 0 mm", "nothing can be under 0 mm", '0 mm, without "under"', None),
        ("over 100 mm", "nothing can be over 100 mm", '100 mm, without "over"', None),
        ("under 2-3 mm", '"under" with two numbers', "such as", None),
        ("3 mm " + "x" * 60, "more than 64 characters", "such as", None),
        ("٣ mm", "does not start with a number", "such as", None),
    ],
)
def test_refusals(written: str, message: str, expected: str, nearest: str | None) -> None:
    with pytest.raises(Unreadable) as caught:
        read_quantity(written, "mm", lowest=0, highest=100)
    assert message in caught.value.message
    assert caught.value.expected.startswith(expected)
    assert caught.value.nearest == nearest


def test_one_sided_limits_are_named_with_the_unit() -> None:
    with pytest.raises(Unreadable) as low:
        read_quantity("-300 °C", "°C", lowest=-273.15)
    assert low.value.expected == "at least -273.1 °C"
    with pytest.raises(Unreadable) as high:
        read_quantity("140 %", "%", highest=100)
    assert (high.value.message, high.value.expected) == ("140 % cannot be", "at most 100 %")


def test_an_unknown_target_is_the_programmers_fault() -> None:
    with pytest.raises(ValueError, match="no such unit: mmm"):
        read_quantity("3 mm", "mmm")
    with pytest.raises(ValueError, match="no such unit: mmm"):
        say_range(Range(1, 2), "mmm")


@given(st.text(max_size=80) | st.text(alphabet="0123456789.,/-+ tounderm%<>=e", max_size=30), UNITS)
def test_any_text_is_read_or_refused(written: str, unit: str) -> None:
    with suppress(Unreadable):
        result = read_quantity(written, unit, lowest=0, highest=1e6)
        assert 0 <= result.lo < result.hi <= after(1e6)


class TestRange:
    @given(st.floats(allow_nan=False, max_value=1e300))
    def test_a_point_holds_itself_only(self, x: float) -> None:
        point = Range.point(x)
        assert point.is_point
        assert point.contains(x)
        assert not point.contains(point.hi)

    def test_the_upper_end_is_out(self) -> None:
        width = Range(0.2, 0.3)
        assert width.contains(0.2)
        assert not width.contains(0.3)
        assert width.within(0.2, 0.3)
        assert not width.within(0.25, 1)
        assert not width.is_point

    @pytest.mark.parametrize("ends", [(1, 1), (2, 1), (math.nan, 1), (math.inf, math.inf)])
    def test_never_empty(self, ends: tuple[float, float]) -> None:
        with pytest.raises(ValueError, match="an empty range"):
            Range(*ends)


class TestSay:
    @pytest.mark.parametrize(
        ("range_", "unit", "said"),
        [
            (Range(0.2, 0.3), "mm", "0.2-0.3 mm"),
            (Range.point(0.3), "mm", "0.3 mm"),
            (Range(0, 2), "L/h", "under 2 L/h"),
            (Range(0, after(2)), "L/h", "at most 2 L/h"),
            (Range(2, math.inf), "L/h", "at least 2 L/h"),
            (Range(after(2), math.inf), "L/h", "over 2 L/h"),
            (Range(0, math.inf), "L/h", "unknown"),
            (Range(11, 12), "pH", "pH 11-12"),
            (Range.point(1), "days", "1 day"),
            (Range.point(3), "count", "3"),
            (Range(0.30001, 0.30002), "mm", "0.30001-0.30002 mm"),
        ],
    )
    def test_short(self, range_: Range, unit: str, said: str) -> None:
        assert say_range(range_, unit, lowest=0) == said

    def test_below_zero_in_words(self) -> None:
        assert say_range(Range(-5, -2), "°C") == "-5 to -2 °C"
        assert say_range(Range(0, 5), "°C") == "0-5 °C"

    @pytest.mark.parametrize(
        ("x", "said"),
        [
            (0.00002, "0.00002"),
            (123456, "123456"),
            (12345.6, "12346"),
            (-0.0, "0"),
            (1e20, "1" + "0" * 20),
        ],
    )
    def test_numbers_without_exponent(self, x: float, said: str) -> None:
        assert say_number(x) == said

    @given(SHORT, SHORT, UNITS)
    def test_what_is_said_reads_back(self, a: float, b: float, unit: str) -> None:
        ranges = [Range.point(a), Range(0, after(a)), Range(a, math.inf), Range(after(a), math.inf)]
        if a < b:
            ranges += [Range(a, b), Range(0, b)]
        for range_ in ranges:
            said = say_range(range_, unit, lowest=0)
            assert read_quantity(said, unit, lowest=0) == range_
