"""One wet place as a row for the engine: what is known of every variable."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from advisor.callout.ages import days_between
from advisor.callout.callout import Callout
from advisor.callout.places import over_places, waters
from advisor.callout.readings import (
    UNKNOWN,
    Resolved,
    by_day,
    by_day_of_choice,
    change,
    effective,
    first,
    highest,
    latest,
    lowest,
)
from advisor.callout.record import Finding, Leak, Reading
from advisor.terms import Attribute

Row = dict[str, Resolved]
"""By variable; a variable nothing is known of has no entry."""

Attributes = Mapping[str, Attribute]


def resolve(callout: Callout, leak: Leak, attributes: Attributes) -> Row:
    """What is known of a wet place.

    Variables: the attribute itself; `ATTRIBUTE.CHOICE` (yes 1, no 2) for several choices;
    `ATTRIBUTE.first`, for numbers also `.highest`, `.lowest` and `.change`. An age or a
    fact over the wet places is worked out where it was not answered directly.
    Raises Faulty when an attribute names a fact over wet places that is not there.
    """
    return _row(_found(callout, leak, attributes), _rest(callout, leak, attributes))


def without(callout: Callout, leak: Leak, attribute: str, attributes: Attributes) -> Row:
    """`resolve` with one finding taken as unknown, and all that is worked out from it."""
    found = _found(callout, leak, attributes)
    found.pop(attribute, None)
    return _row(found, _rest(callout, leak, attributes))


def without_each(callout: Callout, leak: Leak, attributes: Attributes) -> dict[str, Row]:
    """`without` for every finding of the wet place, its structure and the visits, in one go."""
    found = _found(callout, leak, attributes)
    rest = _rest(callout, leak, attributes)
    full = _row(found, rest)
    return {
        key: _row({other: known for other, known in found.items() if other != key}, rest)
        if key in rest.used
        else {variable: known for variable, known in full.items() if variable not in found[key].row}
        for key in found
    }


@dataclass(frozen=True, slots=True)
class _Known:
    """What the readings of one attribute say: its latest answer, and its variables."""

    latest: Resolved
    row: Row


@dataclass(frozen=True, slots=True)
class _Rest:
    """What a row is worked out from beside its own findings."""

    worked_out: tuple[Attribute, ...]
    last_day: date | None
    others: dict[str, list[tuple[Resolved, ...]]]
    """By fact over the wet places: what is known of its attributes at the other places."""
    used: frozenset[str]
    """What is worked out, and what it is worked out from."""


def _row(found: Mapping[str, _Known], rest: _Rest) -> Row:
    row: Row = {}
    for known in found.values():
        row |= known.row
    for attribute in rest.worked_out:
        if attribute.key in row:
            continue
        if attribute.over_places is not None:
            here = _answers(found, attribute.over_places[1])
            fact = over_places(attribute, [here, *rest.others[attribute.key]])
        else:
            dates = {key: known.latest for key, known in found.items()}
            fact = days_between(attribute, dates, rest.last_day)
        if fact.is_known:
            row[attribute.key] = fact
    return row


def _rest(callout: Callout, leak: Leak, attributes: Attributes) -> _Rest:
    others: dict[str, list[tuple[Resolved, ...]]] = {}
    for key, attribute in attributes.items():
        if attribute.over_places is not None:
            inputs = attribute.over_places[1]
            others[key] = [
                _answers(_known_by(other, inputs, attributes), inputs)
                for other in callout.leaks
                if other.key != leak.key
            ]
    worked_out = tuple(a for a in attributes.values() if a.from_dates or a.over_places)
    used = {a.key for a in worked_out}
    for attribute in worked_out:
        used.update(attribute.from_dates or ())
        used.update(attribute.over_places[1] if attribute.over_places else ())
    return _Rest(worked_out, callout.last_day, others, frozenset(used))


def _known_by(leak: Leak, inputs: tuple[str, ...], attributes: Attributes) -> dict[str, _Known]:
    return {
        key: _known(effective(leak.findings[key].readings), attributes[key])
        for key in inputs
        if key in leak.findings
    }


def _answers(found: Mapping[str, _Known], keys: tuple[str, ...]) -> tuple[Resolved, ...]:
    return tuple(found[key].latest if key in found else UNKNOWN for key in keys)


def _found(callout: Callout, leak: Leak, attributes: Attributes) -> dict[str, _Known]:
    """By attribute. What several visits found are readings of one finding."""
    sources = [callout.structure, *(visit.findings for visit in callout.visits), leak.findings]
    sources += [_of_the_water(other, leak, attributes) for other in _same_water(callout, leak)]
    readings: dict[str, list[Reading]] = {}
    for source in sources:
        for key, finding in source.items():
            # Corrections count within their own finding, so they are settled first.
            readings.setdefault(key, []).extend(effective(finding.readings))
    return {key: _known(listed, attributes[key]) for key, listed in readings.items()}


def _same_water(callout: Callout, leak: Leak) -> list[Leak]:
    """The other wet places that the same water feeds."""
    linked = next(keys for keys in waters(callout) if leak.key in keys)
    return [other for other in callout.leaks if other.key in linked and other.key != leak.key]


def _of_the_water(other: Leak, leak: Leak, attributes: Attributes) -> dict[str, Finding]:
    """What was found of the water at another place, and was not asked at this one."""
    return {
        key: finding
        for key, finding in other.findings.items()
        if attributes[key].of_the_water and key not in leak.findings
    }


def _known(readings: list[Reading] | tuple[Reading, ...], attribute: Attribute) -> _Known:
    key = attribute.key
    if attribute.kind == "several":
        row = {
            f"{key}.{choice.key}": latest(by_day_of_choice(readings, bit))
            for bit, choice in enumerate(attribute.choices)
        }
        return _Known(UNKNOWN, _only_known(row))
    days = by_day(readings, attribute)
    now = latest(days)
    row = {}
    if attribute.kind in ("choice", "yes-no", "number"):
        row |= {key: now, f"{key}.first": first(days)}
    if attribute.kind == "number":
        row |= {
            f"{key}.highest": highest(days),
            f"{key}.lowest": lowest(days),
            f"{key}.change": change(days),
        }
    return _Known(now, _only_known(row))


def _only_known(row: Row) -> Row:
    return {variable: known for variable, known in row.items() if known.is_known}
