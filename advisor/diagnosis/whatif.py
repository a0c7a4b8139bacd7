"""Rows in which a finding comes out each way it can, and what each is worth.

The engine is a pure function over a table, so a look is judged by running it: the
chance of each outcome comes from the tables (P(state | cause) under the present
belief), the belief after it from the engine.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise, product

import numpy as np
import numpy.typing as npt

from advisor.engine import Engine, Run, Table, dependencies, entropy_bits, tests_of, variables_of
from advisor.engine.circuit import Ints
from advisor.engine.model import Condition

Value = int | tuple[float, float]
"""A mask of choices, or a range lo <= x < hi."""

Outcome = Mapping[str, Value]
"""What a look may find: variables and their values."""


@dataclass(frozen=True, slots=True)
class Worth:
    """bits: expected fall in entropy over the causes; changes_leader: some outcome would."""

    bits: float
    changes_leader: bool


@lru_cache(maxsize=4)
def telling_variables(engine: Engine) -> frozenset[str]:
    """The variables that reach evidence: a family, or a need that some cause names."""
    model = engine.model
    upstream = dependencies(model)
    named = {need for h in model.hypotheses for need in h.needs}
    waiting = [f.variable for f in model.families]
    waiting += [v for f in model.families for v in variables_of(f.given)]
    waiting += [v for n in model.needs if n.key in named for v in variables_of(n.when)]
    found: set[str] = set()
    while waiting:
        key = waiting.pop()
        if key not in found:
            found.add(key)
            waiting += upstream[key]
    return frozenset(found)


@lru_cache(maxsize=4)
def cut_points(engine: Engine) -> Mapping[str, tuple[float, ...]]:
    """For each number, where bands and tests cut it: between two cuts nothing can differ."""
    cuts: dict[str, set[float]] = {}
    for family in engine.model.families:
        cuts.setdefault(family.variable, set()).update(family.edges)
    for condition in _all_conditions(engine):
        for test in tests_of(condition):
            if not isinstance(test.passing, frozenset):
                cuts.setdefault(test.variable, set()).update(test.passing)
    return {key: tuple(sorted(points)) for key, points in cuts.items()}


def _all_conditions(engine: Engine) -> list[Condition | None]:
    model = engine.model
    return [
        *(d.when for d in model.deductions),
        *(f.given for f in model.families),
        *(n.when for n in model.needs),
        *(c for v in model.variables for c in (v.applies, v.unsure_when)),
    ]


def ways(engine: Engine, run: Run, row: int, variable: str) -> tuple[Value, ...]:
    """The ways a variable can still come out; none where it is known or does not apply."""
    layout, values = engine.layout, run.settled.values
    if not values.applies[layout.row[variable], row]:
        return ()
    if variable in layout.choice_row:
        mask = int(values.masks[layout.choice_row[variable], row])
        bits = tuple(1 << i for i in range(mask.bit_length()) if mask >> i & 1)
        return bits if len(bits) > 1 else ()
    number = layout.number_row[variable]
    lo, hi = float(values.lo[number, row]), float(values.hi[number, row])
    inner = [c for c in cut_points(engine).get(variable, ()) if lo < c < hi]
    ends = [lo, *inner, hi]
    return tuple(pairwise(ends)) if inner else ()


def outcomes(alternatives: Mapping[str, Sequence[Value]]) -> list[Outcome]:
    """Every combination of the ways."""
    return [dict(zip(alternatives, ways, strict=True)) for ways in product(*alternatives.values())]


def write_outcomes(engine: Engine, table: Table, first: int, found: Sequence[Outcome]) -> None:
    """Write outcomes into rows `first`, `first` + 1, … as sure findings."""
    layout = engine.layout
    for offset, outcome in enumerate(found):
        row = first + offset
        for key, value in outcome.items():
            table.sure[layout.row[key], row] = True
            if isinstance(value, int):
                table.masks[layout.choice_row[key], row] = value
            else:
                number = layout.number_row[key]
                table.lo[number, row], table.hi[number, row] = value


def worths(engine: Engine, run: Run, ends: Sequence[int]) -> list[Worth]:
    """What looks are worth, whose outcomes fill the rows after row 0, the present state.

    ends: for each look, the row behind its last outcome; the first begins at row 1.
    """
    looks = np.repeat(np.arange(len(ends)), np.diff([1, *ends]))
    picked = 1 + _distinct(run, looks)
    looks = looks[picked - 1]
    belief = np.exp(run.log_beliefs[0])
    possible = belief > 0
    likelihoods = engine.calculus.log_likelihoods(run.state)[:, possible]
    chance = np.exp(likelihoods[picked] - likelihoods[0]) @ belief[possible]
    entropies = entropy_bits(run.log_beliefs)
    sums, after = (
        np.bincount(looks, weights, len(ends)) for weights in (chance, chance * entropies[picked])
    )
    moved = run.log_beliefs[picked].argmax(axis=1) != run.log_beliefs[0].argmax()
    changed = np.bincount(looks, moved, len(ends)) > 0
    bits = np.maximum(entropies[0] - after / sums, 0.0)
    return [Worth(float(b), bool(c)) for b, c in zip(bits, changed, strict=True)]


def _distinct(run: Run, looks: Ints) -> Ints:
    """Outcomes, one of each look's that leave the causes in the same state: these are one.

    A state is told by a 64-bit sum of its parts times fixed, well mixed numbers.
    """
    state = run.state
    parts = np.concatenate([2 * state.readings.possible + state.readings.sure, state.needs])
    mixed = _well_mixed(parts.shape[0] + 1)
    told = (parts[:, 1:].astype(np.uint64) * mixed[:-1, None]).sum(axis=0)
    told += looks.astype(np.uint64) * mixed[-1]
    _, first = np.unique(told, return_index=True)
    return np.sort(first)


def _well_mixed(count: int) -> npt.NDArray[np.uint64]:
    """The first numbers of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).

    Not numpy.random: loading it takes longer than all looks.
    """
    numbers = np.arange(1, count + 1, dtype=np.uint64) * np.uint64(0x9E3779B97F4A7C15)
    for shift, factor in ((30, 0xBF58476D1CE4E5B9), (27, 0x94D049BB133111EB)):
        numbers = (numbers ^ (numbers >> np.uint64(shift))) * np.uint64(factor)
    return numbers ^ (numbers >> np.uint64(31))
