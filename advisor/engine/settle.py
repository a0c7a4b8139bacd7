"""From findings to settled values: every variable once, from settled ones.

The rules run twice, on all findings and on the sure ones alone; a variable is sure
when both runs give the same set. Both runs go through the same arrays side by side:
columns [0, rows) hold all findings, columns [rows, 2 rows) the sure ones.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from advisor.engine.circuit import Circuit, Ints, Truth, compile_circuit, filled_up, ints
from advisor.engine.layout import Layout, Table, Values
from advisor.engine.model import Bools, Floats, Interval, Masks, Model, Variable, Worker
from advisor.engine.order import dependencies, strata

_Array = TypeVar("_Array", Masks, Floats)

NOTHING = Truth(np.empty((0, 0), dtype=np.bool_), np.empty((0, 0), dtype=np.bool_))


@dataclass(frozen=True, slots=True)
class Settled:
    """both: the two runs side by side; values: what all findings leave (the first half).

    sure: (variables, rows); conflict: (choice variables, rows), deductions would have
    left nothing; deductions: truth of their conditions; struck: (choice variables, rows).
    """

    both: Values
    values: Values
    sure: Bools
    conflict: Bools
    deductions: Truth
    struck: Masks


@dataclass(frozen=True, slots=True)
class _Stratum:
    """Variables that settle together.

    Roots of the circuit in order: `applies` of the variables in `applying`, `unsure_when`
    of those in `unsure`, conditions of `deductions`, `given` of `workers`.
    """

    circuit: Circuit
    applying: Ints
    unsure: tuple[tuple[int, bool, int], ...]
    """(row of all variables, is it a choice, row of its kind)."""
    deductions: Ints
    strikes: Masks
    """(variables struck, most rules), 0 where a variable has fewer."""
    strikers: Ints
    """The rules of those strikes, as they stand in `deductions`."""
    struck_rows: Ints
    workers: tuple["_Work", ...]


@dataclass(frozen=True, slots=True)
class _Work:
    """A function of numbers. row, inputs: rows of the numbers; applying: rows of the inputs among
    all variables; given: root of its condition."""

    row: int
    inputs: tuple[int, ...]
    applying: Ints
    work: Worker
    given: int | None
    assumed: tuple[Interval | None, ...]


@dataclass(frozen=True, slots=True)
class Settler:
    layout: Layout
    strata: tuple[_Stratum, ...]
    deductions: int

    def settle(self, table: Table) -> Settled:
        """Settle every variable of every row. Pure; the table is not changed."""
        layout, n = self.layout, table.rows
        values, found = _findings(layout, table)
        conflict = np.zeros((len(layout.full), n), dtype=np.bool_)
        struck = np.zeros((len(layout.full), n), dtype=layout.full.dtype)
        rules = Truth(*(np.zeros((self.deductions, n), dtype=np.bool_) for _ in range(2)))
        for part in self.strata:
            truth = part.circuit.evaluate(values) if part.circuit.roots.size else NOTHING
            k = part.applying.size
            if part.unsure:
                _leave_sure_run(part, truth.true[k:, :n], layout, values, found)
            if k:
                here = found[part.applying]
                values.applies[part.applying] &= truth.true[:k] | here
                values.applies_not[part.applying] |= truth.false[:k] & ~here
            if part.deductions.size:
                rules_at = slice(k + len(part.unsure), k + len(part.unsure) + part.deductions.size)
                of_rules = truth.true[rules_at]
                conflicts, strikes = _strike(part, of_rules, values.masks)
                conflict[part.struck_rows] = conflicts[:, :n]
                struck[part.struck_rows] = strikes[:, :n]
                rules.true[part.deductions] = of_rules[:, :n]
                rules.false[part.deductions] = truth.false[rules_at, :n]
            for one in part.workers:
                _work_out(layout, values, one, truth)
        masks, lo, hi = values.masks, values.lo, values.hi
        return Settled(
            both=values,
            values=Values(
                masks[:, :n], lo[:, :n], hi[:, :n], values.applies[:, :n], values.applies_not[:, :n]
            ),
            sure=np.concatenate(
                [masks[:, :n] == masks[:, n:], (lo[:, :n] == lo[:, n:]) & (hi[:, :n] == hi[:, n:])]
            ),
            conflict=conflict,
            deductions=rules,
            struck=struck,
        )


def _findings(layout: Layout, table: Table) -> tuple[Values, Bools]:
    """Both runs as they begin, and where a finding stands: one settles that it applies."""
    split, n = len(layout.full), table.rows
    full, lowest, highest = layout.full[:, None], layout.lowest[:, None], layout.highest[:, None]
    masks = _twice(table.masks, full, table.sure[:split])
    lo = _twice(table.lo, lowest, table.sure[split:])
    hi = _twice(table.hi, highest, table.sure[split:])
    found = np.empty((len(layout.variables), 2 * n), dtype=np.bool_)
    np.not_equal(masks, full, out=found[:split])
    np.logical_or(lo != lowest, hi != highest, out=found[split:])
    never = np.concatenate([table.not_applicable, table.not_applicable & table.sure], axis=1)
    return Values(masks, lo, hi, ~never, never), found


def _twice(found: _Array, unknown: _Array, sure: Bools) -> _Array:
    """What was found beside what was surely found. unknown: (variables, 1)."""
    n = found.shape[1]
    both = np.empty((len(found), 2 * n), dtype=found.dtype)
    both[:, :n] = found
    both[:, n:] = unknown
    np.copyto(both[:, n:], found, where=sure)
    return both


def _leave_sure_run(
    part: _Stratum, unsure: Bools, layout: Layout, values: Values, found: Bools
) -> None:
    """A finding under `unsure_when` known true counts as unsure, whatever was written."""
    n = unsure.shape[1]
    for (row, is_choice, own), says in zip(part.unsure, unsure, strict=False):
        if is_choice:
            values.masks[own, n:][says] = layout.full[own]
        else:
            values.lo[own, n:][says] = layout.lowest[own]
            values.hi[own, n:][says] = layout.highest[own]
        found[row, n:][says] = False
        values.applies[row, n:][says] = True
        values.applies_not[row, n:][says] = False


def _strike(part: _Stratum, fired: Bools, masks: Masks) -> tuple[Bools, Masks]:
    """All strikes on a variable together; if they would leave nothing, none is applied."""
    strikes = np.bitwise_or.reduce(part.strikes[:, :, None] * fired[part.strikers], axis=1)
    before = masks[part.struck_rows]
    after = before & ~strikes
    conflict = after == 0
    masks[part.struck_rows] = np.where(conflict, before, after)
    return conflict, strikes


def _work_out(layout: Layout, values: Values, one: _Work, truth: Truth) -> None:
    """A function of settled ranges, where no finding stands, and every input applies and
    something is known of it; outside its validity unknown."""
    lo, hi, row = values.lo, values.hi, one.row
    free = _unknown(layout, values, row)
    free &= values.applies[one.applying].all(axis=0)
    if one.given is not None:
        free &= truth.true[one.given]
    inputs = []
    for place, i in enumerate(one.inputs):
        low, high, unknown = lo[i], hi[i], _unknown(layout, values, i)
        assumed = one.assumed[place] if one.assumed else None
        if assumed is not None:
            taken = unknown.copy()
            taken[lo.shape[1] // 2 :] = False  # what is assumed is not sure
            low, high = np.where(taken, assumed[0], low), np.where(taken, assumed[1], high)
            unknown &= ~taken
        free &= ~unknown
        inputs.append((low, high))
    if not free.any():
        return
    low, high = one.work(tuple(inputs))
    high = np.where(high == low, np.nextafter(low, np.inf), high)  # a single value, rounded
    with np.errstate(invalid="ignore"):
        low, high = np.maximum(low, layout.lowest[row]), np.minimum(high, layout.highest[row])
        free &= high > low
    lo[row] = np.where(free, low, lo[row])
    hi[row] = np.where(free, high, hi[row])


def _unknown(layout: Layout, values: Values, row: int) -> Bools:
    """Where a number can still be anything."""
    unknown: Bools = (values.lo[row] == layout.lowest[row]) & (
        values.hi[row] == layout.highest[row]
    )
    return unknown


def compile_settler(model: Model, layout: Layout) -> Settler:
    """Strata and their circuits. Raises ValueError with the path of a cycle."""
    level = strata(dependencies(model))
    parts = []
    for depth in range(max(level.values(), default=-1) + 1):
        here = [v for v in layout.variables if level[v.key] == depth]
        parts.append(_compile_stratum(model, layout, here))
    return Settler(layout, tuple(parts), len(model.deductions))


def _compile_stratum(model: Model, layout: Layout, here: Sequence[Variable]) -> _Stratum:
    keys = {v.key for v in here}
    applying = [(v.key, v.applies) for v in here if v.applies is not None]
    unsure = [(v, v.unsure_when) for v in here if v.unsure_when is not None]
    numbers = [i for i, d in enumerate(model.deductions) if d.variable in keys]
    rules = [model.deductions[i] for i in numbers]
    strikers: dict[str, list[int]] = {}
    for i, rule in enumerate(rules):
        strikers.setdefault(rule.variable, []).append(i)
    masks = [[layout.mask(v, rules[i].strikes) for i in by] for v, by in strikers.items()]
    own = layout.choice_row | layout.number_row
    workers = [w for w in model.worked_out if w.variable in keys]
    givens = [w.given for w in workers if w.given is not None]
    first = len(applying) + len(unsure) + len(rules)
    roots = iter(range(first, first + len(givens)))
    return _Stratum(
        circuit=compile_circuit(
            [
                *(c for _, c in applying),
                *(c for _, c in unsure),
                *(d.when for d in rules),
                *givens,
            ],
            layout,
        ),
        applying=ints([layout.row[key] for key, _ in applying]),
        unsure=tuple((layout.row[v.key], v.is_choice, own[v.key]) for v, _ in unsure),
        deductions=ints(numbers),
        strikes=np.array(filled_up(masks, 0), dtype=layout.full.dtype),
        strikers=ints(filled_up([*strikers.values()], 0)),
        struck_rows=ints([layout.choice_row[v] for v in strikers]),
        workers=tuple(
            _Work(
                row=layout.number_row[w.variable],
                inputs=tuple(layout.number_row[i] for i in w.inputs),
                applying=ints([layout.row[i] for i in w.inputs]),
                work=w.work,
                given=None if w.given is None else next(roots),
                assumed=w.assumed,
            )
            for w in workers
        ),
    )
