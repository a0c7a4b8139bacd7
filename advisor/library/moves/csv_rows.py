"""The rows of a CSV file as a firm has it: a header, and cells as text, each row with its line.

Comma, semicolon or tab, whichever stands most often in the header. A quoted cell may hold line
breaks: such notes are common, and what is not mapped is not kept. Lines count as an editor does.
"""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from advisor.callout.csv_table import broken_quote, row_problem, utf_8
from advisor.terms import Faulty, Place, Problem, problem_at
from advisor.terms.source_file import unreadable

LARGEST: Final = 256 * 1024 * 1024
"""Bytes of a file; a hundred thousand rows take a tenth of it."""
MOST_COLUMNS: Final = 500
LONGEST_CELL: Final = 4000
"""Characters."""

_AS_CSV: Final = "a file saved as CSV in UTF-8"
_DELIMITERS: Final = (",", ";", "\t")
_OTHERS: Final = (
    (b"PK\x03\x04", "this is a workbook"),
    (b"SQLite format 3\0", "this is a database"),
    (b"\x1f\x8b", "this is a compressed file"),
    (b"%PDF", "this is a PDF"),
)
_NUL: Final = "\0"
_CONTROL: Final = re.compile(
    "[\x01-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]"  # no text holds them
)
_QUOTED: Final = re.compile(r'"[^"]*"')


@dataclass(frozen=True, slots=True)
class SheetRow:
    """line: where it begins. cells: as many as the header, without spaces around them."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """count: rows below the header that are not empty. refused: what is wrong with those of them
    that are not in `rows`."""

    file: str
    header_line: int
    header: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    refused: tuple[Problem, ...]
    count: int


def read_sheet(data: bytes, file: str) -> Sheet:
    """Empty rows are passed over; a byte order mark is forgiven. file: its name in messages.

    Raises Faulty where there is no table, and for what leaves its rows in doubt: another encoding,
    a quote that is never closed, names that stand twice in the header.
    """
    text = _decoded(data, file).removeprefix("\ufeff")
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if _NUL in text:
        place = Place(file, text.count("\n", 0, text.index(_NUL)) + 1, 1)
        raise Faulty(row_problem(place, "a zero byte: the file is damaged", expected=_AS_CSV))
    if not text.strip(' \n",;\t'):
        raise unreadable(file, "the file is empty", "a header and a row for each wet place")
    if text.lstrip().startswith(("{", "[")):
        raise unreadable(file, "this is JSON", "a CSV file; JSON Lines have the ending .jsonl")
    records = _records(text, _delimiter(text, file), file)
    first, header = next(records)
    _check_header(header, Place(file, first, 1))
    rows, refused, count = [], [], 0
    suspect = _CONTROL.search(text) is not None
    for line, cells in records:
        count += 1
        if problem := _misfit(cells, header, Place(file, line, 1), suspect=suspect):
            refused.append(problem)
        else:
            rows.append(SheetRow(line, cells))
    if not count:
        raise unreadable(file, "no rows below the header", "a row for each wet place")
    return Sheet(file, first, header, tuple(rows), tuple(refused), count)


def _decoded(data: bytes, file: str) -> str:
    if len(data) > LARGEST:
        raise unreadable(file, "the file is too large", f"at most {LARGEST // 1024**2} MiB")
    for start, what in _OTHERS:
        if data.startswith(start):
            raise unreadable(file, what, _AS_CSV)
    return utf_8(data, file)


def _delimiter(text: str, file: str) -> str:
    """What stands most often in the first row that is not empty."""
    lines = enumerate(io.StringIO(text), 1)
    above, header = next((n, line) for n, line in lines if line.strip(' \n",;\t'))
    bare = _QUOTED.sub("", header)
    counts = sorted(((bare.count(sign), sign) for sign in _DELIMITERS), reverse=True)
    if counts[0][0] > counts[1][0]:
        return counts[0][1]
    several = "two signs could part the columns" if counts[0][0] else "the header has one column"
    expected = "comma, semicolon or tab between the columns"
    raise Faulty(row_problem(Place(file, above, 1), several, expected=expected))


def _records(text: str, delimiter: str, file: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The rows that are not empty, each with its line. Raises Faulty where rows cannot be told."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    while True:
        line = reader.line_num + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise Faulty(broken_quote(str(error), Place(file, line, 1))) from None
        row = tuple([cell.strip() for cell in cells])
        if any(row):
            yield line, row


def _check_header(header: tuple[str, ...], place: Place) -> None:
    if len(header) > MOST_COLUMNS:
        message = f"{len(header)} columns"
        raise Faulty(row_problem(place, message, expected=f"at most {MOST_COLUMNS}"))
    problems = []
    first: dict[str, int] = {}
    for number, name in enumerate(header, 1):
        at = place._replace(column=number)
        if not name:
            message = "this column has no name"
            problems.append(problem_at(at, message, expected="a name, or no column"))
        elif len(name) > LONGEST_CELL or _CONTROL.search(name):
            message = "the name of this column is no plain text"
            problems.append(problem_at(at, message, expected="a short name"))
        elif name in first:
            message = f"column {first[name]} has the same name"
            problems.append(problem_at(at, message, key=name, expected="each name once"))
        first.setdefault(name, number)
    if problems:
        raise Faulty(problems)


def _misfit(
    cells: tuple[str, ...], header: tuple[str, ...], place: Place, *, suspect: bool
) -> Problem | None:
    """Why a row is none of this table's."""
    if len(cells) != len(header):
        word = "cell" if len(cells) == 1 else "cells"
        message = f"{len(cells)} {word}, the header has {len(header)}"
        return row_problem(place, message, expected="one cell for each column")
    for number, cell in enumerate(cells):
        if len(cell) > LONGEST_CELL:
            message = f"a cell of {len(cell)} letters"
            expected = f"at most {LONGEST_CELL}"
        elif suspect and (odd := _CONTROL.search(cell)):
            message = f"an invisible or broken character (U+{ord(odd[0]):04X})"
            expected = "plain text"
        else:
            continue
        at = place._replace(column=number + 1)
        return problem_at(at, message, key=header[number], expected=expected)
    return None
