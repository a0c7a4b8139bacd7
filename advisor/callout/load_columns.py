"""The header of a file of loads: which column is what, and in which unit."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher
from types import MappingProxyType

from advisor.callout.csv_table import Cell, Row, quoted, row_problem
from advisor.terms import (
    Faults,
    Faulty,
    Place,
    Problem,
    Unit,
    all_units,
    fault,
    nearest,
    problem_at,
    unit_named,
)

NAMES = ("ticket", "volume", "cement", "dose", "pour")
OPTIONAL = "cement"

_CLOSE = 0.65
_LONGEST = 40


@dataclass(frozen=True, slots=True)
class Measure:
    """units: what it is read in, by dimension. expected: what may be written, in words."""

    units: Mapping[str, str]
    expected: str


MEASURES: Mapping[str, Measure] = MappingProxyType(
    {
        "volume": Measure({"volume": "m3"}, "m3 or L"),
        "cement": Measure({"density": "kg/m3", "mass": "kg"}, "kg/m3, or kg for kg a load"),
        "dose": Measure(
            {"mass": "kg", "density": "kg/m3", "share": "%"}, "kg, kg/m3 or % of cement"
        ),
    }
)


@dataclass(frozen=True, slots=True)
class Column:
    """index: its place in a row. unit: of the whole column. in_cells: every cell names it."""

    name: str
    index: int
    cell: Cell
    unit: Unit | None = None
    in_cells: bool = False


@dataclass(frozen=True, slots=True)
class Columns:
    """read: by name. aside: the others, as (index, header)."""

    read: Mapping[str, Column]
    aside: tuple[tuple[int, Cell], ...]


_HEADER = re.compile(
    r"(?P<name>[a-z]+)(?:\s*[(\[](?P<within>[^)\]]*)[)\]]|[\s,:]+(?P<behind>.*))?", re.IGNORECASE
)
_BASIS = re.compile(r"\s*(?:(?:/|\b(?:a|per)\b)\s*load|\bof\s+(?:the\s+)?cement)$", re.IGNORECASE)


def read_columns(header: Row, faults: Faults) -> Columns:
    """The columns that the header names. What is wrong with it is added to `faults`."""
    read: dict[str, Column] = {}
    unclear: dict[str, list[tuple[int, Cell, Problem]]] = {}
    aside: list[tuple[int, Cell]] = []
    for index, cell in enumerate(header):
        name, unit_text = _parts(cell.text)
        if name not in NAMES or (unit_text and name not in MEASURES):
            aside.append((index, cell))
            continue
        try:
            unit = unit_of(name, unit_text, cell.place) if unit_text else None
        except Faulty as faulty:
            unclear.setdefault(name, []).append((index, cell, faulty.problems[0]))
            continue
        if name in read:
            first = read[name].cell.place.column
            faults.add(
                problem_at(
                    cell.place,
                    f"column {first} is {name} too",
                    key=name,
                    expected=f"one column {name}",
                )
            )
            continue
        read[name] = Column(name, index, cell, unit)
    for name, candidates in unclear.items():
        if name in read:  # "volume ordered" beside "volume (m3)"
            aside += [(index, cell) for index, cell, _ in candidates]
        else:
            faults.add(*(problem for _, _, problem in candidates))
    missing = [n for n in NAMES if n not in read and n not in unclear and n != OPTIONAL]
    _tell_missing(missing, aside, header[0].place, faults)
    return Columns(read, tuple(sorted(aside, key=lambda pair: pair[0])))


def _tell_missing(
    missing: list[str], aside: list[tuple[int, Cell]], start: Place, faults: Faults
) -> None:
    """A missing column that a misspelt one was probably meant to be is told there."""
    for name in missing:
        near = next((cell for _, cell in aside if like(cell.text, name)), None)
        if near is None:
            faults.add(
                row_problem(start, "this column is missing", key=name, expected=_header_like(name))
            )
        else:
            faults.add(
                problem_at(
                    near.place,
                    "no column is called so",
                    key=near.text[:_LONGEST],
                    expected=_header_like(name),
                    nearest=name,
                )
            )


def like(header: str, name: str) -> bool:
    """Whether a header is probably a misspelling of a name, or that name with more behind it."""
    first = re.split(r"[\s_(\[]", header[:_LONGEST].lower(), maxsplit=1)[0]
    # Stricter than `nearest`: a time is no ticket. "vol" and "poor" are still close enough.
    return SequenceMatcher(None, first, name).ratio() >= _CLOSE


def unit_of(name: str, written: str, place: Place) -> Unit:
    """The unit that a header or a cell of a measure names. Raises Faulty."""
    measure = MEASURES[name]
    bare = _BASIS.sub("", written).strip()
    unit = unit_named(bare)
    if unit is not None and unit.dimension in measure.units:
        return unit
    symbols = [known.symbol for known in all_units() if known.dimension in measure.units]
    message = f"{quoted(written)} is no unit of {name}"
    suggestion = nearest(bare, symbols) if unit is None else None
    raise fault(place, message, key=name, expected=measure.expected, nearest=suggestion)


def _parts(header: str) -> tuple[str, str]:
    """Name and unit of a header; an empty name where it has none."""
    match = _HEADER.fullmatch(header.replace("_", " ").strip())
    if match is None:
        return "", ""
    return match["name"].lower(), (match["within"] or match["behind"] or "").strip()


def _header_like(name: str) -> str:
    """A header of that name as it may stand."""
    if name not in MEASURES:
        return f'a column "{name}"'
    unit = next(iter(MEASURES[name].units.values()))
    return f'a column "{name} ({unit})"'
