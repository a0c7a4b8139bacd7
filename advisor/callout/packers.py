"""The table of an injection, read from a CSV file: one row a packer.

A header with these names in any order; only `packer` must be there. Units stand in the header,
`pressure (bar)`, or in every cell, `20 bar`. minutes: how long it took; ended: why it was stopped.
"""

from __future__ import annotations

import re
from pathlib import Path

from advisor.callout.csv_table import Cell, Row, parse_table
from advisor.callout.log_values import PACKER
from advisor.terms import Faults, Scalar, nearest, one_of, problem_at
from advisor.terms.source_file import read_bytes

_HEADER = re.compile(r"([a-z]+)(?:\s*[(\[]\s*([^)\]]*?)\s*[)\]])?", re.IGNORECASE)
_BARE = re.compile(r"[0-9.,]+")
_PLAIN = ("packer", "minutes", "ended")
"""Columns that carry no unit."""
_MINUTES = ("", "min", "minutes")


def read_packers(path: str | Path) -> tuple[dict[str, str], ...]:
    """The rows as the log of a callout file writes them. Raises Faulty with every problem."""
    return parse_packers(read_bytes(Path(path)), str(path))


def parse_packers(data: bytes | str, file: str) -> tuple[dict[str, str], ...]:
    """The rows in `data`. file: its name in messages. Raises as `read_packers` does."""
    faults = Faults()
    table = parse_table(data, file, faults)
    columns = [_column(cell, faults) for cell in table.header]
    names = [name for name, _ in columns]
    for cell, name in zip(table.header, names, strict=True):
        if name and names.count(name) > 1:
            faults.add(problem_at(cell.place, "this column stands there twice", key=name))
    if "packer" not in names:
        told, expected = "the column of the packers is missing", 'a column "packer"'
        faults.add(problem_at(table.header[0].place, told, key="packer", expected=expected))
    faults.stop()
    rows = tuple(_row(row, columns, faults) for row in table.rows)
    faults.stop()
    return rows


def _row(row: Row, columns: list[tuple[str, str]], faults: Faults) -> dict[str, str]:
    """What is written of one packer. What the log could not read is a fault here, with its row."""
    said = {}
    for cell, (name, unit) in zip(row, columns, strict=True):
        if cell.text:
            said[name] = _with_unit(cell.text, name, unit)
            with faults.catch():
                PACKER[name](Scalar(said[name], True, False, cell.place), name)
        elif name == "packer":
            told, expected = "this row names no packer", "its number"
            faults.add(problem_at(cell.place, told, key=name, expected=expected))
    return said


def _column(cell: Cell, faults: Faults) -> tuple[str, str]:
    """The name of a column and its unit; empty where the header says none."""
    parts = _HEADER.fullmatch(cell.text)
    name = parts[1].lower() if parts else cell.text
    if name not in PACKER:
        told, near = "this column is not known here", nearest(name, PACKER)
        faults.add(
            problem_at(cell.place, told, key=cell.text, expected=one_of(PACKER), nearest=near)
        )
        return "", ""
    unit = (parts[2] or "") if parts else ""
    if name == "minutes" and unit not in _MINUTES:
        told, expected = f'"{unit}" are no minutes', 'a column "minutes", in minutes'
        faults.add(problem_at(cell.place, told, key=name, expected=expected))
    return name, unit


def _with_unit(text: str, name: str, unit: str) -> str:
    return f"{text} {unit}" if unit and name not in _PLAIN and _BARE.fullmatch(text) else text
