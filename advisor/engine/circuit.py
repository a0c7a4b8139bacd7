"""Conditions compiled for whole tables: Kleene's three values, row by row.

Each node has a bit "true" and a bit "false" per row; neither set means unknown. A
negated condition is the same node with the two bits read the other way round, so
only the tests and two kinds of gates are left: and, or. Bits of eight rows share a byte.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from advisor.engine.layout import Layout, Values
from advisor.engine.model import All, AnyOf, Bools, Condition, Floats, Masks, Not, Test

Ints = npt.NDArray[np.intp]
Bytes = npt.NDArray[np.uint8]
Signal = tuple[int, int]
"""Where the bits "true" and "false" of a condition stand."""
_ALWAYS, _NEVER = 0, 1
"""Where two bits stand that are the same in every row."""


@dataclass(frozen=True, slots=True)
class Truth:
    """Kleene truth of some conditions: true, false, or neither. Arrays (conditions, rows)."""

    true: Bools
    false: Bools

    def rows(self, part: slice) -> "Truth":
        """The truth on some of the rows."""
        return Truth(self.true[:, part], self.false[:, part])


@dataclass(frozen=True, slots=True)
class _Level:
    """Gates that can be evaluated together. Inputs: (gates, most inputs), filled up.

    Filled up with what changes nothing: "always" for an and, "never" for an or.
    """

    and_inputs: Ints
    or_inputs: Ints


@dataclass(frozen=True, slots=True)
class Circuit:
    """Bits in order: always, never; the tests' true bits; their false bits; each level's gates."""

    choice_rows: Ints
    passing: Masks
    number_rows: Ints
    low: Floats
    high: Floats
    variables: Ints
    levels: tuple[_Level, ...]
    size: int
    roots: Ints

    def evaluate(self, values: Values) -> Truth:
        """Truth of each root condition. A few array operations, then four a level."""
        rows, choice, number = values.rows, self.choice_rows.size, self.number_rows.size
        tests = choice + number
        plain = np.empty((2 + 2 * tests, rows), dtype=np.bool_)
        plain[_ALWAYS], plain[_NEVER] = True, False
        true, false = plain[2 : 2 + tests], plain[2 + tests :]
        if choice:
            masks = values.masks[self.choice_rows]
            inside = masks & self.passing
            np.equal(inside, masks, out=true[:choice])
            np.equal(inside, 0, out=false[:choice])
        if number:
            lo, hi = values.lo[self.number_rows], values.hi[self.number_rows]
            np.logical_and(lo >= self.low, hi <= self.high, out=true[choice:])
            np.logical_or(hi <= self.low, lo >= self.high, out=false[choice:])
        # Where a variable does not apply, every test on it is false.
        true &= values.applies[self.variables]
        false |= values.applies_not[self.variables]
        if self.levels:
            found = self._gates(np.packbits(plain, axis=1))
            wanted = np.unpackbits(found[self.roots], axis=1, count=rows).view(np.bool_)
        else:
            wanted = plain[self.roots]
        half = self.roots.size // 2
        return Truth(wanted[:half], wanted[half:])

    def _gates(self, plain: Bytes) -> Bytes:
        bits = np.empty((self.size, plain.shape[1]), dtype=np.uint8)
        end = plain.shape[0]
        bits[:end] = plain
        for level in self.levels:
            for join, inputs in (
                (np.bitwise_and, level.and_inputs),
                (np.bitwise_or, level.or_inputs),
            ):
                join.reduce(bits[inputs], axis=1, out=bits[end : end + len(inputs)])
                end += len(inputs)
        return bits


def compile_circuit(conditions: Sequence[Condition], layout: Layout) -> Circuit:
    """Conditions over the variables of a layout; an unknown variable raises KeyError."""
    tests = list(dict.fromkeys(t for c in conditions for t in _tests(c)))
    choice = [t for t in tests if isinstance(t.passing, frozenset)]
    number = [t for t in tests if not isinstance(t.passing, frozenset)]
    ordered = [*choice, *number]
    where: dict[Condition, Signal] = {
        t: (2 + i, 2 + len(ordered) + i) for i, t in enumerate(ordered)
    }
    levels, size = _place_gates(conditions, where, 2 + 2 * len(ordered))
    signals = [_signal(c, where) for c in conditions]
    bounds = [t.passing for t in number if not isinstance(t.passing, frozenset)]
    return Circuit(
        choice_rows=ints([layout.choice_row[t.variable] for t in choice]),
        passing=np.array(
            [layout.mask(t.variable, t.passing) for t in choice], dtype=layout.full.dtype
        )[:, None],
        number_rows=ints([layout.number_row[t.variable] for t in number]),
        low=np.array([b[0] for b in bounds], dtype=np.float64)[:, None],
        high=np.array([b[1] for b in bounds], dtype=np.float64)[:, None],
        variables=ints([layout.row[t.variable] for t in ordered]),
        levels=levels,
        size=size,
        roots=ints([s[0] for s in signals] + [s[1] for s in signals]),
    )


def ints(numbers: Sequence[int] | Sequence[Sequence[int]]) -> Ints:
    """An array to index with, also when empty."""
    return np.array(numbers, dtype=np.intp)


def filled_up(rows: Sequence[Sequence[int]], fill: int) -> list[list[int]]:
    """Rows of unequal length, made as long as the longest."""
    most = max(map(len, rows), default=0)
    return [[*row, *[fill] * (most - len(row))] for row in rows]


def _tests(condition: Condition) -> list[Test]:
    if isinstance(condition, Test):
        return [condition]
    parts = (condition.of,) if isinstance(condition, Not) else condition.of
    return [test for part in parts for test in _tests(part)]


def _signal(condition: Condition, where: dict[Condition, Signal]) -> Signal:
    """Not swaps the bits; all of nothing is always true, any of nothing never."""
    if isinstance(condition, Not):
        true, false = _signal(condition.of, where)
        return false, true
    if isinstance(condition, (All, AnyOf)) and not condition.of:
        return (_ALWAYS, _NEVER) if isinstance(condition, All) else (_NEVER, _ALWAYS)
    return where[condition]


def _depth(condition: Condition) -> int:
    if isinstance(condition, Not):
        return _depth(condition.of)
    if isinstance(condition, Test):
        return 0
    return 1 + max(map(_depth, condition.of), default=-1)


def _gates_of(condition: Condition) -> list[All | AnyOf]:
    if isinstance(condition, Not):
        return _gates_of(condition.of)
    if isinstance(condition, Test) or not condition.of:
        return []
    return [gate for part in condition.of for gate in _gates_of(part)] + [condition]


def _place_gates(
    conditions: Sequence[Condition], where: dict[Condition, Signal], first: int
) -> tuple[tuple[_Level, ...], int]:
    """Give each gate its bits.

    All: true = and of trues, false = or of falses; AnyOf: the other way round.
    """
    gates = {gate: _depth(gate) for c in conditions for gate in _gates_of(c)}
    levels, end = [], first
    for depth in sorted(set(gates.values())):
        batch = [gate for gate, d in gates.items() if d == depth]
        ands: list[list[int]] = []
        ors: list[list[int]] = []
        for gate in batch:
            trues, falses = zip(*(_signal(part, where) for part in gate.of), strict=True)
            ands.append([*(trues if isinstance(gate, All) else falses)])
            ors.append([*(falses if isinstance(gate, All) else trues)])
        for i, gate in enumerate(batch):
            joined, split = end + i, end + len(batch) + i
            where[gate] = (joined, split) if isinstance(gate, All) else (split, joined)
        levels.append(_Level(ints(filled_up(ands, _ALWAYS)), ints(filled_up(ors, _NEVER))))
        end += 2 * len(batch)
    return tuple(levels), end
