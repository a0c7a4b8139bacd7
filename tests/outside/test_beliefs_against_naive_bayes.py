"""Beliefs against exact inference by pyAgrum (https://pyagrum.org) on a plain naive Bayes network.

The network has the same tables. An uncertain finding is soft evidence on its reading: a
finding right with probability r, else any reading by share, weighs each reading with
r x (1 if still possible) + (1 - r) x (share of what is still possible). A need is a yes-no
node: certain for the hypotheses that name it, by its share for the others.
"""

from dataclasses import replace

import numpy as np
import pyagrum

from advisor.engine.engine import Engine, compile_engine
from advisor.engine.model import Family, Floats, Model, Need, variables_of
from tests.engine.naive import Kleene, Value, truth, values_of_row
from tests.engine.synthetic import random_rows, synthetic_model

ROWS = 500
Soft = dict[str, list[float]]


def network(model: Model) -> pyagrum.BayesNet:
    """A star: the hypothesis in the middle, a node per family and per need."""
    bases = np.array([h.base for h in model.hypotheses])
    net = pyagrum.BayesNet()
    net.add(pyagrum.LabelizedVariable("hypothesis", "", len(bases)))
    net.cpt("hypothesis")[:] = bases / bases.sum()
    for family in model.families:
        _leaf(net, family.key, family.likelihood.T)
    for need in model.needs:
        yes = np.array([1.0 if need.key in h.needs else need.share for h in model.hypotheses])
        _leaf(net, need.key, np.column_stack([yes, 1 - yes]))
    return net


def _leaf(net: pyagrum.BayesNet, key: str, table: Floats) -> None:
    net.add(pyagrum.LabelizedVariable(key, "", table.shape[1]))
    net.addArc("hypothesis", key)
    net.cpt(key)[:] = np.ascontiguousarray(table)


def soft_evidence(model: Model, values: dict[str, Value], sure: dict[str, bool]) -> Soft:
    """What one row says about each node that it says anything about."""
    evidence: Soft = {}
    for family in model.families:
        value = values[family.variable]
        left = [_possible(family, i, value) for i in range(len(family.readings))]
        read = value.applies is True and (family.given is None or truth(family.given, values))
        if read and not all(left):
            right = model.right_sure if sure[family.variable] else model.right_unsure
            by_chance = (1 - right) * sum(family.shares[left])
            evidence[family.key] = [right * possible + by_chance for possible in left]
    for need in model.needs:
        found = truth(need.when, values)
        if found is not None:
            evidence[need.key] = _need(
                need, found, all(sure[v] for v in variables_of(need.when)), model
            )
    return evidence


def _possible(family: Family, reading: int, value: Value) -> bool:
    if not family.edges:
        return family.readings[reading] in value.choices
    limits = [-np.inf, *family.edges, np.inf]
    (lo, hi), low, high = value.range, limits[reading], limits[reading + 1]
    return bool(max(lo, low) < min(hi, high))


def _need(need: Need, found: Kleene, sure: bool, model: Model) -> list[float]:
    if sure:
        return [1.0, 0.0] if found else [0.0, 1.0]
    right, chance = model.right_unsure, need.share if found else 1 - need.share
    by_chance = (1 - right) * chance
    return [right + by_chance, by_chance] if found else [by_chance, right + by_chance]


def made_up() -> Engine:
    """No deductions: the network has none. Several needs for some hypotheses."""
    model = synthetic_model(hypotheses=20, families=30, deductions=0, observed=60, seed=3)
    some = tuple(
        replace(h, needs=(*h.needs, "need-7") if i % 6 == 0 else h.needs)
        for i, h in enumerate(model.hypotheses)
    )
    return compile_engine(replace(model, hypotheses=some))


def test_five_hundred_rows() -> None:
    engine = made_up()
    model, layout = engine.model, engine.layout
    table = random_rows(engine, ROWS, known=0.7, unsure=0.25, half_known=0.3)
    run = engine.run(table)
    ours = np.exp(engine.calculus.log_beliefs(run.state, stories=False))
    inference = pyagrum.LazyPropagation(network(model))
    inference.addTarget("hypothesis")
    told, worst = 0, 0.0
    for row in range(ROWS):
        values = values_of_row(layout, run.settled.values, row)
        sure = {v.key: bool(table.sure[layout.row[v.key], row]) for v in layout.variables}
        evidence = soft_evidence(model, values, sure)
        inference.setEvidence(evidence)
        inference.makeInference()
        exact = inference.posterior("hypothesis").toarray()
        worst = max(worst, float(np.abs(exact - ours[row]).max()))
        told += len(evidence)
    print(f"\n{ROWS} rows, {told / ROWS:.1f} pieces of evidence each, worst difference {worst:.1e}")
    assert told > 10 * ROWS
    assert worst < 1e-9


def test_all_kinds_of_rows_are_among_them() -> None:
    engine = made_up()
    state = engine.run(random_rows(engine, ROWS, known=0.7, unsure=0.25, half_known=0.3)).state
    assert set(np.unique(state.needs)) == {0, 1, 2, 3, 4}
    assert 0.1 < 1 - state.readings.sure.mean() < 0.5
