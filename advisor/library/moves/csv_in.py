"""CSV read as cases: a firm's own table through its mapping, or the library's own export.

Nothing is guessed. A row with a word that is neither ours nor in the mapping is not taken and is
told by its line; the words are listed with how often they occur. Only coded columns are kept: no
free text, no date, and of the firm's own number only a keyed hash.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from pydantic import ValidationError

from advisor.callout.csv_table import row_problem
from advisor.knowledge import Knowledge
from advisor.library.case import KeptCase, KeptFinding, KeptPlace, Origin
from advisor.library.moves.csv_cells import CellReader
from advisor.library.moves.csv_place import (
    FINDINGS,
    Said,
    complaints,
    first_day,
    kept_place,
    quarter_of,
)
from advisor.library.moves.csv_rows import Sheet, SheetRow, read_sheet
from advisor.library.moves.import_columns import LAST_DAY, UNKNOWN
from advisor.library.moves.import_findings import FINDING
from advisor.library.moves.mapped_columns import NEEDED, columns_of
from advisor.library.moves.mapping import ColumnMapping
from advisor.library.moves.own_export import is_own, own_columns
from advisor.library.scrub.labels import token
from advisor.terms import Place, Problem, problem_at

OF_THE_CASE: Final = ("kind", "quarter", "origin", "invented")
"""What all rows of a case must say alike."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """refused: what is wrong with the rows that are not taken; each has file, line, and the name of
    its column as key. unmatched: by our column the words that are none of ours and not in the
    mapping, and how often they occur. taken, rows: how many of how many.
    """

    cases: tuple[KeptCase, ...]
    refused: tuple[Problem, ...]
    unmatched: Mapping[str, Mapping[str, int]]
    taken: int
    rows: int


@dataclass(frozen=True, slots=True)
class _Row:
    line: int
    said: Said


def read_csv(
    data: bytes,
    file: str,
    knowledge: Knowledge,
    mapping: ColumnMapping | None,
    *,
    key: bytes,
    origin: Origin,
) -> Read:
    """mapping: not asked of the library's own export. key: for the firm's own numbers. origin: of
    rows that do not tell theirs.

    Raises Faulty where nothing can be taken: no table, another encoding, columns that are unknown.
    """
    sheet = read_sheet(data, file)
    own = is_own(sheet)
    readers = _own_readers(sheet, knowledge) if own else columns_of(sheet, knowledge, mapping)
    fixed = {} if own or mapping is None else _fixed(mapping, knowledge)
    table = _Table(file, readers, own)
    rows = [row for row in (table.row(one, fixed) for one in sheet.rows) if row]
    cases = tuple(_cases(table, rows, None if own else key, origin))
    return Read(
        cases=cases,
        refused=tuple(sorted((*sheet.refused, *table.refused), key=lambda one: one.line or 0)),
        unmatched={one.column.name: one.unmatched for one in readers if one.unmatched},
        taken=sum(len(case.places) for case in cases),
        rows=sheet.count,
    )


def _own_readers(sheet: Sheet, knowledge: Knowledge) -> list[CellReader]:
    columns = own_columns(sheet, knowledge)
    return [
        CellReader(index, sheet.header[index], column, {})
        for index, column in enumerate(columns)
        if column is not None
    ]


def _fixed(mapping: ColumnMapping, knowledge: Knowledge) -> Said:
    """What every row says. It was checked where the mapping was read."""
    said: dict[str, Any] = {}
    for ours, text in mapping.fixed.items():
        reader = CellReader(0, ours, mapping.column(knowledge, ours), {})
        _say(said, ours, reader.read(text, Place("", 1, 1))[0])
    return said


def _say(said: dict[str, Any], name: str, value: Any) -> None:
    """Findings of all columns are gathered under one name."""
    if name.startswith(FINDING) or name == FINDINGS:
        gathered: dict[str, KeptFinding] = dict(said.get(FINDINGS) or {})
        for one in value if isinstance(value, tuple) else (value or {},):
            gathered.update(one)
        said[FINDINGS] = gathered
    else:
        said[name] = value


class _Table:
    """Gathers what is refused while the rows are gone through."""

    def __init__(self, file: str, readers: list[CellReader], own: bool) -> None:
        self.file, self.readers, self.own = file, readers, own
        self.headers = {one.column.name: (one.index + 1, one.header) for one in readers}
        # A table without such a column has one place a case.
        self.needed = (*NEEDED, "place") if "place" in self.headers else NEEDED
        self.refused: list[Problem] = []
        self.lines: dict[tuple[str, int], int] = {}

    def row(self, row: SheetRow, fixed: Said) -> _Row | None:
        """None, and told, where it is not taken."""
        place = Place(self.file, row.line, 1)
        said: dict[str, Any] = dict(fixed)
        problems: list[Problem] = []
        for reader in self.readers:
            if text := row.cells[reader.index]:
                value, wrong = reader.read(text, place)
                problems += wrong
                _say(said, reader.column.name, value)
        if not problems:
            problems += [
                self.problem(row.line, name, "nothing is written here")
                for name in self.needed
                if not said.get(name)
            ]
            problems += [self.problem(row.line, *one) for one in complaints(said, own=self.own)]
        problems += self.again(row.line, said)
        self.refused += problems
        return None if problems else _Row(row.line, said)

    def again(self, line: int, said: Said) -> Iterator[Problem]:
        """A place of a case that stood in a row before, whether that was taken or not."""
        case, place = said.get("case"), said.get("place", None if "place" in self.needed else 1)
        if case and place:
            first = self.lines.setdefault((case, place), line)
            if first != line:
                message = f"place {place} of this case stands in row {first} too"
                yield self.problem(line, "place", message, "each place of a case once")

    def problem(self, line: int, ours: str, message: str, expected: str | None = None) -> Problem:
        """At the column that tells it; of the whole row where none does."""
        if ours in self.headers:
            column, header = self.headers[ours]
            at = Place(self.file, line, column)
            return problem_at(at, message, key=header, expected=expected)
        return row_problem(Place(self.file, line, 1), message, key=ours, expected=expected)

    def refuse(self, row: _Row, ours: str, message: str, expected: str | None = None) -> None:
        self.refused.append(self.problem(row.line, ours, message, expected))


def _cases(
    table: _Table, rows: Iterable[_Row], key: bytes | None, origin: Origin
) -> Iterator[KeptCase]:
    """key: None where the rows tell the token of their case themselves."""
    of_case: dict[str, list[_Row]] = {}
    for row in rows:
        of_case.setdefault(row.said["case"], []).append(row)
    for number, several in of_case.items():
        alike, head = _alike(table, several)
        first = first_day(row.said for row in alike)
        places = tuple(_places(table, alike, first))
        if places:
            yield KeptCase(
                case=number if key is None else token(key, number),
                origin=head.get("origin") or origin,
                invented=bool(head.get("invented")),
                quarter=head.get("quarter") or quarter_of(first),
                kind=head["kind"],
                visits=max(row.said.get("visits") or 0 for row in alike),
                places=places,
            )


def _alike(table: _Table, rows: list[_Row]) -> tuple[list[_Row], Said]:
    """The rows of a case that say the same of it as those above them, and what they say of it."""
    head: dict[str, Any] = {}
    lines: dict[str, int] = {}
    kept = []
    for row in rows:
        told = {name: row.said[name] for name in OF_THE_CASE if row.said.get(name) is not None}
        other = next((name for name in told if head.get(name, told[name]) != told[name]), None)
        if other is not None:
            message = f"row {lines[other]} of this case says something else"
            table.refuse(row, other, message, "the same in all rows of a case")
            continue
        for name in told.keys() - head.keys():
            head[name], lines[name] = told[name], row.line
        kept.append(row)
    return kept, head


def _places(table: _Table, rows: Iterable[_Row], first: date | None) -> Iterator[KeptPlace]:
    for row in rows:
        said = dict(row.said)
        if not table.own and said["kind"] != UNKNOWN:
            # Every wet place knows its structure, as one that comes from a record does.
            said[FINDINGS] = {"kind": KeptFinding(value=said["kind"]), **(said.get(FINDINGS) or {})}
        try:
            yield kept_place(said, first)
        except ValidationError:
            message = "a day of this row lies too far from the first visit of its case"
            table.refuse(row, "case", message, f"at most {LAST_DAY} days")
