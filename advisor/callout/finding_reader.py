"""The findings of a block of the file: of the structure, of a visit, of a wet place."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from advisor.callout.calendar import Calendar
from advisor.callout.entries import items
from advisor.callout.reading_reader import read_reading
from advisor.callout.record import Finding, Reading
from advisor.terms import Attribute, Faults, Listing, Node, Of, Scalar, fault, nearest
from advisor.terms import Mapping as Keys

BELONGS: dict[Of, str] = {
    "structure": 'it under "structure"',
    "visit": 'it in an entry of "visits", beside its date',
    "leak": 'it under "findings" of a wet place',
}


@dataclass(frozen=True, slots=True)
class Block:
    """Where findings stand. visit: the visit they belong to; 0 for the last one."""

    of: Of
    calendar: Calendar
    attributes: Mapping[str, Attribute]
    visit: int = 0


def read_findings(
    node: Keys, block: Block, faults: Faults, *, others: Collection[str] = ()
) -> dict[str, Finding]:
    """The findings of a block, by attribute. Every fault goes to `faults`.

    others: keys of the block that are no findings.
    """
    findings = {}
    for name, entry in node.entries:
        if name.text in others:
            continue
        with faults.catch():
            attribute = _attribute(name, block, others)
            findings[attribute.key] = _finding(name, entry, attribute, block)
    return findings


def _attribute(name: Scalar, block: Block, others: Collection[str]) -> Attribute:
    attribute = block.attributes.get(name.text)
    if attribute is None:
        here = [key for key, known in block.attributes.items() if known.of == block.of]
        raise fault(
            name,
            "there is no such attribute",
            key=name.text[:64],
            expected="a key that `advisor knowledge list` shows",
            nearest=nearest(name.text, [*here, *others]) or nearest(name.text, block.attributes),
        )
    if attribute.of != block.of:
        raise fault(
            name, "this does not belong here", key=attribute.key, expected=BELONGS[attribute.of]
        )
    return attribute


def _finding(name: Scalar, node: Node, attribute: Attribute, block: Block) -> Finding:
    if not isinstance(node, Listing) or not _lists_readings(node):
        only = read_reading(node, attribute, block.calendar, visit=block.visit, earlier=())
        return Finding(attribute.key, (only,), name.place)
    faults = Faults()
    readings: list[Reading | None] = []
    for item in items(node, attribute.key):
        reading = None
        with faults.catch():
            _check_form(item, attribute)
            reading = read_reading(
                item, attribute, block.calendar, visit=block.visit, earlier=readings
            )
        readings.append(reading)
    faults.stop()
    return Finding(attribute.key, tuple(r for r in readings if r is not None), name.place)


def _lists_readings(node: Listing) -> bool:
    """A list of words is a value: it is for the attribute to say whether it may be one."""
    return any(isinstance(item, Keys) for item in node.items)


def _check_form(node: Node, attribute: Attribute) -> None:
    if not isinstance(node, Keys):
        raise fault(
            node,
            "only dated readings stand in a list",
            key=attribute.key,
            expected="{value: …, visit: N}",
        )
