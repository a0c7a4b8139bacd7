"""What was built, from a CSV file: the base that rates are told by.

Columns: `kind` (of structure, or all), `quarter` (2031-Q2) or `year` (2031), `metres-of-joint` and
`cubic-metres`, one of them at least. An empty amount is not known, and is not nothing.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal, get_args

from advisor.callout.csv_table import Cell, Row, Table, parse_table, quoted, row_problem
from advisor.knowledge import Knowledge
from advisor.terms import Faults, fault, nearest, one_of, problem_at
from advisor.terms.source_file import read_bytes

Base = Literal["metres-of-joint", "cubic-metres"]

BASES: Final[tuple[Base, ...]] = get_args(Base)
ALL: Final = "all"
_KIND, _QUARTER, _YEAR = "kind", "quarter", "year"
_COLUMNS: Final = (_KIND, _QUARTER, _YEAR, *BASES)
_WRITTEN: Final = {
    _QUARTER: (re.compile(r"([0-9]{4})-Q([1-4])", re.ASCII), "a quarter, such as 2031-Q2"),
    _YEAR: (re.compile(r"([0-9]{4})", re.ASCII), "a year, such as 2031"),
}
_AMOUNT: Final = re.compile(r"[0-9]{1,12}(\.[0-9]{1,6})?", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """What was built of one kind of structure in some quarters. kind: None for all kinds.

    quarters: each year * 4 + 0 to 3. amount: metres of construction joint, or cubic metres.
    """

    kind: str | None
    quarters: tuple[int, ...]
    base: Base
    amount: float


Supplied = tuple[Amount, ...]
"""No quarter stands twice for the same kind and base."""


def read_supplied(path: str | Path, knowledge: Knowledge) -> Supplied:
    """What a file says. Raises Faulty with every problem."""
    return parse_supplied(read_bytes(Path(path)), str(path), knowledge)


def parse_supplied(data: bytes | str, file: str, knowledge: Knowledge) -> Supplied:
    """What `data` says. file: its name in messages. Raises as `read_supplied` does."""
    faults = Faults()
    table = parse_table(data, file, faults)
    _check_header(table, faults)
    faults.stop()
    names = [cell.text for cell in table.header]
    kinds = [choice.key for choice in knowledge.attributes[_KIND].choices]
    found: list[Amount] = []
    taken: dict[tuple[str | None, Base, int], int] = {}
    for row in table.rows:
        with faults.catch():
            cells = dict(zip(names, row, strict=True))
            kind, quarters = _kind(cells[_KIND], kinds), _quarters(cells, row)
            for base, cell, amount in _amounts(cells, row):
                for quarter in quarters:
                    line = taken.setdefault((kind, base, quarter), cell.place.line)
                    if line != cell.place.line:
                        told = f"{say_quarter(quarter)} is counted in line {line} already"
                        raise fault(cell.place, told, key=base, expected="each quarter once")
                found.append(Amount(kind=kind, quarters=quarters, base=base, amount=amount))
    faults.stop()
    return tuple(found)


def say_quarter(quarter: int) -> str:
    """`2031-Q2`."""
    return f"{quarter // 4:04d}-Q{quarter % 4 + 1}"


def quarter_of(text: str) -> int:
    """The number of `2031-Q2`: year * 4 + 1."""
    year, _, number = text.partition("-Q")
    return int(year) * 4 + int(number) - 1


def _check_header(table: Table, faults: Faults) -> None:
    names = [cell.text for cell in table.header]
    for place, cell in enumerate(table.header):
        told = None
        if cell.text not in _COLUMNS:
            told = "this column is not known here"
        elif cell.text in names[:place]:
            told = "this column stands there twice"
        if cell.text and told:
            near = nearest(cell.text, _COLUMNS)
            faults.add(
                problem_at(cell.place, told, key=cell.text, expected=one_of(_COLUMNS), nearest=near)
            )
    for needed in ((_KIND,), (_QUARTER, _YEAR), BASES):
        if not any(name in names for name in needed):
            told = f"there is no column {' or '.join(needed)}"
            faults.add(row_problem(table.header[0].place, told, expected=" or ".join(needed)))


def _kind(cell: Cell, kinds: list[str]) -> str | None:
    if cell.text == ALL:
        return None
    key = cell.text.replace(" ", "-")
    if key not in kinds:
        told = f"{quoted(cell.text)} is no kind of structure"
        known = [ALL, *kinds]
        raise fault(
            cell.place, told, key=_KIND, expected=one_of(known), nearest=nearest(key, known)
        )
    return key


def _quarters(cells: Mapping[str, Cell], row: Row) -> tuple[int, ...]:
    """The quarters of a row: one, or the four of a year."""
    written = [name for name in (_QUARTER, _YEAR) if name in cells and cells[name].text]
    if len(written) != 1:
        told = "a row tells of a quarter or of a year"
        raise fault(row[0].place, told, key=_QUARTER, expected="one of the two")
    [name] = written
    form, expected = _WRITTEN[name]
    parts = form.fullmatch(cells[name].text)
    if parts is None:
        told = f"{quoted(cells[name].text)} is no {name}"
        raise fault(cells[name].place, told, key=name, expected=expected)
    first = int(parts[1]) * 4
    return (first + int(parts[2]) - 1,) if name == _QUARTER else tuple(range(first, first + 4))


def _amounts(cells: Mapping[str, Cell], row: Row) -> Iterator[tuple[Base, Cell, float]]:
    """The amounts that are known of a row."""
    written = [(base, cells[base]) for base in BASES if base in cells and cells[base].text]
    if not written:
        raise fault(row[0].place, "this row has no amount", key=BASES[0], expected="one at least")
    for base, cell in written:
        if _AMOUNT.fullmatch(cell.text) is None:
            told = f"{quoted(cell.text)} is no amount"
            raise fault(cell.place, told, key=base, expected="a plain number, such as 1200.5")
        yield base, cell, float(cell.text)
