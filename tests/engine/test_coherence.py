"""What must hold of any beliefs: coherence, order that never matters, no row without an answer."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.engine.belief import NeedState, State
from advisor.engine.engine import Engine, compile_engine
from advisor.engine.evidence import Readings
from advisor.engine.layout import Table
from advisor.engine.model import Deduction, Floats, Hypothesis, Model, Variable
from tests.engine.synthetic import random_rows, synthetic_model

ENGINE = compile_engine(synthetic_model(hypotheses=12, families=20, deductions=20, seed=5))
CALCULUS, MODEL = ENGINE.calculus, ENGINE.model
SIZES = [len(f.readings) for f in MODEL.families]
T = TypeVar("T")
SEEDS = st.integers(0, 2**32 - 1)


def random_states(random: np.random.Generator, rows: int) -> State:
    """Half known, unsure, needs in every state; a third of the families not read."""
    possible = np.array([random.integers(1, 1 << n, rows) for n in SIZES])
    full = np.array([[(1 << n) - 1] for n in SIZES])
    silent = random.random(possible.shape) < 1 / 3
    return State(
        Readings(np.where(silent, full, possible), random.random(possible.shape) < 0.6),
        random.integers(0, 5, (len(MODEL.needs), rows)).astype(np.int8),
        np.ones(rows, dtype=np.uint8),
    )


def with_readings(state: State, family: int, masks: Sequence[int]) -> State:
    """The first row, once for each set of readings of one family."""
    rows = len(masks)
    possible = np.repeat(state.readings.possible[:, :1], rows, axis=1)
    possible[family] = masks
    sure = np.repeat(state.readings.sure[:, :1], rows, axis=1)
    return State(
        Readings(possible, sure),
        np.repeat(state.needs[:, :1], rows, axis=1),
        state.base[[0] * rows],
    )


def with_need(state: State, need: int, codes: Sequence[NeedState]) -> State:
    """The first row, once for each state of one need."""
    out = with_readings(state, 0, [int(state.readings.possible[0, 0])] * len(codes))
    out.needs[need] = codes
    return out


def weights(state: State) -> Floats:
    """(rows,): probability of each state, out of the tables."""
    return (CALCULUS.base(state) * np.exp(CALCULUS.log_likelihoods(state))).sum(axis=1)


def beliefs(state: State) -> Floats:
    return np.exp(CALCULUS.log_beliefs(state, stories=False))


def assert_coherent(before: State, outcomes: State) -> None:
    """The outcomes are all there is, and on average they leave the belief as it was."""
    chance = weights(outcomes) / weights(before)
    assert chance.sum() == pytest.approx(1, abs=1e-12)
    assert chance @ beliefs(outcomes) == pytest.approx(beliefs(before)[0], abs=1e-12)


@given(SEEDS, st.integers(0, len(SIZES) - 1))
def test_splitting_a_family_into_its_possible_readings(seed: int, family: int) -> None:
    state = random_states(np.random.default_rng(seed), 1)
    left = int(state.readings.possible[family, 0])
    one_each = [1 << i for i in range(SIZES[family]) if left >> i & 1]
    assert_coherent(state, with_readings(state, family, one_each))


@given(SEEDS, st.integers(0, len(SIZES) - 1))
def test_splitting_a_family_in_two_halves(seed: int, family: int) -> None:
    random = np.random.default_rng(seed)
    state = random_states(random, 1)
    left = int(state.readings.possible[family, 0])
    part = left & int(random.integers(1, 1 << SIZES[family]))
    halves = [mask for mask in (part, left & ~part) if mask]
    assert_coherent(state, with_readings(state, family, halves))


@given(SEEDS, st.integers(0, len(MODEL.needs) - 1), st.booleans())
def test_splitting_a_need(seed: int, need: int, sure: bool) -> None:
    state = random_states(np.random.default_rng(seed), 1)
    before = with_need(state, need, [NeedState.UNKNOWN])
    after = (
        [NeedState.TRUE, NeedState.FALSE]
        if sure
        else [NeedState.UNSURE_TRUE, NeedState.UNSURE_FALSE]
    )
    assert_coherent(before, with_need(state, need, after))


@given(SEEDS, st.integers(0, len(SIZES) - 1))
def test_evidence_never_lowers_what_it_speaks_for_most(seed: int, family: int) -> None:
    """Stories off: the hypothesis whose factor is at least as high as any other's."""
    state = random_states(np.random.default_rng(seed), 1)
    full = (1 << SIZES[family]) - 1
    masks = [full, *(1 << i for i in range(SIZES[family]))]
    outcomes = with_readings(state, family, masks)
    before, *after = beliefs(outcomes)
    table, where = CALCULUS.evidence.look_up(outcomes.readings)
    for now, factors in zip(after, table.log_times[where[family, 1:]], strict=True):
        best = factors == factors.max()
        assert (now[best] >= before[best] - 1e-15).all()


def test_shown_factors_multiply_up_to_the_belief() -> None:
    """Base rate x needs x families' factors, stories on, normalised."""
    run = ENGINE.run(random_rows(ENGINE, 300))
    product = CALCULUS.base(run.state) * CALCULUS.family_times(run.state).prod(axis=0)
    for need, factor in zip(MODEL.needs, CALCULUS.need_factors(run.state), strict=True):
        naming = [need.key in h.needs for h in MODEL.hypotheses]
        product[:, naming] *= factor[:, None]
    shown = product / product.sum(axis=1, keepdims=True)
    assert np.abs(shown - run.beliefs).max() < 1e-9


def shuffled(engine: Engine, random: np.random.Generator) -> Engine:
    """The same rule base written down in another order."""

    def mix(things: Sequence[T]) -> tuple[T, ...]:
        return tuple(things[i] for i in random.permutation(len(things)))

    model, order = engine.model, random.permutation(len(engine.hypotheses))
    families = mix(model.families)
    return compile_engine(
        replace(
            model,
            variables=mix(model.variables),
            deductions=mix(model.deductions),
            needs=mix(model.needs),
            hypotheses=tuple(model.hypotheses[i] for i in order),
            families=tuple(
                replace(f, likelihood=f.likelihood[:, order], mentioned=f.mentioned[order])
                for f in families
            ),
        )
    )


def moved(table: Table, old: Engine, new: Engine) -> Table:
    """The same rows for an engine with its variables in another order."""
    choices = [old.layout.choice_row[key] for key in new.layout.choice_row]
    numbers = [old.layout.number_row[key] for key in new.layout.number_row]
    everything = [old.layout.row[key] for key in new.layout.row]
    return Table(
        table.masks[choices],
        table.lo[numbers],
        table.hi[numbers],
        table.sure[everything],
        table.not_applicable[everything],
    )


@pytest.mark.parametrize("seed", range(5))
def test_no_order_in_the_rule_base_matters(seed: int) -> None:
    other = shuffled(ENGINE, np.random.default_rng(seed))
    table = random_rows(ENGINE, 200, seed=seed)
    here, there = ENGINE.run(table), other.run(moved(table, ENGINE, other))
    columns = [other.hypotheses.index(key) for key in ENGINE.hypotheses]
    assert np.abs(here.beliefs - there.beliefs[:, columns]).max() < 1e-12
    variables = [other.layout.choice_row[key] for key in ENGINE.layout.choice_row]
    assert (here.settled.values.masks == there.settled.values.masks[variables]).all()
    assert (here.settled.conflict == there.settled.conflict[variables]).all()


def test_the_order_of_rows_does_not_matter() -> None:
    table = random_rows(ENGINE, 1000)
    order = np.random.default_rng(1).permutation(1000)
    assert (ENGINE.beliefs(table)[order] == ENGINE.beliefs(table.take(list(order)))).all()


def test_a_row_alone_is_the_row_in_a_table_of_a_thousand() -> None:
    table = random_rows(ENGINE, 1000)
    together = ENGINE.beliefs(table)
    alone = np.concatenate([ENGINE.beliefs(table.take([i])) for i in range(0, 1000, 10)])
    assert np.abs(together[::10] - alone).max() < 1e-12


def without_applies(model: Model) -> Model:
    return replace(model, variables=tuple(replace(v, applies=None) for v in model.variables))


def test_nothing_known_fires_nothing() -> None:
    model = without_applies(MODEL)
    engine = compile_engine(model)
    assert not engine.run(engine.blank()).settled.deductions.true.any()


@settings(max_examples=30)
@given(SEEDS)
def test_forgetting_a_finding_never_makes_a_rule_fire(seed: int) -> None:
    """Rows in conflict left out: forgetting what was found may free a deduction."""
    engine = compile_engine(without_applies(MODEL))
    random = np.random.default_rng(seed)
    known, blank = random_rows(engine, 50, seed=seed), engine.blank(50)
    forget = random.random((len(engine.layout.variables), 50)) < 0.2
    choices, numbers = np.split(forget, [len(engine.layout.full)])
    fewer = replace(
        known,
        masks=np.where(choices, blank.masks, known.masks),
        lo=np.where(numbers, blank.lo, known.lo),
        hi=np.where(numbers, blank.hi, known.hi),
    )
    before, after = engine.run(known).settled, engine.run(fewer).settled
    calm = ~(before.conflict.any(axis=0) | after.conflict.any(axis=0))
    assert calm.any()
    assert not (after.deductions.true & ~before.deductions.true)[:, calm].any()


@settings(max_examples=30)
@given(SEEDS, st.sampled_from([(0.7, 0.97), (0.7, 1.0), (1.0, 1.0)]))
def test_no_row_is_left_without_an_answer(seed: int, right: tuple[float, float]) -> None:
    """As long as one hypothesis has a base, no needs, and no zero cell."""
    random = np.random.default_rng(seed)
    safe = len(MODEL.hypotheses)

    def zeros(likelihood: Floats) -> Floats:
        """Half of all cells 0, except for the hypothesis put last."""
        kept = np.where(random.random(likelihood.shape) < 0.5, likelihood, 0.0)
        kept[0, kept.sum(axis=0) == 0] = 1.0
        return kept / kept.sum(axis=0)

    model = replace(
        MODEL,
        hypotheses=(*MODEL.hypotheses, Hypothesis(key="safe", base=1e-6)),
        families=tuple(
            replace(
                f,
                likelihood=np.column_stack([zeros(f.likelihood), f.shares]),
                mentioned=np.append(np.ones(safe, dtype=np.bool_), False),
            )
            for f in MODEL.families
        ),
        right_unsure=right[0],
        right_sure=right[1],
    )
    engine = compile_engine(model)
    found = engine.beliefs(random_rows(engine, 200, seed=seed, known=0.95))
    assert np.isfinite(found).all()
    assert found.sum(axis=1) == pytest.approx(np.ones(200), abs=1e-12)
    assert (found[:, safe] > 0).all()


def test_deductions_that_strike_out_everything_leave_an_answer() -> None:
    target = next(v for v in MODEL.variables if v.key == "deduced-0-0")
    everything = tuple(
        Deduction(key=f"all-{c}", when=rule.when, variable=target.key, strikes=frozenset([c]))
        for c in target.choices
        for rule in MODEL.deductions[:6]
    )
    engine = compile_engine(replace(MODEL, deductions=(*MODEL.deductions, *everything)))
    table = random_rows(engine, 200, known=0.9)
    run = engine.run(table)
    struck = run.settled.conflict[engine.layout.choice_row[target.key]]
    assert struck.any()
    assert np.isfinite(run.beliefs).all()


def test_more_than_one_kind_of_variable_is_tried() -> None:
    """Guards the tests above: the made-up rule base has what they are about."""
    assert any(v.applies for v in MODEL.variables)
    assert any(v.unsure_when for v in MODEL.variables)
    assert any(f.edges for f in MODEL.families)
    assert any(f.given for f in MODEL.families)
    assert any(f.story for f in MODEL.families)
    assert any(isinstance(v, Variable) and not v.is_choice for v in MODEL.variables)
