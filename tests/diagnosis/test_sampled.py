"""A year of wet places sampled from the knowledge itself: beliefs are what they say.

Causes by their base rates, readings by the tables with slips, a third of them known.
The tables are then the truth, so a belief of 0.7 must be right in 70 % of the rows.
"""

import numpy as np
import pytest

from advisor import open_knowledge
from advisor.engine import Readings, State
from advisor.engine.belief import NeedState

ROWS = 20_000
KNOWN = 0.3
KINDS = ["basement", "tank", "tunnel"]


def sampled(kind: str, seed: int) -> tuple[State, np.ndarray[tuple[int], np.dtype[np.intp]]]:
    """States of rows, and the cause each was sampled from."""
    knowledge = open_knowledge()
    model, calculus = knowledge.model, knowledge.engine.calculus
    random = np.random.default_rng(seed)
    kinds = next(v for v in model.variables if v.key == "kind").choices
    base = np.full(ROWS, 1 << kinds.index(kind), dtype=np.uint64)
    rates = calculus.base_rates[kinds.index(kind)]
    truth = random.choice(len(rates), ROWS, p=rates / rates.sum())
    possible = np.empty((len(model.families), ROWS), dtype=np.intp)
    sure = random.random((len(model.families), ROWS)) < 0.8
    for i, family in enumerate(model.families):
        right = np.where(sure[i], model.right_sure, model.right_unsure)
        slipped = random.random(ROWS) >= right
        cells = family.likelihood[:, truth].cumsum(axis=0)
        cells[:, slipped] = family.shares.cumsum()[:, None]
        reading = (random.random(ROWS) > cells).sum(axis=0).clip(max=len(family.readings) - 1)
        known = random.random(ROWS) < KNOWN
        possible[i] = np.where(known, 1 << reading, (1 << len(family.readings)) - 1)
    needs = np.full((len(model.needs), ROWS), NeedState.UNKNOWN, dtype=np.int8)
    return State(Readings(possible, sure), needs, base), truth


@pytest.mark.parametrize("kind", KINDS)
def test_a_belief_is_as_often_right_as_it_says(kind: str) -> None:
    state, truth = sampled(kind, seed=len(kind))
    beliefs = np.exp(open_knowledge().engine.calculus.log_beliefs(state, stories=False))
    leader, belief = beliefs.argmax(axis=1), beliefs.max(axis=1)
    right = leader == truth
    for low in np.arange(0.2, 1.0, 0.1):
        here = (belief >= low) & (belief < low + 0.1)
        if here.sum() > 200:
            spread = 4 * np.sqrt(0.25 / here.sum())
            assert right[here].mean() == pytest.approx(belief[here].mean(), abs=spread)


@pytest.mark.parametrize("kind", KINDS)
def test_each_cause_is_believed_as_often_as_it_occurs(kind: str) -> None:
    state, truth = sampled(kind, seed=7)
    beliefs = np.exp(open_knowledge().engine.calculus.log_beliefs(state, stories=False))
    share = np.bincount(truth, minlength=beliefs.shape[1]) / ROWS
    assert beliefs.mean(axis=0) == pytest.approx(share, abs=4 * np.sqrt(0.25 / ROWS))


def test_stories_only_lower_the_confidence() -> None:
    """Families of one story count less together: the leader is believed less on the whole."""
    calculus = open_knowledge().engine.calculus
    state, _ = sampled("basement", seed=3)
    full, told = (calculus.log_beliefs(state, stories=s).max(axis=1) for s in (False, True))
    assert np.exp(told).mean() < np.exp(full).mean()
