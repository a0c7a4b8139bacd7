"""The cells of an imported table: what each says, and the words in it that are none of ours.

Each text is read once for a column, however often it stands there.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final, NamedTuple

from advisor.library.moves.csv_out import told
from advisor.library.moves.import_columns import UNKNOWN, OurColumn, asked
from advisor.terms import Faulty, Place, Problem

_PARTS: Final = str.maketrans(",", ";")
_MOST_NEAR: Final = 300
"""Unmatched words of a column for which the nearest is looked up: nobody reads more."""


class Cell(NamedTuple):
    """value: None where it is told as unknown, or cannot be read. unmatched: words."""

    value: Any
    problems: tuple[Problem, ...] = ()
    unmatched: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CellReader:
    """index: of the column in a row. header: its name there. words: theirs, for ours."""

    index: int
    header: str
    column: OurColumn
    words: Mapping[str, str]
    unmatched: Counter[str] = field(default_factory=Counter)
    _read: dict[str, Cell] = field(default_factory=dict)
    _parts: dict[str, Cell] = field(default_factory=dict)

    def read(self, text: str, place: Place) -> tuple[Any, tuple[Problem, ...]]:
        """What a cell that is not empty says, and what is wrong with it."""
        cell = self._read.get(text)
        if cell is None:
            cell = self._read[text] = self._cell(" ".join(told(text).split()))
        if not cell.problems:
            return cell.value, ()
        self.unmatched.update(cell.unmatched)
        at = place._replace(column=self.index + 1)
        problems = [
            replace(one, file=at.file, line=at.line, column=at.column, key=self.header)
            for one in cell.problems
        ]
        return None, tuple(problems)

    def _cell(self, text: str) -> Cell:
        whole = self.words.get(text, text)
        if whole == UNKNOWN and UNKNOWN not in self.column.known:
            return Cell(None)
        if not self.column.many:
            return self._part(whole)
        parts = [part for one in whole.translate(_PARTS).split(";") if (part := one.strip())]
        for part in parts:
            if part not in self._parts:
                self._parts[part] = self._part(self.words.get(part, part))
        cells = [self._parts[part] for part in parts]
        values = [cell.value for cell in cells if cell.value is not None]
        return Cell(
            tuple(values),
            tuple(problem for cell in cells for problem in cell.problems),
            tuple(word for cell in cells for word in cell.unmatched),
        )

    def _part(self, text: str) -> Cell:
        if text == UNKNOWN and UNKNOWN not in self.column.known:
            return Cell(None)
        try:
            return Cell(self.column.read(text))
        except Faulty as faulty:
            near = len(self.unmatched) < _MOST_NEAR
            problems = [asked(self.column, text, one, near=near) for one in faulty.problems]
            return Cell(None, tuple(problems), (text,) if self.column.coded else ())
