"""Reach: no cause is beyond what findings can say. Each leads when all speaks for it."""

import numpy as np
import pytest

from advisor import open_knowledge
from advisor.engine import Engine, Table
from advisor.engine.belief import NeedState
from advisor.knowledge.entries import NOT_IN_THIS_LIST

CAUSES = [c for c in open_knowledge().causes if c != NOT_IN_THIS_LIST]


def best_row(engine: Engine, cause: int, kind: int) -> Table:
    """One row: every family that speaks of the cause shows the reading most in its favour."""
    table, layout = engine.blank(), engine.layout
    table.masks[layout.choice_row["kind"], 0] = 1 << kind
    for family in engine.model.families:
        times = family.likelihood[:, cause] / family.shares
        best = int(times.argmax())
        if times[best] <= 1 + 1e-9:
            continue
        if family.edges:
            row = layout.number_row[family.variable]
            edges = np.array([layout.lowest[row], *family.edges, layout.highest[row]])
            table.lo[row, 0], table.hi[row, 0] = edges[best], edges[best + 1]
        else:
            table.masks[layout.choice_row[family.variable], 0] = 1 << best
    return table


@pytest.mark.parametrize("cause", CAUSES)
def test_each_cause_leads_in_every_kind_when_all_speaks_for_it(cause: str) -> None:
    knowledge = open_knowledge()
    engine = knowledge.engine
    column = engine.hypotheses.index(cause)
    needs = [i for i, n in enumerate(engine.model.needs) if n.key in knowledge.causes[cause].needs]
    rates = engine.calculus.base_rates[:, column]
    assert (rates > 0).any()
    for kind in np.flatnonzero(rates):
        state = engine.run(best_row(engine, column, int(kind))).state
        state.needs[needs] = NeedState.TRUE
        beliefs = engine.calculus.log_beliefs(state)[0]
        leader = engine.hypotheses[int(beliefs.argmax())]
        assert leader == cause, f"kind {kind}: {leader} leads"
