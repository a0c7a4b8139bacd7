"""Why a row came out as it did: which rules fired, by which tests, and which could still.

Answers four questions of a reader: which deductions fired, by which of their tests;
what each struck out; why another did not (a test was false); what would change it
(a test is unknown). Worked out only when asked for.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from advisor.engine.circuit import compile_circuit
from advisor.engine.engine import Engine, Run
from advisor.engine.layout import Values
from advisor.engine.model import Condition, Deduction, Family, Test, tests_of

State = Literal["true", "false", "unknown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TestTrace:
    """One test of a condition, and how it stands."""

    __test__ = False  # not a test case for pytest

    test: Test
    state: State


@dataclass(frozen=True, slots=True, kw_only=True)
class DeductionTrace:
    """state true: it fired, and struck out its choices unless that left nothing."""

    deduction: Deduction
    state: State
    tests: tuple[TestTrace, ...]
    in_conflict: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyTrace:
    """Whether a family was read; if not, the tests of its `given` say why."""

    family: Family
    read: bool
    applies: State
    given: tuple[TestTrace, ...]


@dataclass(frozen=True, slots=True)
class Trace:
    deductions: tuple[DeductionTrace, ...]
    families: tuple[FamilyTrace, ...]


def trace(engine: Engine, run: Run, row: int) -> Trace:
    """The trace of one row of a run."""
    model, settled = engine.model, run.settled
    conditions: list[Condition] = [d.when for d in model.deductions]
    conditions += [f.given for f in model.families if f.given is not None]
    stands = _test_states(engine, settled.values, row, conditions)
    true, false = settled.deductions.true[:, row], settled.deductions.false[:, row]
    return Trace(
        deductions=tuple(
            DeductionTrace(
                deduction=d,
                state=_state(bool(true[i]), bool(false[i])),
                tests=_tests(d.when, stands),
                in_conflict=bool(settled.conflict[engine.layout.choice_row[d.variable], row]),
            )
            for i, d in enumerate(model.deductions)
        ),
        families=tuple(_family_trace(engine, run, row, f, stands) for f in model.families),
    )


def _family_trace(
    engine: Engine, run: Run, row: int, family: Family, stands: dict[Test, State]
) -> FamilyTrace:
    values, place = run.settled.values, engine.layout.row[family.variable]
    applies = _state(bool(values.applies[place, row]), bool(values.applies_not[place, row]))
    number = next(i for i, f in enumerate(engine.model.families) if f.key == family.key)
    full = (1 << len(family.readings)) - 1
    return FamilyTrace(
        family=family,
        read=int(run.state.readings.possible[number, row]) != full,
        applies=applies,
        given=() if family.given is None else _tests(family.given, stands),
    )


def _test_states(
    engine: Engine, values: Values, row: int, conditions: list[Condition]
) -> dict[Test, State]:
    """Every test of the conditions, evaluated on its own."""
    tests = list(dict.fromkeys(t for c in conditions for t in tests_of(c)))
    one = Values(
        values.masks[:, [row]],
        values.lo[:, [row]],
        values.hi[:, [row]],
        values.applies[:, [row]],
        values.applies_not[:, [row]],
    )
    truth = compile_circuit(tests, engine.layout).evaluate(one)
    states = np.stack([truth.true[:, 0], truth.false[:, 0]], axis=1)
    return {t: _state(bool(s[0]), bool(s[1])) for t, s in zip(tests, states, strict=True)}


def _tests(condition: Condition, stands: dict[Test, State]) -> tuple[TestTrace, ...]:
    found = dict.fromkeys(tests_of(condition))
    return tuple(TestTrace(test=t, state=stands[t]) for t in found)


def _state(true: bool, false: bool) -> State:
    return "true" if true else "false" if false else "unknown"
