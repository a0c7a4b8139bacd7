"""The wet places of a callout file."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.callout.entries import entries, items, name, optional
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

LEAK_KEYS = ("leak", "where", "same-water", "findings")


def read_leaks(node: Node, block: Block, faults: Faults) -> tuple[Leak, ...]:
    """The wet places that can be read. Every fault goes to `faults`."""
    written: tuple[Node, ...] = ()
    with faults.catch():
        written = items(node, "leaks")
        if not written:
            raise fault(node, "there is no wet place", key="leaks", expected="- leak: L1")
    leaks: list[Leak] = []
    for item in written:
        with faults.catch():
            leak = _leak(mapping(item, "leaks"), block, faults)
            _check_name(leak, leaks)
            leaks.append(leak)
    for leak in leaks:
        with faults.catch():
            _check_link(leak, leaks)
    return tuple(leaks)


def _leak(node: Mapping, block: Block, faults: Faults) -> Leak:
    """Faults go to `faults`; raises when the wet place has no name."""
    _check_keys(node, block, faults)
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
    same_water = optional(node, "same-water", name, faults)
    named = node.get("leak")
    if named is None:
        raise fault(node, "the wet place has no name", key="leak", expected="leak: L1")
    return Leak(
        key=name(named, "leak"),
        where=where or "",
        findings=findings,
        same_water=same_water,
        place=named.place,
    )


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


def _check_link(leak: Leak, leaks: Sequence[Leak]) -> None:
    others = [other.key for other in leaks if other.key != leak.key]
    if leak.same_water is None or leak.same_water in others:
        return
    itself = leak.same_water == leak.key
    raise fault(
        leak.place,
        "it names itself" if itself else f'there is no wet place "{leak.same_water}"',
        key="same-water",
        expected=one_of(others) if others else "another wet place of this file",
        nearest=None if itself else nearest(leak.same_water, others),
    )
