"""From the nodes of a callout file to its parts, with all its faults at once."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, TypedDict

from advisor.callout.calendar import Calendar, age_problems, date_problems, log_problems
from advisor.callout.entries import check_keys, entries, flag, items, name, optional, suggested
from advisor.callout.finding_reader import Block, read_findings
from advisor.callout.leak_reader import read_leaks
from advisor.callout.log_reader import read_log
from advisor.callout.log_record import LogEntry
from advisor.callout.record import Finding, Leak, Release, Truth, Visit
from advisor.callout.release_reader import read_releases
from advisor.terms import (
    Attribute,
    Faults,
    Listing,
    Node,
    day,
    fault,
    listing,
    mapping,
    nearest,
    one_of,
    only_keys,
    text,
    word,
)
from advisor.terms import Mapping as Keys

KEYS = ("callout", "private", "structure", "visits", "leaks", "releases", "log", "truth")
REQUIRED = {"callout": "a name", "structure": "{kind: basement}", "leaks": "[{leak: L1}]"}
KIND = "kind"
"""The one attribute that every callout answers."""


class Fields(TypedDict):
    """The parts of a callout."""

    key: str
    private: dict[str, Any]
    structure: dict[str, Finding]
    visits: tuple[Visit, ...]
    leaks: tuple[Leak, ...]
    releases: tuple[Release, ...]
    log: tuple[LogEntry, ...]
    truth: Truth | None


def read_fields(node: Node, attributes: Mapping[str, Attribute]) -> Fields:
    """The parts of the callout written in `node`. Raises Faulty with every problem."""
    faults = Faults()
    root = mapping(node)
    with faults.catch():
        check_keys(root, KEYS, REQUIRED)
    written = optional(root, "visits", items, faults)
    readable = written is not None or root.get("visits") is None
    calendar, opened = _calendar(written or (), attributes, faults, readable=readable)
    fields = Fields(
        key=optional(root, "callout", name, faults) or "",
        private=optional(root, "private", _private, faults) or {},
        structure=_structure(
            root.get("structure"), Block("structure", calendar, attributes), faults
        ),
        visits=_visits(opened, calendar, attributes, faults),
        leaks=(),
        releases=(),
        log=(),
        truth=optional(root, "truth", _truth, faults),
    )
    if (leaks := root.get("leaks")) is not None:
        fields["leaks"] = read_leaks(leaks, Block("leak", calendar, attributes), faults)
    if (releases := root.get("releases")) is not None:
        names = [leak.key for leak in fields["leaks"]]
        fields["releases"] = read_releases(releases, names, faults)
    if (log := root.get("log")) is not None:
        names = [leak.key for leak in fields["leaks"]]
        fields["log"] = read_log(log, names, faults)
    _check_dates(fields, calendar, attributes, faults)
    faults.stop()
    return fields


def _calendar(
    written: tuple[Node, ...],
    attributes: Mapping[str, Attribute],
    faults: Faults,
    *,
    readable: bool,
) -> tuple[Calendar, list[Keys]]:
    """The days of the visits, and the keys of each; none where it cannot be read."""
    calendar = Calendar((), readable)
    opened = []
    for node in written:
        keys, on = Keys((), node.place), None
        with faults.catch():
            keys = mapping(node, "visits")
            on = _day_of(keys, calendar, attributes)
        calendar = Calendar((*calendar.days, on), readable)
        opened.append(keys)
    return calendar, opened


def _day_of(keys: Keys, before: Calendar, attributes: Mapping[str, Attribute]) -> date | None:
    written = keys.get("date")
    if written is None:
        unknown = set(keys.keys()).difference(attributes)
        if any(nearest(key, ("date",)) for key in unknown):
            return None  # The misspelt key is a fault of its own.
        raise fault(
            keys, "the day of the visit is missing", key="date", expected="date: YYYY-MM-DD"
        )
    on = day(written, "date")
    if on in before.days:
        raise fault(
            written,
            f"visit {before.days.index(on) + 1} is on {on} too",
            key="date",
            expected="one visit for each day",
        )
    return on


def _visits(
    opened: list[Keys], calendar: Calendar, attributes: Mapping[str, Attribute], faults: Faults
) -> tuple[Visit, ...]:
    visits = []
    for number, keys in enumerate(opened, 1):
        block = Block("visit", calendar, attributes, number)
        findings = read_findings(keys, block, faults, others=("date",))
        if (on := calendar.day_of(number)) is not None:
            visits.append(Visit(on, findings, keys.place))
    return tuple(visits)


def _structure(node: Node | None, block: Block, faults: Faults) -> dict[str, Finding]:
    if node is None:
        return {}
    findings: dict[str, Finding] = {}
    own = Faults()
    with own.catch():
        keys = entries(node, "structure")
        findings = read_findings(keys, block, own)
        if keys.get(KIND) is None and KIND not in suggested(own):
            known = block.attributes.get(KIND)
            raise fault(
                node,
                "the kind of structure is missing",
                key=KIND,
                expected=one_of(choice.key for choice in known.choices) if known else None,
            )
    faults.add(*own.problems)
    return findings


def _private(node: Node, key: str) -> dict[str, Any]:
    """Faults in it tell their place and no word of it: screens and logs are read by others."""
    if not isinstance(node, Keys) and (isinstance(node, Listing) or node.text):
        expected = "keys with values: {name: …}"
        raise fault(node, "this is no list of keys", key=key, expected=expected)
    faults = Faults()
    private = {name.text: _plain(entry, key, faults) for name, entry in entries(node, key).entries}
    faults.stop()
    return private


def _plain(node: Node, key: str, faults: Faults) -> Any:
    if isinstance(node, Keys):
        return {name.text: _plain(entry, key, faults) for name, entry in node.entries}
    if isinstance(node, Listing):
        return [_plain(item, key, faults) for item in node.items]
    if node.text.strip():
        with faults.catch():
            return text(node, key)
    return ""


def _truth(node: Node, key: str) -> Truth:
    faults = Faults()
    keys = mapping(node, key)
    with faults.catch():
        check_keys(keys, ("causes", "methods", "blind", "because"), {"causes": "[a cause, …]"})
    causes = optional(keys, "causes", _causes, faults)
    methods = optional(keys, "methods", _methods, faults) or {}
    blind = optional(keys, "blind", flag, faults)
    because = optional(keys, "because", text, faults)
    faults.stop()
    return Truth(causes or (), bool(blind), because or "", **methods)


def _methods(node: Node, key: str) -> dict[str, tuple[str, ...]]:
    keys = mapping(node, key)
    only_keys(keys, ("acceptable", "forbidden"))
    return {
        name.text: tuple(word(item, name.text) for item in listing(listed, name.text))
        for name, listed in keys.entries
    }


def _causes(node: Node, key: str) -> tuple[str, ...]:
    causes = tuple(word(item, key) for item in listing(node, key))
    if not causes:
        raise fault(node, "no cause is named", key=key, expected="[a cause, …]")
    return causes


def _check_dates(
    fields: Fields, calendar: Calendar, attributes: Mapping[str, Attribute], faults: Faults
) -> None:
    structure = fields["structure"]
    parts = [visit.findings for visit in fields["visits"]]
    parts += [leak.findings for leak in fields["leaks"]]
    everything = [finding for part in (structure, *parts) for finding in part.values()]
    wrong = date_problems(everything, structure=structure, calendar=calendar, attributes=attributes)
    for leak in fields["leaks"]:
        found = {**structure, **leak.findings}
        wrong += age_problems(found, calendar=calendar, attributes=attributes)
    wrong += log_problems(fields["log"], structure=structure, attributes=attributes)
    # An age of the structure is the same at every wet place.
    faults.add(*dict.fromkeys(wrong))
