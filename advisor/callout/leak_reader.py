"""The wet places of a callout file."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.callout.entries import entries, items, name, optional, suggested
from advisor.callout.finding_reader import BELONGS, Block, read_findings
from advisor.callout.record import Finding, Leak
from advisor.terms import (
    Faults,
    Mapping,
    Node,
    fault,
    mapping,
    nearest,
    one_of,
    problem_at,
    text,
)

LEAK_KEYS = ("leak", "where", "photos", "same-water", "findings")


def read_leaks(node: Node, block: Block, faults: Faults) -> tuple[Leak, ...]:
    """The wet places that can be read. Every fault goes to `faults`."""
    written: tuple[Node, ...] = ()
    with faults.catch():
        written = items(node, "leaks")
        if not written:
            raise fault(node, "there is no wet place", key="leaks", expected="- leak: L1")
    leaks: list[Leak] = []
    links: list[tuple[Leak, Node]] = []
    for item in written:
        with faults.catch():
            entry = mapping(item, "leaks")
            leak = _leak(entry, block, faults)
            if leak is not None:
                _check_name(leak, leaks)
                leaks.append(leak)
                link = entry.get("same-water")
                links += [(leak, link)] if link is not None else []
    for leak, link in links:
        with faults.catch():
            _check_link(leak, link, leaks)
    return tuple(leaks)


def _leak(node: Mapping, block: Block, faults: Faults) -> Leak | None:
    """None when the wet place has no name. Every fault goes to `faults`."""
    own = Faults()
    _check_keys(node, block, own)
    named = "leak" in suggested(own) or node.get("leak") is not None
    if not named:
        own.add(problem_at(node, "the wet place has no name", key="leak", expected="leak: L1"))
    faults.add(*own.problems)
    found = optional(node, "findings", entries, faults)
    findings: dict[str, Finding] = {}
    if found is not None:
        findings = read_findings(found, block, faults)
    if findings and block.calendar.readable and not block.calendar.days:
        faults.add(
            problem_at(
                node,
                "the day of these findings is missing",
                key="visits",
                expected="visits: [{date: YYYY-MM-DD}]",
            )
        )
    where = optional(node, "where", text, faults)
    photos = optional(node, "photos", _photos, faults)
    same_water = optional(node, "same-water", name, faults)
    written, key = node.get("leak"), optional(node, "leak", name, faults)
    if written is None or key is None:
        return None
    return Leak(
        key=key,
        where=where or "",
        photos=photos or (),
        findings=findings,
        same_water=same_water,
        place=written.place,
    )


def _photos(node: Node, key: str) -> tuple[str, ...]:
    faults = Faults()
    names = []
    for item in items(node, key):
        with faults.catch():
            names.append(text(item, key))
    faults.stop()
    return tuple(names)


def _check_keys(node: Mapping, block: Block, faults: Faults) -> None:
    for key, _ in node.entries:
        if key.text in LEAK_KEYS:
            continue
        attribute = block.attributes.get(key.text)
        faults.add(
            problem_at(
                key,
                "this does not belong here" if attribute else "this key is not known here",
                key=key.text[:64],
                expected=BELONGS[attribute.of] if attribute else one_of(LEAK_KEYS),
                nearest=None if attribute else nearest(key.text, LEAK_KEYS),
            )
        )


def _check_name(leak: Leak, others: Sequence[Leak]) -> None:
    for other in others:
        if other.key == leak.key:
            raise fault(
                leak.place,
                f'"{leak.key}" stands here twice, first on line {other.place.line}',
                key="leak",
                expected="a name of its own for each wet place",
            )


def _check_link(leak: Leak, link: Node, leaks: Sequence[Leak]) -> None:
    others = [other.key for other in leaks if other.key != leak.key]
    if leak.same_water is None or leak.same_water in others:
        return
    itself = leak.same_water == leak.key
    raise fault(
        link,
        "it names itself" if itself else f'there is no wet place "{leak.same_water}"',
        key="same-water",
        expected=one_of(others) if 0 < len(others) < 10 else "another wet place of this file",
        nearest=None if itself else nearest(leak.same_water, others),
    )
