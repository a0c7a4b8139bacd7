"""Where each variable stands in the arrays, and the arrays of a table of rows.

Variables are rows of the arrays and the table's rows are columns, so that one
variable of a big table lies side by side in memory.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.engine.model import Bools, Floats, Interval, Masks, Variable

MOST_CHOICES = 64
"""A set of choices is the bits of one unsigned 64-bit number."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Choice variables first, then numbers; `row` counts through both."""

    variables: tuple[Variable, ...]
    row: dict[str, int]
    choice_row: dict[str, int]
    number_row: dict[str, int]
    full: Masks
    lowest: Floats
    highest: Floats

    def mask(self, variable: str, choices: frozenset[str] | Interval) -> int:
        """The bits of some choices of a variable."""
        assert isinstance(choices, frozenset)
        known = self.variables[self.row[variable]].choices
        return sum(1 << known.index(choice) for choice in choices)

    def choices(self, variable: str, mask: int) -> tuple[str, ...]:
        """The choices of some bits, in the variable's order."""
        known = self.variables[self.row[variable]].choices
        return tuple(choice for i, choice in enumerate(known) if mask >> i & 1)


@dataclass(frozen=True, slots=True)
class Values:
    """Settled values. masks: (choices, rows); lo, hi: (numbers, rows); applies: (all, rows)."""

    masks: Masks
    lo: Floats
    hi: Floats
    applies: Bools
    applies_not: Bools

    @property
    def rows(self) -> int:
        return int(self.applies.shape[1])


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of findings. A value that is everything is no finding.

    masks: (choices, rows) bits still possible; lo, hi: (numbers, rows), lo <= x < hi;
    sure: (all, rows); not_applicable: (all, rows), said to be so.
    """

    masks: Masks
    lo: Floats
    hi: Floats
    sure: Bools
    not_applicable: Bools

    @property
    def rows(self) -> int:
        return int(self.sure.shape[1])

    def take(self, rows: slice | Sequence[int]) -> "Table":
        """A table of some of the rows, or of rows repeated."""
        return Table(
            self.masks[:, rows],
            self.lo[:, rows],
            self.hi[:, rows],
            self.sure[:, rows],
            self.not_applicable[:, rows],
        )

    def repeated(self, times: int) -> "Table":
        """The first row, `times` times, in arrays of its own."""
        return self.take([0] * times)


def lay_out(variables: Iterable[Variable]) -> Layout:
    """Choices first, then numbers. Raises ValueError for over 64 choices."""
    given = tuple(variables)
    ordered = tuple(v for v in given if v.is_choice) + tuple(v for v in given if not v.is_choice)
    for v in ordered:
        if len(v.choices) > MOST_CHOICES:
            raise ValueError(f"{v.key}: at most {MOST_CHOICES} choices, found {len(v.choices)}")
    choices = [v for v in ordered if v.is_choice]
    numbers = [v for v in ordered if not v.is_choice]
    return Layout(
        variables=ordered,
        row={v.key: i for i, v in enumerate(ordered)},
        choice_row={v.key: i for i, v in enumerate(choices)},
        number_row={v.key: i for i, v in enumerate(numbers)},
        full=np.array([(1 << len(v.choices)) - 1 for v in choices], dtype=_mask_type(choices)),
        lowest=np.array([v.lowest for v in numbers], dtype=np.float64),
        highest=np.array([v.highest for v in numbers], dtype=np.float64),
    )


def _mask_type(choices: Sequence[Variable]) -> type[np.unsignedinteger]:
    """The smallest type that has a bit for every choice: less memory to walk through."""
    most = max((len(v.choices) for v in choices), default=0)
    return next(t for bits, t in _MASK_TYPES.items() if most <= bits)


_MASK_TYPES: dict[int, type[np.unsignedinteger]] = {
    8: np.uint8,
    16: np.uint16,
    32: np.uint32,
    MOST_CHOICES: np.uint64,
}


def blank_table(layout: Layout, rows: int) -> Table:
    """A table in which nothing is known yet."""
    everything = len(layout.variables)
    return Table(
        masks=np.repeat(layout.full[:, None], rows, axis=1),
        lo=np.repeat(layout.lowest[:, None], rows, axis=1),
        hi=np.repeat(layout.highest[:, None], rows, axis=1),
        sure=np.ones((everything, rows), dtype=np.bool_),
        not_applicable=np.zeros((everything, rows), dtype=np.bool_),
    )
