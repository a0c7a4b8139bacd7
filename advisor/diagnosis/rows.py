"""Findings of wet places as rows of the engine's table."""

from collections.abc import Mapping, Sequence

from advisor.callout import Resolved
from advisor.engine import Engine, Table
from advisor.terms import Range

Facts = Mapping[str, Resolved]
"""What is known of one wet place, by variable."""

UNKNOWN = Resolved()


def table_of(engine: Engine, places: Sequence[Facts]) -> Table:
    """One row a wet place. What the knowledge never asks for is left out."""
    table = engine.blank(len(places))
    for row, facts in enumerate(places):
        for key, fact in facts.items():
            _write(engine, table, row, key, fact)
    return table


def table_of_changes(engine: Engine, facts: Facts, changed: Sequence[Facts]) -> Table:
    """A row for the facts, then one for each change of them: only what differs is written."""
    table = table_of(engine, [facts]).repeated(1 + len(changed))
    for row, other in enumerate(changed, 1):
        for key in facts.keys() | other.keys():
            if facts.get(key) is not other.get(key):
                _write(engine, table, row, key, other.get(key, UNKNOWN))
    return table


def _write(engine: Engine, table: Table, row: int, key: str, fact: Resolved) -> None:
    layout = engine.layout
    place = layout.row.get(key)
    if place is None:
        return
    table.not_applicable[place, row] = fact.not_applicable
    table.sure[place, row] = fact.sure
    if key in layout.choice_row:
        choice = layout.choice_row[key]
        table.masks[choice, row] = (
            fact.value if isinstance(fact.value, int) else layout.full[choice]
        )
        return
    number = layout.number_row[key]
    lowest, highest = layout.lowest[number], layout.highest[number]
    known = fact.value if isinstance(fact.value, Range) else Range(lowest, highest)
    table.lo[number, row] = max(known.lo, lowest)
    table.hi[number, row] = min(known.hi, highest)
