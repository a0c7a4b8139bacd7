"""A table saved as CSV: a header, and rows with as many cells, each with its place.

Comma, semicolon or tab, whichever stands most often in the header. Rows count by the lines of
the file, columns by cells; both from 1, as a spreadsheet does.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from advisor.terms import Faults, Faulty, Place, Problem, problem_at
from advisor.terms.source_file import unreadable

_SHOWN = 40
_DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab"}
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_WORKBOOK = b"PK\x03\x04"
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")
# Delimiters in there belong to the text.
_SHELTERED = re.compile(r'"[^"]*"|\([^)]*\)|\[[^\]]*\]')


@dataclass(frozen=True, slots=True)
class Cell:
    """text: without spaces around it."""

    text: str
    place: Place


Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Each row has as many cells as the header."""

    header: Row
    rows: tuple[Row, ...]


def parse_table(data: bytes | str, file: str, faults: Faults) -> Table:
    """The table in `data`, in UTF-8; a byte order mark is forgiven, and empty rows at the end.

    file: its name in messages. faults: gathers the rows that are no rows; they are left out.
    Raises Faulty where there is no table to go on with.
    """
    text = _decoded(data, file) if isinstance(data, bytes) else data
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if odd := _CONTROL.search(text):
        raise Faulty(
            row_problem(
                Place(file, text.count("\n", 0, odd.start()) + 1, 1),
                f"an invisible or broken character (U+{ord(odd[0]):04X})",
                expected="plain text; delete it and save again",
            )
        )
    if _says_nothing(text):
        raise unreadable(file, "the file is empty", "a header and a row for each load")
    delimiter = _delimiter(text, file)
    header, *rows = _records(text, delimiter, file, faults)
    for cell in header:
        if not cell.text:
            faults.add(
                problem_at(cell.place, "this column has no name", expected="a name, or no column")
            )
    while rows and _is_empty(rows[-1]):
        rows.pop()
    kept = []
    for row in rows:
        if (problem := _misfit(row, header, delimiter)) is None:
            kept.append(row)
        else:
            faults.add(problem)
    return Table(header, tuple(kept))


def row_problem(
    place: Place, message: str, *, key: str | None = None, expected: str | None = None
) -> Problem:
    """A problem of a whole row: it has a line and no column."""
    return replace(problem_at(place, message, key=key, expected=expected), column=None)


def quoted(text: str) -> str:
    """A text of the file as messages show it: in quotes, a long one cut."""
    return f'"{text}"' if len(text) <= _SHOWN else f'"{text[:_SHOWN]}…"'


def _decoded(data: bytes, file: str) -> str:
    if data.startswith(_WORKBOOK):
        raise unreadable(file, "this is a workbook", "the sheet saved as CSV in UTF-8")
    return utf_8(data, file)


def utf_8(data: bytes, file: str) -> str:
    """The text of a CSV file. Raises Faulty where it is in another encoding."""
    if data.startswith(_UTF_16) or data[:2].count(0) == 1:
        raise unreadable(file, "the text is saved as UTF-16", "a file saved as CSV in UTF-8")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        problem = row_problem(
            Place(file, data.count(b"\n", 0, error.start) + 1, 1),
            "a letter in this row is not in UTF-8",
            expected="a file saved as CSV in UTF-8",
        )
        raise Faulty(problem) from None


def _delimiter(text: str, file: str) -> str:
    """What stands between the cells of the first row that is not empty."""
    above, line = next(
        (n, line) for n, line in enumerate(text.split("\n"), 1) if not _says_nothing(line)
    )
    bare = _SHELTERED.sub("", line)
    counts = {sign: bare.count(sign) for sign in _DELIMITERS}
    most = [sign for sign, count in counts.items() if count == max(counts.values())]
    if len(most) == 1:
        return most[0]
    found = " and ".join(_DELIMITERS[sign] for sign in most if counts[sign])
    raise Faulty(
        row_problem(
            Place(file, above, 1),
            f"{found} stand in the header alike" if found else "the header has one column only",
            expected="a header with comma, semicolon or tab between the columns",
        )
    )


def _records(text: str, delimiter: str, file: str, faults: Faults) -> Iterator[Row]:
    """The rows, header first, without empty ones above it."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    line, begun = 1, False
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            faults.add(broken_quote(str(error), Place(file, line, 1)))
            if not begun:  # without a header there is nothing to go on with
                faults.stop()
            return
        row = tuple(
            Cell(cell.strip(), Place(file, line, column)) for column, cell in enumerate(cells, 1)
        ) or (Cell("", Place(file, line, 1)),)
        begun = begun or not _is_empty(row)
        if begun:
            yield row
        line = reader.line_num + 1


def broken_quote(error: str, place: Place) -> Problem:
    """What the reader of CSV says of a row, in plain words."""
    if "unexpected end" in error or "field limit" in error:
        return row_problem(
            place,
            "a quote is opened in this row and never closed",
            expected="a second quote at the end of the text",
        )
    return row_problem(
        place,
        "text goes on after a closing quote in this row",
        expected="quotes around the whole cell; a quote inside it is written twice",
    )


def _misfit(row: Row, header: Row, delimiter: str) -> Problem | None:
    """Why a row is none of this table's."""
    place = row[0].place
    if _is_empty(row):
        return row_problem(place, "an empty row", expected="no empty rows between the loads")
    broken = next((cell for cell in row if "\n" in cell.text), None)
    if broken is not None:
        return problem_at(
            broken.place, "a line break inside quotes", expected="each row on one line"
        )
    if len(row) == len(header):
        return None
    expected = "one cell for each column"
    if len(row) > len(header) and delimiter == ",":
        expected += '; a number with a decimal comma in quotes ("7,5") or with a point (7.5)'
    return problem_at(
        place._replace(column=min(len(row), len(header)) + 1),
        f"{len(row)} {'cells' if len(row) > 1 else 'cell'}, the header has {len(header)}",
        expected=expected,
    )


def _says_nothing(text: str) -> bool:
    """Whether no cell of it can hold anything."""
    return all(sign.isspace() or sign in _DELIMITERS or sign == '"' for sign in text)


def _is_empty(row: Row) -> bool:
    return not any(cell.text for cell in row)
