"""The loads of concrete of a pour, read from a CSV file: ticket, volume, cement, dose, pour.

A file of loads has a header with these names in any order; `cement` may be missing. Units stand
in the header, `volume (m3)` or `volume m3`, or in every cell, `7.5 m3`. Cement is in kg/m3 or kg
a load, the dose in kg, kg/m3 or % of the cement. Other columns are kept aside and told.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NamedTuple

from advisor.callout.csv_table import Cell, Row, Table, parse_table, quoted, row_problem
from advisor.callout.load_cells import amount, mark_problems, settled, text
from advisor.callout.load_columns import MEASURES, OPTIONAL, Column, Columns, like, read_columns
from advisor.terms import Faults, Faulty, Problem, fault, problem_at, say_number
from advisor.terms.source_file import read_bytes

LEANEST, RICHEST = 50.0, 1600.0
"""kg/m3 of cement. Leaner is no concrete; paste alone, with 0.3 of water, holds no more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One load. row: its line in the file. cement_kg_m3: None where no column says it."""

    row: int
    ticket: str
    volume_m3: float
    cement_kg_m3: float | None
    dose_kg: float
    pour: str


class Aside(NamedTuple):
    """A column that is not read: its header, and its cells in the order of the loads."""

    header: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Loads:
    """remarks: what whoever wrote the file should know, one for each column set aside."""

    loads: tuple[Load, ...]
    aside: tuple[Aside, ...]
    remarks: tuple[Problem, ...]


def read_loads(path: str | Path) -> Loads:
    """The loads in a CSV file. Raises Faulty with every problem of the file."""
    return parse_loads(read_bytes(Path(path)), str(path))


def parse_loads(data: bytes | str, file: str) -> Loads:
    """The loads in `data`, in UTF-8. file: its name in messages. Raises as `read_loads` does."""
    faults = Faults()
    table = parse_table(data, file, faults)
    columns = read_columns(table.header, faults)
    if not table.rows and not faults:
        start, expected = table.header[0].place, "a row for each load"
        faults.add(row_problem(start, "no loads below the header", expected=expected))
    columns = _with_units(columns, table, faults)
    faults.add(*_table_problems(columns, table))
    loads = []
    for row in table.rows:
        with faults.catch():
            loads.append(_load(row, columns))
    if faults:
        raise Faulty(sorted(faults.problems, key=lambda p: (p.line or 0, p.column or 0)))
    aside = (
        Aside(cell.text, tuple(row[index].text for row in table.rows))
        for index, cell in columns.aside
    )
    remarks = (_remark(cell, columns) for _, cell in columns.aside)
    return Loads(tuple(load for load in loads if load is not None), tuple(aside), tuple(remarks))


def _with_units(columns: Columns, table: Table, faults: Faults) -> Columns:
    read = dict(columns.read)
    for name, column in columns.read.items():
        with faults.catch():
            read[name] = settled(column, (row[column.index] for row in table.rows))
    return replace(columns, read=read)


def _table_problems(columns: Columns, table: Table) -> Iterator[Problem]:
    """What no cell alone shows."""
    dose = columns.read.get("dose")
    if dose is not None and _dimension(dose) == "share" and OPTIONAL not in columns.read:
        yield problem_at(
            dose.cell.place,
            "in % of the cement, and no column says how much cement",
            key="dose",
            expected='a column "cement (kg/m3)"',
        )
    measured = sorted(c.index for c in columns.read.values() if c.name in MEASURES)
    yield from mark_problems(row[index] for row in table.rows for index in measured)
    if (ticket := columns.read.get("ticket")) is not None:
        yield from _duplicates(row[ticket.index] for row in table.rows)


def _duplicates(tickets: Iterator[Cell]) -> Iterator[Problem]:
    rows: dict[str, int] = {}
    for cell in tickets:
        first = rows.setdefault(cell.text.casefold(), cell.place.line)
        if cell.text and first != cell.place.line:
            yield problem_at(
                cell.place,
                f"{quoted(cell.text)} stands in row {first} too",
                key="ticket",
                expected="each ticket once",
            )


def _load(row: Row, columns: Columns) -> Load | None:
    """The load in a row; None where the header lacks a column. Raises Faulty."""
    faults = Faults()
    texts: dict[str, str] = {}
    amounts: dict[str, float] = {}
    for name, column in columns.read.items():
        with faults.catch():
            if name in MEASURES:
                amounts[name] = amount(row[column.index], column)
            else:
                texts[name] = text(row[column.index], column)
    faults.stop()
    if not (texts.keys() >= {"ticket", "pour"} and amounts.keys() >= {"volume", "dose"}):
        return None
    volume = amounts["volume"]
    cement = None
    if OPTIONAL in amounts:
        cement = _cement(amounts[OPTIONAL], volume, columns.read[OPTIONAL], row)
    return Load(
        row=row[0].place.line,
        ticket=texts["ticket"],
        volume_m3=volume,
        cement_kg_m3=cement,
        dose_kg=_dose(amounts["dose"], volume, cement, columns.read["dose"]),
        pour=texts["pour"],
    )


def _cement(written: float, volume: float, column: Column, row: Row) -> float:
    """Cement in kg/m3, from kg/m3 or from kg a load. Raises Faulty for what cannot be."""
    cement = written / volume if _dimension(column) == "mass" else written
    if not LEANEST <= cement <= RICHEST:
        raise fault(
            row[column.index].place,
            f"{say_number(cement)} kg/m3 of cement cannot be",
            key=column.name,
            expected=f"{say_number(LEANEST)}-{say_number(RICHEST)} kg/m3;"
            ' cement of the whole load stands under "cement (kg)"',
        )
    return cement


def _dose(written: float, volume: float, cement: float | None, column: Column) -> float:
    """The dose in kg, from kg, kg/m3 or % of the cement."""
    if _dimension(column) == "density":
        return written * volume
    if _dimension(column) == "share":
        return written / 100 * volume * (cement or 0.0)  # without cement the header is refused
    return written


def _dimension(column: Column) -> str | None:
    return None if column.unit is None else column.unit.dimension


def _remark(cell: Cell, columns: Columns) -> Problem:
    meant = OPTIONAL if OPTIONAL not in columns.read and like(cell.text, OPTIONAL) else None
    return problem_at(cell.place, "this column is not read", key=cell.text, nearest=meant)
