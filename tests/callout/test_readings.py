"""What dated readings say together. Every answer is worked out by hand."""

import math
from datetime import date, timedelta
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.callout import How, Missing, Reading, Resolved
from advisor.callout.readings import (
    UNKNOWN,
    by_day,
    by_day_of_choice,
    change,
    effective,
    first,
    highest,
    latest,
    lowest,
)
from advisor.terms import Attribute, Choice, Kind, Place, Range, Value

START = date(2031, 1, 1)
POINT = Range.point


def attribute(kind: Kind, choices: str = "") -> Attribute:
    return Attribute(
        key="a",
        label="a",
        kind=kind,
        of="leak",
        question="?",
        check="",
        who=(),
        unit="mm" if kind == "number" else None,
        choices=tuple(Choice(word, word) for word in choices.split()),
        lowest=0,
        highest=100,
    )


WIDTH = attribute("number")
COLOUR = attribute("choice", "red green blue")


def said(
    value: Value | None,
    day: int = 0,
    *,
    how: How = "measured",
    missing: Missing | None = None,
    corrects: int | None = None,
) -> Reading:
    return Reading(
        value=value,
        how=how,
        visit=1,
        day=START + timedelta(days=day),
        corrects=corrects,
        missing=missing,
        place=Place("f.yaml", 1, 1),
    )


def widths(*readings: tuple[float, int]) -> tuple[Reading, ...]:
    return tuple(said(POINT(x), day) for x, day in readings)


def test_first_latest_highest_lowest_and_change() -> None:
    days = by_day(widths((0.5, 20), (0.2, 0), (0.4, 40)), WIDTH)
    assert first(days) == Resolved(POINT(0.2))
    assert latest(days) == Resolved(POINT(0.4))
    assert highest(days) == Resolved(POINT(0.5))
    assert lowest(days) == Resolved(POINT(0.2))
    assert change(days) == Resolved(POINT(0.2))


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        (POINT(0.2), POINT(0.3), POINT(0.1)),
        (POINT(0.3), POINT(0.3), POINT(0.0)),
        (POINT(0.5), POINT(0.2), POINT(-0.3)),
        (Range(0.1, 0.2), POINT(0.5), Range(0.3, math.nextafter(0.4, math.inf))),
        (POINT(0.1), Range(0.2, 0.3), Range(0.1, 0.2)),
        (Range(0.1, 0.2), Range(0.4, 0.6), Range(0.2, 0.5)),
        (Range(1, math.inf), POINT(1), Range(-math.inf, math.nextafter(0, math.inf))),
    ],
)
def test_change_is_the_range_of_all_differences(
    before: Range, after: Range, expected: Range
) -> None:
    assert change(by_day([said(before), said(after, 9)], WIDTH)).value == expected


@given(st.lists(st.integers(0, 1000), min_size=4, max_size=4, unique=True), st.data())
def test_change_holds_every_difference(ends: list[int], data: st.DataObject) -> None:
    a, b, c, d = (end / 10 for end in ends)
    before, after = Range(min(a, b), max(a, b)), Range(min(c, d), max(c, d))
    value = change(by_day([said(before), said(after, 9)], WIDTH)).value
    x = data.draw(st.floats(before.lo, before.hi, exclude_max=True))
    y = data.draw(st.floats(after.lo, after.hi, exclude_max=True))
    assert isinstance(value, Range)
    assert value.lo <= y - x <= value.hi


def test_change_needs_two_days() -> None:
    assert change(by_day(widths((0.2, 0), (0.2, 0)), WIDTH)) == UNKNOWN
    assert change(()) == latest(()) == first(()) == highest(()) == UNKNOWN


def test_extremes_of_ranges_are_ranges() -> None:
    days = by_day([said(Range(0.1, 0.4)), said(Range(0.2, 0.3), 1)], WIDTH)
    assert highest(days).value == Range(0.2, 0.4)
    assert lowest(days).value == Range(0.1, 0.3)


def test_a_corrected_reading_no_longer_counts() -> None:
    readings = [said(POINT(9), 1), said(POINT(2), 5), said(POINT(1), 1, corrects=1)]
    days = by_day(effective(readings), WIDTH)
    assert (first(days).value, highest(days).value) == (POINT(1), POINT(2))


def test_a_correction_may_be_corrected_or_taken_back() -> None:
    first_one, second = said(POINT(9)), said(POINT(8), corrects=1)
    assert effective([first_one, second, said(POINT(7), corrects=2)])[0].value == POINT(7)
    gone = said(None, missing="no-access", corrects=1)
    assert latest(by_day(effective([first_one, gone]), WIDTH)) == UNKNOWN


def test_readings_of_one_day_that_overlap_leave_what_they_share() -> None:
    days = by_day([said(Range(0.1, 0.3)), said(Range(0.2, 0.5))], WIDTH)
    assert days == (Resolved(Range(0.2, 0.3)),)
    assert by_day([said(0b011), said(0b110)], COLOUR) == (Resolved(0b010),)


def test_readings_of_one_day_that_exclude_each_other_are_both_kept() -> None:
    (day,) = by_day([said(0b001), said(0b100)], COLOUR)
    assert day == Resolved(0b101, sure=False, excluded=("red", "blue"))
    (day,) = by_day(widths((0.5, 0), (0.2, 0)), WIDTH)
    assert day.value == Range(0.2, math.nextafter(0.5, math.inf))
    assert (day.sure, day.excluded) == (False, ("0.5 mm", "0.2 mm"))


def test_readings_of_two_days_do_not_exclude_each_other() -> None:
    assert latest(by_day([said(0b001), said(0b100, 1)], COLOUR)) == Resolved(0b100)


def test_the_order_within_a_day_does_not_matter() -> None:
    readings = [said(Range(0.1, 0.4)), said(Range(0.2, 0.5)), said(Range(0.3, 0.6), how="told")]
    answers = {by_day(list(order), WIDTH)[0].value for order in permutations(readings)}
    assert answers == {Range(0.3, 0.4)}


@pytest.mark.parametrize("why", ["not-asked", "nobody-knows", "no-access"])
def test_what_is_missing_later_erases_nothing(why: Missing) -> None:
    readings = [said(POINT(1)), said(None, 5, missing=why), said(Range(0, math.inf), 6)]
    assert latest(by_day(readings, WIDTH)) == Resolved(POINT(1))


def test_not_applicable_counts_as_the_latest_answer() -> None:
    readings = [said(POINT(1)), said(None, 5, missing="not-applicable")]
    days = by_day(readings, WIDTH)
    assert latest(days) == Resolved(not_applicable=True)
    assert first(days) == highest(days) == Resolved(POINT(1))
    assert latest(by_day([*readings, said(POINT(2), 9)], WIDTH)) == Resolved(POINT(2))


def test_a_value_and_not_applicable_on_one_day_exclude_each_other() -> None:
    (day,) = by_day([said(0b001), said(None, missing="not-applicable")], COLOUR)
    assert day == Resolved(0b001, sure=False, excluded=("red", "not applicable"))


@pytest.mark.parametrize(
    ("hows", "sure"),
    [
        (("seen",), True),
        (("told",), False),
        (("assumed",), False),
        (("document", "told"), True),
        (("told", "assumed"), False),
    ],
)
def test_a_day_is_sure_when_its_sure_readings_say_it_alone(
    hows: tuple[How, ...], sure: bool
) -> None:
    assert latest(by_day([said(0b011, how=how) for how in hows], COLOUR)).sure is sure


def test_what_only_an_unsure_reading_narrows_is_unsure() -> None:
    assert not latest(by_day([said(0b011), said(0b110, how="told")], COLOUR)).sure


def test_the_sureness_of_extremes_and_change() -> None:
    days = by_day([said(POINT(1)), said(POINT(5), 1, how="told"), said(POINT(3), 2)], WIDTH)
    assert not highest(days).sure
    assert lowest(days).sure
    assert change(days) == Resolved(POINT(2))
    assert not change(days[:2]).sure


def test_each_choice_of_several_is_a_yes_no_of_its_own() -> None:
    readings = [said((0b01, 0b10)), said((0b10, 0b00), 5)]
    assert latest(by_day_of_choice(readings, 0)) == Resolved(1)
    assert latest(by_day_of_choice(readings, 1)) == Resolved(1)
    assert first(by_day_of_choice(readings, 1)) == Resolved(2)
    assert by_day_of_choice(readings, 2) == ()
    (day,) = by_day_of_choice([said((1, 0)), said((0, 1))], 0)
    assert day == Resolved(3, sure=False, excluded=("yes", "no"))
    away = by_day_of_choice([said(None, missing="not-applicable")], 0)
    assert latest(away).not_applicable


def test_two_days_said_on_one_day_are_no_answer() -> None:
    when = attribute("date")
    (day,) = by_day([said(date(2030, 1, 1)), said(date(2030, 1, 2))], when)
    assert day == Resolved(None, sure=False, excluded=("2030-01-01", "2030-01-02"))
    assert latest(by_day([said(date(2030, 1, 1))] * 2, when)) == Resolved(date(2030, 1, 1))
