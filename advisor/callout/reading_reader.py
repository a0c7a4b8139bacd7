"""One reading as people write it: a bare value, or the full form with how, when and why not."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from advisor.callout.calendar import Calendar
from advisor.callout.entries import flag, one_word, optional, suggested
from advisor.callout.record import HOWS, MISSINGS, How, Missing, Reading
from advisor.terms import (
    Attribute,
    Faults,
    Mapping,
    Node,
    Scalar,
    Value,
    day,
    fault,
    one_of,
    only_keys,
    problem_at,
    read_value,
    text,
    whole,
)

FULL_FORM = ("value", "how", "sure", "visit", "date", "corrects", "missing", "note")
VALUE_FORM = frozenset({"not", "has", "has-not"})

Earlier = Sequence[Reading | None]
"""The readings above this one in its list; None for a faulty one, which keeps its number."""


def read_reading(
    node: Node, attribute: Attribute, calendar: Calendar, *, visit: int, earlier: Earlier
) -> Reading:
    """visit: the visit in whose entry it stands; 0 elsewhere, where the last visit counts.

    Raises Faulty with every problem of the reading.
    """
    how: How = "measured" if attribute.kind == "number" else "seen"
    if not isinstance(node, Mapping) or _is_value(node, attribute):
        value, missing = _value(node, attribute)
        made_at = visit or calendar.last
        return Reading(
            value=value,
            how=how,
            visit=made_at,
            day=calendar.day_of(made_at),
            missing=missing,
            place=node.place,
        )
    faults = Faults()
    with faults.catch():
        only_keys(node, [key for key in FULL_FORM if key != "visit" or not visit])
    if not suggested(faults) & {"value", "missing"}:
        with faults.catch():
            _check_one_of_two(node, attribute)
    said = optional(node, "value", lambda entry, _: _value(entry, attribute), faults)
    missing = optional(node, "missing", one_word(MISSINGS), faults)
    corrects = optional(node, "corrects", _earlier_one(earlier), faults)
    made_at, made_on = _when(
        node, calendar, visit, earlier[corrects - 1] if corrects else None, faults
    )
    sure = optional(node, "sure", flag, faults)
    known = optional(node, "how", one_word(HOWS), faults)
    note = optional(node, "note", text, faults)
    faults.stop()
    value, nobody = said or (None, None)
    return Reading(
        value=value,
        how=known or how,
        sure=sure,
        visit=made_at,
        day=made_on,
        corrects=corrects,
        missing=missing or nobody,
        note=note or "",
        place=node.place,
    )


def _is_value(node: Mapping, attribute: Attribute) -> bool:
    """Whether the mapping is a value itself: `{not: a}`, `{has: [a]}`."""
    keys = set(node.keys())
    if keys & {choice.key for choice in attribute.choices}:
        raise fault(
            node,
            "the choices stand here as keys",
            key=attribute.key,
            expected="{has: […], has-not: […]}"
            if attribute.kind == "several"
            else "value: a choice",
        )
    if not keys & VALUE_FORM:
        return False
    if others := keys.intersection(FULL_FORM):
        raise fault(
            node,
            f'"{min(others)}" stands beside a value that is not under "value"',
            key=attribute.key,
            expected="{value: {not: …}, how: …}",
        )
    return True


def _value(node: Node, attribute: Attribute) -> tuple[Value | None, Missing | None]:
    # Of a day there is no "all that it can be": nobody knows it.
    if attribute.kind == "date" and isinstance(node, Scalar) and node.text.strip() == "unknown":
        return None, "nobody-knows"
    return read_value(node, attribute), None


def _check_one_of_two(node: Mapping, attribute: Attribute) -> None:
    value, missing = node.get("value"), node.get("missing")
    if (value is None) == (missing is None):
        raise fault(
            node,
            'the key "value" is missing' if value is None else '"value" and "missing" are written',
            key=attribute.key,
            expected='"value" or "missing"',
        )


def _earlier_one(earlier: Earlier) -> Callable[[Node, str], int]:
    """A reader of `corrects`."""

    def read(node: Node, key: str) -> int:
        number = whole(node, key)
        if number == len(earlier) + 1:
            message = "a reading cannot correct itself"
        elif not 0 < number <= len(earlier):
            message = f"there is no earlier reading {number}"
        elif any(reading and reading.corrects == number for reading in earlier):
            message = f"reading {number} is corrected already"
        else:
            return number
        numbers = [str(n) for n in range(1, len(earlier) + 1)]
        expected = f"an earlier reading: {one_of(numbers)}" if numbers else "no corrects here"
        raise fault(node, message, key=key, expected=expected)

    return read


def _when(
    node: Mapping, calendar: Calendar, visit: int, corrected: Reading | None, faults: Faults
) -> tuple[int, date | None]:
    """The visit and the day of a reading; a correction takes those of what it corrects."""
    written = optional(node, "visit", _visit(calendar), faults)
    made_on = optional(node, "date", day, faults)
    if made_on is None:
        if corrected and written is None:
            return corrected.visit, corrected.day
        made_at = written or visit or calendar.last
        return made_at, calendar.day_of(made_at)
    made_at = written or visit
    own_day = calendar.day_of(made_at)
    if own_day and own_day < made_on <= (calendar.last_day or made_on):
        faults.add(
            problem_at(
                node,
                f"made on {made_on}, after visit {made_at} on {own_day}",
                key="date",
                expected=f"a day up to {own_day}, or a later visit",
            )
        )
    return made_at or calendar.visit_for(made_on), made_on


def _visit(calendar: Calendar) -> Callable[[Node, str], int]:
    """A reader of `visit`."""

    def read(node: Node, key: str) -> int:
        number = whole(node, key)
        count = len(calendar.days)
        if not calendar.readable or 0 < number <= count:
            return number
        few = {0: 'a visit under "visits" first', 1: "1, the only visit"}
        raise fault(
            node,
            f"there is no visit {number}",
            key=key,
            expected=few.get(count, f"a visit from 1 to {count}"),
        )

    return read
