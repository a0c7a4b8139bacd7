"""The columns of a firm's table, as its mapping has them."""

from collections.abc import Iterator
from typing import Final

from advisor.knowledge import Knowledge
from advisor.library.moves.csv_cells import CellReader
from advisor.library.moves.csv_rows import Sheet
from advisor.library.moves.mapping import ColumnMapping, spaced
from advisor.terms import Faulty, Place, Problem, nearest, problem_at

NEEDED: Final = ("case", "kind")
"""Without them no row can be taken."""


def columns_of(
    sheet: Sheet, knowledge: Knowledge, mapping: ColumnMapping | None
) -> list[CellReader]:
    """How the columns of a sheet are read. A column that has one of our names needs no mapping.

    Raises Faulty for columns that are in neither, and for mapped ones that are not there.
    """
    mapping = ColumnMapping() if mapping is None else mapping
    found: list[CellReader] = []
    problems: list[Problem] = []
    for index, header in enumerate(sheet.header):
        place = Place(sheet.file, sheet.header_line, index + 1)
        ours = mapping.columns.get(spaced(header))
        if spaced(header) in mapping.leave:
            continue
        try:
            reader = mapping.reader(knowledge, header if ours is None else ours, index, header)
        except Faulty as faulty:
            near = faulty.problems[0].nearest
            message = "this column is neither mapped nor left out"
            expected = "it under `columns` or `leave` of the mapping"
            told = problem_at(place, message, key=header, expected=expected, nearest=near)
            problems.append(told)
            continue
        twice = next((one for one in found if one.column.name == reader.column.name), None)
        if twice is not None or reader.column.name in mapping.fixed:
            message = f"{reader.column.name} is told twice"
            told = problem_at(place, message, key=header, expected="one column for it")
            problems.append(told)
        found.append(reader)
    problems += _missing(sheet, mapping, found)
    if problems:
        raise Faulty(problems)
    return found


def _missing(sheet: Sheet, mapping: ColumnMapping, found: list[CellReader]) -> Iterator[Problem]:
    start = Place(sheet.file, sheet.header_line, 1)
    there = {spaced(header) for header in sheet.header}
    for theirs in mapping.columns:
        if theirs not in there:
            message = "the mapping names this column, and it is not there"
            near = nearest(theirs, there)
            yield problem_at(start, message, key=theirs, nearest=near)
    told = {one.column.name for one in found} | set(mapping.fixed)
    for name in NEEDED:
        if name not in told and name not in mapping.columns.values():
            message = "no column is mapped to this, and no row can be taken without"
            yield problem_at(start, message, key=name, expected=f'a column "{name}", or a mapping')
