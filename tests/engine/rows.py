"""Rows written by hand, as tables."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from math import inf, nextafter

from advisor.engine.layout import Layout, Table, blank_table

Finding = str | float | set[str] | tuple[float, float] | None
"""One choice or several still possible, a number or a range; None: said not to apply."""


@dataclass(frozen=True, slots=True)
class Row:
    findings: Mapping[str, Finding]
    unsure: Collection[str] = ()


def row(unsure: Collection[str] = (), **findings: Finding) -> Row:
    """Keys with an underscore for each hyphen."""
    return Row({key.replace("_", "-"): value for key, value in findings.items()}, unsure)


def table_of(layout: Layout, *rows: Row) -> Table:
    """A table of rows written by hand."""
    table = blank_table(layout, len(rows))
    for at, written in enumerate(rows):
        for key, finding in written.findings.items():
            table.sure[layout.row[key], at] = key not in written.unsure
            if finding is None:
                table.not_applicable[layout.row[key], at] = True
            elif isinstance(finding, (str, set)):
                choices = {finding} if isinstance(finding, str) else finding
                table.masks[layout.choice_row[key], at] = layout.mask(key, frozenset(choices))
            else:
                point = not isinstance(finding, tuple)
                lo, hi = (finding, nextafter(finding, inf)) if point else finding
                table.lo[layout.number_row[key], at] = lo
                table.hi[layout.number_row[key], at] = hi
    return table
