"""The cells of a file of loads: one number each, in the unit of its column."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from advisor.callout.csv_table import Cell, quoted
from advisor.callout.load_columns import MEASURES, Column, unit_of
from advisor.terms import (
    Faulty,
    Place,
    Problem,
    Unreadable,
    fault,
    problem_at,
    read_quantity,
    unit_named,
)

_NUMBER = re.compile(
    r"(?P<number>[-+−–—]?\s*[.,]?[0-9](?:[-0-9.,/ –—]*[0-9.,])?)\s*(?P<unit>[^-0-9\s.,/–—].*)?"
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")  # refused where the cell is read
_MARKS = {",": "comma", ".": "point"}
_WHOLE = 100.0

MAY_BE_NOTHING = ("dose",)
"""A load without its dose is just what is looked for."""


def settled(column: Column, cells: Iterable[Cell]) -> Column:
    """The column with the unit that its cells name, where its header names none.

    Raises Faulty where neither names one.
    """
    if column.name not in MEASURES or column.unit is not None:
        return column
    filled = [cell for cell in cells if cell.text]
    written = [(cell, unit) for cell in filled if (unit := _parts(cell)[1])]
    if filled and not written:
        expected = MEASURES[column.name].expected
        raise fault(
            column.cell.place,
            "no unit, neither here nor in the cells",
            key=column.name,
            expected=f'{expected}, such as "{column.name} ({_usual(column)})"',
        )
    for cell, unit in written:
        try:
            return replace(column, unit=unit_of(column.name, unit, cell.place), in_cells=True)
        except Faulty:  # told where the cell is read
            continue
    return replace(column, in_cells=True)


def text(cell: Cell, column: Column) -> str:
    """What a cell says. Raises Faulty for an empty one."""
    if not cell.text:
        expected = f"the {column.name} of this load"
        raise fault(cell.place, "nothing is written here", key=column.name, expected=expected)
    return cell.text


def amount(cell: Cell, column: Column) -> float:
    """The number in a cell, not below 0, in the usual unit of its dimension. Raises Faulty."""
    name, unit = column.name, column.unit
    behind = f" {unit.symbol if unit else _usual(column)}" if column.in_cells else ""
    number, own = _parts(cell)
    if not number:
        message = f"{quoted(cell.text)} is no number" if cell.text else "nothing is written here"
        raise fault(cell.place, message, key=name, expected=f"a number such as 7.5{behind}")
    if not own and column.in_cells:
        raise fault(cell.place, "the unit is missing", key=name, expected=f"{number}{behind}")
    named = unit_of(name, own, cell.place) if own else None
    if named is not None and unit is not None and named != unit:
        raise fault(
            cell.place,
            f"mixed units: {named.symbol} here, {unit.symbol}"
            f" {'in the rows above' if column.in_cells else 'in the header'}",
            key=name,
            expected=f"{unit.symbol} in the whole column",
        )
    return _read(number, cell, column)


def _read(number: str, cell: Cell, column: Column) -> float:
    unit = column.unit or unit_named(_usual(column))
    assert unit is not None, "the usual units are in the table"
    usual = MEASURES[column.name].units[unit.dimension]
    try:
        found = read_quantity(f"{number} {unit.symbol}", usual)
    except Unreadable as unreadable:
        expected = "a number without thousands separators, such as 1250 or 1.25"
        raise fault(cell.place, unreadable.message, key=column.name, expected=expected) from None
    if not found.is_point:
        message = f"{quoted(number)} is more than one number"
        raise fault(cell.place, message, key=column.name, expected="a number such as 7.5")
    written = f"{number} {unit.symbol} cannot be"
    least = "0 or more" if column.name in MAY_BE_NOTHING else "more than 0"
    if found.lo < 0 or (found.lo == 0 and column.name not in MAY_BE_NOTHING):
        raise fault(cell.place, written, key=column.name, expected=f"{least} {unit.symbol}")
    if unit.dimension == "share" and found.lo > _WHOLE:
        raise fault(cell.place, written, key=column.name, expected="at most 100 %")
    return found.lo


def mark_problems(cells: Iterable[Cell]) -> Iterator[Problem]:
    """A point in one number and a comma in another: one of them may part thousands."""
    first: tuple[str, Place] | None = None
    for cell in cells:
        number = _parts(cell)[0]
        marks = [mark for mark in _MARKS if mark in number]
        if len(marks) != 1 or _THOUSANDS.fullmatch(number):
            continue
        if first is None:
            first = marks[0], cell.place
        elif marks[0] != first[0]:
            yield problem_at(
                cell.place,
                f"{quoted(number)} has a decimal {_MARKS[marks[0]]}, row {first[1].line}"
                f" has a decimal {_MARKS[first[0]]}",
                expected="one kind in the whole file",
            )


def _usual(column: Column) -> str:
    return next(iter(MEASURES[column.name].units.values()))


def _parts(cell: Cell) -> tuple[str, str]:
    """Number and unit of a cell; both empty where it is no number."""
    match = _NUMBER.fullmatch(cell.text)
    return (match["number"], match["unit"] or "") if match else ("", "")
