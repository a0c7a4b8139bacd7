"""Findings of wet places as rows of the engine's table."""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from advisor.callout import Resolved
from advisor.engine import Engine, Table
from advisor.knowledge import Knowledge
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


def forget(engine: Engine, table: Table, row: int, variables: Iterable[str]) -> None:
    """Take some variables of a row as unknown."""
    layout = engine.layout
    for key in variables:
        table.sure[layout.row[key], row] = True
        table.not_applicable[layout.row[key], row] = False
        if key in layout.choice_row:
            table.masks[layout.choice_row[key], row] = layout.full[layout.choice_row[key]]
        else:
            number = layout.number_row[key]
            table.lo[number, row] = layout.lowest[number]
            table.hi[number, row] = layout.highest[number]


@lru_cache(maxsize=4)
def variables_resting_on(knowledge: Knowledge) -> dict[str, tuple[str, ...]]:
    """For each attribute, the variables that a finding of it settles: its own, and those cut
    from it."""
    variables = knowledge.engine.layout.variables
    return {
        key: tuple(v.key for v in variables if v.key.partition(".")[0] == key or key in v.origins)
        for key in knowledge.attributes
    }
