"""What the dated readings of a finding say together.

Readings of one day are one answer: what they have in common, or, where they exclude
each other, all that any of them allows. Readings that say nothing are passed over.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import NamedTuple

from advisor.callout.record import Reading
from advisor.terms import Attribute, Range, Value, say_choices, say_range


@dataclass(frozen=True, slots=True)
class Resolved:
    """What is known of one variable.

    value: a mask, a Range or a date; None when nothing is known.
    excluded: what was found on one day and cannot be true together, in words.
    """

    value: Value | None = None
    sure: bool = True
    not_applicable: bool = False
    excluded: tuple[str, ...] = ()

    @property
    def is_known(self) -> bool:
        """Whether there is anything to tell the engine or the reader."""
        return self.value is not None or self.not_applicable or bool(self.excluded)


UNKNOWN = Resolved(sure=False)

Days = Sequence[Resolved]
"""What each day says that says anything, oldest first."""


def effective(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """The readings of one finding that no other of them corrects, as the file lists them."""
    replaced = {reading.corrects for reading in readings}
    return tuple(reading for number, reading in enumerate(readings, 1) if number not in replaced)


def by_day(readings: Iterable[Reading], attribute: Attribute) -> Days:
    """The days of effective readings."""
    return _days(
        [_Answer(r.day, r.value, r.is_sure) for r in readings if _tells(r, attribute)],
        lambda value: _say(value, attribute),
    )


def by_day_of_choice(readings: Iterable[Reading], bit: int) -> Days:
    """The days of one choice of a several-choices attribute, as a yes-no: yes 1, no 2."""
    answers = []
    for r in readings:
        if isinstance(r.value, tuple):
            yes, no = r.value
            if (yes | no) >> bit & 1:
                answers.append(_Answer(r.day, 1 if yes >> bit & 1 else 2, r.is_sure))
        elif r.missing == "not-applicable":
            answers.append(_Answer(r.day, None, r.is_sure))
    return _days(answers, lambda value: "yes" if value == 1 else "no")


def latest(days: Days) -> Resolved:
    """The last day's answer. What is missing on a later day does not erase it."""
    return days[-1] if days else UNKNOWN


def first(days: Days) -> Resolved:
    """The answer of the first day on which there was anything to find."""
    return next(iter(_applicable(days)), UNKNOWN)


def highest(days: Days) -> Resolved:
    """The highest that a number can have been on the days it was read."""
    return _extreme(days, max)


def lowest(days: Days) -> Resolved:
    """The lowest that a number can have been on the days it was read."""
    return _extreme(days, min)


def change(days: Days) -> Resolved:
    """Latest minus first of a number; unknown unless it was read on two days."""
    known = _applicable(days)
    if len(known) < 2:
        return UNKNOWN
    before, after = known[0], known[-1]
    if not isinstance(before.value, Range) or not isinstance(after.value, Range):
        return UNKNOWN
    return Resolved(_difference(after.value, before.value), before.sure and after.sure)


class _Answer(NamedTuple):
    """A reading that says something; a value of None says that it does not apply."""

    day: date | None
    value: Value | None
    sure: bool


def _day(answer: _Answer) -> date:
    return answer.day or date.min


def _tells(reading: Reading, attribute: Attribute) -> bool:
    match reading.value:
        case None:
            return reading.missing == "not-applicable"
        case int(mask):
            return mask != attribute.every_choice
        case Range(lo=lo, hi=hi):
            return lo > attribute.lowest or hi < math.nextafter(attribute.highest, math.inf)
    return True


def _days(answers: list[_Answer], say: Callable[[Value], str]) -> Days:
    ordered = sorted(answers, key=_day)
    return tuple(_together(tuple(day), say) for _, day in groupby(ordered, key=_day))


def _together(answers: Sequence[_Answer], say: Callable[[Value], str]) -> Resolved:
    """The one answer of one day."""
    values = [answer.value for answer in answers if answer.value is not None]
    if not values:
        return Resolved(sure=any(answer.sure for answer in answers), not_applicable=True)
    common = _common(values)
    if common is None or len(values) < len(answers):
        words = [say(value) for value in values]
        words += ["not applicable"] * (len(values) < len(answers))
        return Resolved(_either(values), sure=False, excluded=tuple(dict.fromkeys(words)))
    sure = [answer.value for answer in answers if answer.sure and answer.value is not None]
    return Resolved(common, sure=bool(sure) and _common(sure) == common)


def _common(values: Sequence[Value]) -> Value | None:
    """What all values allow; None when they exclude each other."""
    common = values[0]
    for value in values[1:]:
        if isinstance(common, int) and isinstance(value, int):
            common &= value
        elif isinstance(common, Range) and isinstance(value, Range):
            lo, hi = max(common.lo, value.lo), min(common.hi, value.hi)
            if hi <= lo:
                return None
            common = Range(lo, hi)
        elif common != value:
            return None
        if common == 0:
            return None
    return common


def _either(values: Sequence[Value]) -> Value | None:
    """All that any value allows. Days and texts have no such form: None."""
    masks = [value for value in values if isinstance(value, int)]
    ranges = [value for value in values if isinstance(value, Range)]
    if ranges:
        return Range(min(r.lo for r in ranges), max(r.hi for r in ranges))
    together = 0
    for mask in masks:
        together |= mask
    return together or (values[0] if len(values) == 1 else None)


def _say(value: Value, attribute: Attribute) -> str:
    if isinstance(value, int):
        return say_choices(value, attribute)
    if isinstance(value, Range):
        return say_range(
            value, attribute.unit or "count", lowest=attribute.lowest, highest=attribute.highest
        )
    return str(value)


def _applicable(days: Days) -> Days:
    return [day for day in days if day.value is not None]


def _extreme(days: Days, pick: Callable[[Iterable[float]], float]) -> Resolved:
    """Sure when the days that are sure say the same alone."""
    read = [(day.value, day.sure) for day in days if isinstance(day.value, Range)]
    if not read:
        return UNKNOWN
    value = _picked([range_ for range_, _ in read], pick)
    sure = [range_ for range_, is_sure in read if is_sure]
    return Resolved(value, sure=bool(sure) and _picked(sure, pick) == value)


def _picked(ranges: list[Range], pick: Callable[[Iterable[float]], float]) -> Range:
    return Range(pick(range_.lo for range_ in ranges), pick(range_.hi for range_ in ranges))


def _difference(after: Range, before: Range) -> Range:
    """Every x - y with x in `after`, y in `before`."""
    lo = _minus(after.lo, before.lo if before.is_point else before.hi)
    hi = _minus(after.lo if after.is_point else after.hi, before.lo)
    above = math.nextafter(lo, math.inf)
    return Range(lo, max(math.nextafter(hi, math.inf) if after.is_point else hi, above))


def _minus(x: float, y: float) -> float:
    """In decimals, as people write them: 0.3 - 0.2 is 0.1, not 0.09999999999999998."""
    return float(Decimal(repr(x)) - Decimal(repr(y)))
