"""Deductions against CLIPS 6.4 (https://www.clipsrules.net; Python binding clipspy)."""

from dataclasses import replace

import numpy as np
import pytest

from advisor.engine.engine import Engine, compile_engine
from advisor.engine.layout import Table
from advisor.engine.model import Model
from advisor.engine.order import dependencies
from tests.engine.synthetic import random_rows, synthetic_model
from tests.outside.clips_rules import Clips, facts_of

ROWS = 2000


def point_rows(engine: Engine, rows: int) -> Table:
    """Sure single values; a tenth of what can be deduced has a finding as well."""
    table = random_rows(engine, rows, seed=7, known=0.85, unsure=0.0, half_known=0.0)
    random = np.random.default_rng(8)
    for key in sorted({d.variable for d in engine.model.deductions}):
        at = engine.layout.choice_row[key]
        one = 1 << random.integers(0, len(choices(engine.model, key)), rows)
        found = random.random(rows) < 0.1
        table.masks[at] = np.where(found, one.astype(table.masks.dtype), table.masks[at])
    return table


def choices(model: Model, key: str) -> tuple[str, ...]:
    return next(v.choices for v in model.variables if v.key == key)


def upstream(model: Model, key: str) -> set[str]:
    """Everything a variable is settled from."""
    needs = dependencies(model)
    reached, open_ = set[str](), [key]
    while open_:
        new = needs[open_.pop()] - reached
        reached |= new
        open_ += new
    return reached


def test_two_thousand_rows() -> None:
    """What is struck out is the same, for every variable with no conflict before it.

    CLIPS has no conflicts: there a variable with nothing left makes everything follow. So
    behind a conflict the two differ, and are not compared; that there is one is.
    """
    model = synthetic_model(hypotheses=2, families=2)
    engine, theirs = compile_engine(model), Clips(model)
    layout, table = engine.layout, point_rows(engine, ROWS)
    settled = engine.settler.settle(table)
    rows = [theirs.struck(facts_of(table, layout, i)) for i in range(ROWS)]

    deduced = sorted({d.variable for d in model.deductions})
    compared = struck = 0
    for key in deduced:
        at = layout.choice_row[key]
        above = [layout.choice_row[k] for k in upstream(model, key) if k in layout.choice_row]
        for row in np.flatnonzero(~settled.conflict[above].any(axis=0)):
            ours = set(layout.choices(key, int(settled.struck[at, row])))
            assert ours == {choice for variable, choice in rows[row] if variable == key}
            found = set(layout.choices(key, int(table.masks[at, row])))
            assert settled.conflict[at, row] == (not found - ours)
            left = found - ours or found
            assert set(layout.choices(key, int(settled.values.masks[at, row]))) == left
            compared += 1
            struck += bool(ours)
    calm = int((~settled.conflict.any(axis=0)).sum())
    print(f"\n{ROWS} rows, {calm} without a conflict; {compared} values compared, {struck} struck")
    assert calm > ROWS / 4
    assert compared > ROWS * len(deduced) / 2
    assert struck > ROWS


@pytest.mark.parametrize("number", [0, 30, 59])
def test_the_comparison_would_notice_a_rule_turned_round(number: int) -> None:
    model = synthetic_model(hypotheses=2, families=2)
    engine = compile_engine(model)
    table = point_rows(engine, 300)
    rule = model.deductions[number]
    others = frozenset(choices(model, rule.variable)) - rule.strikes
    rules = [replace(r, strikes=others) if r is rule else r for r in model.deductions]
    turned, right = Clips(replace(model, deductions=tuple(rules))), Clips(model)
    row = int(np.flatnonzero(engine.settler.settle(table).deductions.true[number])[0])
    facts = facts_of(table, engine.layout, row)
    assert turned.struck(facts) != right.struck(facts)
