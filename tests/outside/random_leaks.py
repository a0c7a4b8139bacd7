"""Wet places drawn at random: any finding may be there, unsure, or unknown. All invented."""

from collections.abc import Iterator, Mapping
from random import Random

from advisor.callout import Callout, Resolved
from advisor.engine.layout import Layout
from advisor.knowledge import Knowledge
from advisor.terms import Attribute, Range

Facts = dict[str, Resolved]

KNOWN = 0.25
"""How often a finding is there; of the rest nothing is known."""
SURE = 0.8


def random_facts(knowledge: Knowledge, count: int, seed: int) -> Iterator[Facts]:
    """What is known of each place. The kind is always known; safety findings mostly are not."""
    chance, layout = Random(seed), knowledge.engine.layout
    observed = [
        variable.key
        for variable in layout.variables
        if variable.key in knowledge.attributes or _is_part(variable.key, knowledge)
    ]
    for _ in range(count):
        known = chance.uniform(0.5 * KNOWN, 2 * KNOWN)
        facts = {
            key: _drawn(layout, key, chance)
            for key in observed
            if key == "kind" or chance.random() < known
        }
        facts["kind"] = Resolved(value=facts["kind"].value, sure=True)
        yield facts


def _is_part(key: str, knowledge: Knowledge) -> bool:
    """One of several choices."""
    attribute = knowledge.attributes.get(key.partition(".")[0])
    return attribute is not None and attribute.kind == "several"


def _drawn(layout: Layout, key: str, chance: Random) -> Resolved:
    sure = chance.random() < SURE
    if key in layout.choice_row:
        choices = layout.variables[layout.row[key]].choices
        return Resolved(value=1 << chance.randrange(len(choices)), sure=sure)
    number = layout.number_row[key]
    low, high = float(layout.lowest[number]), float(layout.highest[number])
    # Most numbers of the trade are small against what their attribute allows.
    point = low + (min(high, low + 1e6) - low) * chance.random() ** 6
    return Resolved(value=Range.point(min(point, high)), sure=sure)


def random_callouts(knowledge: Knowledge, count: int, seed: int) -> Iterator[Callout]:
    """Callouts with one wet place, as a technician would write them. The kind is always known."""
    chance = Random(seed)
    by_record = {
        record: [a for a in knowledge.attributes.values() if a.of == record and _is_drawn(a)]
        for record in ("structure", "visit", "leak")
    }
    for _ in range(count):
        known = chance.uniform(0.01, 0.08)
        lines = {
            record: [
                f"{a.key}: {_written(a, chance)}"
                for a in attributes
                if a.key == "kind" or chance.random() < known
            ]
            for record, attributes in by_record.items()
        }
        yield Callout.parse(_callout(lines), "invented.yaml", knowledge.attributes)


def _is_drawn(attribute: Attribute) -> bool:
    """Words and days say nothing by themselves; what is worked out is not written."""
    answerable = bool(attribute.choices) or attribute.kind == "number"
    return answerable and not attribute.formula and not attribute.over_places


def _callout(lines: Mapping[str, list[str]]) -> str:
    visit = "".join(f"    {line}\n" for line in lines["visit"])
    structure = "".join(f"  {line}\n" for line in lines["structure"])
    findings = "".join(f"      {line}\n" for line in lines["leak"])
    return (
        "callout: invented\n"
        f"structure:\n{structure}"
        f"visits:\n  - date: 2026-03-02\n{visit}"
        f"leaks:\n  - leak: L\n    findings:{'' if findings else ' {}'}\n{findings}"
    )


def _written(attribute: Attribute, chance: Random) -> str:
    """A value in the full form of a reading; a kind is never in doubt."""
    if attribute.kind == "number":
        low, high = attribute.lowest, attribute.highest
        drawn = low + (min(high, low + 1e6) - low) * chance.random() ** 6
        rounded = float(f"{drawn:.3g}")
        number = rounded if low <= rounded <= high else low
        unit = attribute.unit or "count"
        plain = f"{number:.9f}".rstrip("0").rstrip(".")
        value = plain if unit == "count" else f"{plain} {unit}"
    elif attribute.kind == "several":
        there = [choice.key for choice in attribute.choices if chance.random() < 0.2]
        value = f"[{', '.join(there)}]"
    else:
        value = chance.choice(attribute.choices).key
    sure = attribute.key == "kind" or chance.random() < SURE
    return f"{{value: {value}, sure: {'true' if sure else 'false'}}}"
