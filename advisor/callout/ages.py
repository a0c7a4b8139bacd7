"""Ages, worked out from dates. No date is compared with the clock."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from advisor.callout.readings import UNKNOWN, Resolved
from advisor.terms import Attribute, Range, convert, unit_named

VISIT = "visit"
"""Stands for the day of the last visit where an age ends there."""


def days_between(
    attribute: Attribute, dates: Mapping[str, Resolved], last_day: date | None
) -> Resolved:
    """The age that `attribute.from_dates` names, in the attribute's unit.

    dates: what is known of each date attribute. Unknown unless both days are known,
    sure only if both are.
    """
    if attribute.from_dates is None:
        return UNKNOWN
    known = {**dates, VISIT: Resolved(last_day)}
    start, end = (known.get(key, UNKNOWN) for key in attribute.from_dates)
    if not isinstance(start.value, date) or not isinstance(end.value, date):
        return UNKNOWN
    days = (end.value - start.value).days
    return Resolved(in_unit(days, attribute), sure=start.sure and end.sure)


def in_unit(days: int, attribute: Attribute) -> Range:
    """Whole days as a point in the attribute's unit of time."""
    day, unit = unit_named("days"), unit_named(attribute.unit or "days")
    assert day is not None
    assert unit is not None
    return Range.point(float(convert(Fraction(days), day, unit)[0]))
