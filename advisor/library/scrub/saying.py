"""What was used and read, as the library keeps it: numbers with units and choices, no free text."""

from collections.abc import Mapping

from advisor.callout import Resolved
from advisor.knowledge import Knowledge
from advisor.library.alike.findings import say_findings
from advisor.library.scrub.banding import banded
from advisor.terms import (
    Faulty,
    Place,
    Range,
    Scalar,
    Unreadable,
    read_quantity,
    read_value,
    say_range,
)

NOWHERE = Place("", 1, 1)


def kept_amounts(knowledge: Knowledge, amounts: Mapping[str, str]) -> tuple[dict[str, str], int]:
    """Quantities and materials in their own units, and how many could not be read."""
    found = {}
    for key, written in amounts.items():
        entry = knowledge.quantities.get(key) or knowledge.materials.get(key)
        if entry is None:
            continue
        try:
            found[key] = say_range(read_quantity(written, entry.unit), entry.unit)
        except Unreadable:
            continue
    return found, len(amounts) - len(found)


def kept_readings(knowledge: Knowledge, readings: Mapping[str, str]) -> tuple[dict[str, str], int]:
    """Readings of attributes in the kept form, and how many are none that is kept."""
    facts: dict[str, Resolved] = {}
    for key, written in readings.items():
        attribute = knowledge.attributes.get(key)
        if attribute is None or attribute.kind not in ("choice", "yes-no", "number"):
            continue
        try:
            value = read_value(Scalar(written, False, False, NOWHERE), attribute)
        except Faulty:
            continue
        if isinstance(value, int | Range):
            facts[key] = Resolved(value)
    said = say_findings(knowledge, banded(knowledge, facts)[0])
    found = {key: finding.value for key, finding in said.items() if finding.value is not None}
    return found, len(readings) - len(found)
