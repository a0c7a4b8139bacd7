"""Wet places drawn at random: any finding may be there, unsure, or unknown. All invented."""

from collections.abc import Iterator
from random import Random

from advisor.callout import Resolved
from advisor.engine.layout import Layout
from advisor.knowledge import Knowledge
from advisor.terms import Range

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
