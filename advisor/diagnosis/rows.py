"""Findings of wet places as rows of the engine's table."""

from collections.abc import Mapping, Sequence

from advisor.callout import Resolved
from advisor.engine import Engine, Table
from advisor.terms import Range

Facts = Mapping[str, Resolved]
"""What is known of one wet place, by variable."""


def table_of(engine: Engine, places: Sequence[Facts]) -> Table:
    """One row a wet place. What the knowledge never asks for is left out."""
    table = engine.blank(len(places))
    layout = engine.layout
    for row, facts in enumerate(places):
        for key, fact in facts.items():
            place = layout.row.get(key)
            if place is None:
                continue
            table.not_applicable[place, row] = fact.not_applicable
            if isinstance(fact.value, int):
                table.masks[layout.choice_row[key], row] = fact.value
            elif isinstance(fact.value, Range):
                number = layout.number_row[key]
                table.lo[number, row] = max(fact.value.lo, layout.lowest[number])
                table.hi[number, row] = min(fact.value.hi, layout.highest[number])
            else:
                continue
            table.sure[place, row] = fact.sure
    return table
