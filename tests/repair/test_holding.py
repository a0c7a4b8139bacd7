"""The chance that a method holds, reckoned for tables, against the rule written out by hand."""

from math import prod
from random import Random

import numpy as np
import pytest

from advisor import open_knowledge
from advisor.callout import Resolved
from advisor.diagnosis import table_of
from advisor.engine import variables_of
from advisor.engine.model import Floats
from advisor.repair import Truths, chances_to_hold, truths
from advisor.repair.holding import limits_of, makers, rates

KNOWLEDGE = open_knowledge()
ENGINE = KNOWLEDGE.engine
Reckoned = tuple[Floats, Floats, Truths]


def rows(count: int, seed: int) -> list[dict[str, Resolved]]:
    """Invented wet places: a third of what limits ask is known, half of that surely."""
    chance = Random(seed)
    asked = sorted({key for limit in KNOWLEDGE.limits.values() for key in _choices(limit.key)})
    found = []
    for _ in range(count):
        facts = {}
        for key in asked:
            if chance.random() < 0.35:
                options = ENGINE.layout.variables[ENGINE.layout.row[key]].choices
                bit = 1 << chance.randrange(len(options))
                facts[key] = Resolved(value=bit, sure=chance.random() < 0.5)
        found.append(facts)
    return found


def _choices(limit: str) -> list[str]:
    names = variables_of(KNOWLEDGE.limits[limit].must)
    return [name for name in names if ENGINE.layout.variables[ENGINE.layout.row[name]].is_choice]


@pytest.fixture(scope="module")
def reckoned() -> Reckoned:
    run = ENGINE.run(table_of(ENGINE, rows(40, seed=7)))
    told = truths(KNOWLEDGE, run.settled)
    return chances_to_hold(KNOWLEDGE, run.beliefs, told), run.beliefs, told


def test_it_is_the_sum_over_causes_times_the_limits_by_hand(reckoned: Reckoned) -> None:
    chances, beliefs, told = reckoned

    def alone(limit: str, row: int) -> float:
        at, entry = told.at[f"limits {limit}"], KNOWLEDGE.limits[limit]
        if told.true[at, row]:
            return 1.0 if told.sure[at, row] else 0.7 + 0.3 * entry.usually
        return 0.0 if told.false[at, row] else entry.usually

    asked = limits_of(KNOWLEDGE)
    for number, method in enumerate(KNOWLEDGE.methods.values()):
        for row in range(0, 40, 5):
            kept = 1.0
            for limit in asked[method.key]:
                by = [KNOWLEDGE.methods[k] for k in makers(KNOWLEDGE).get(limit, ())]
                brought = max(
                    (
                        other.works
                        * prod(
                            alone(needed, row)
                            for needed in asked[other.key]
                            if needed not in asked[method.key]
                        )
                        for other in by
                        if other is not method
                    ),
                    default=0.0,
                )
                kept *= alone(limit, row) + (1 - alone(limit, row)) * brought
            for place, line in enumerate(method.worse):
                at = told.at[f"methods {method.key}/{place}"]
                true, false = told.true[at, row], told.false[at, row]
                kept *= line.times if true else 1.0 if false else (1 + line.times) / 2
            causes = sum(
                belief * rates(KNOWLEDGE)[number, i] for i, belief in enumerate(beliefs[row])
            )
            assert chances[number, row] == pytest.approx(kept * causes, rel=1e-9, abs=1e-15)


def test_a_causes_own_rate_beats_that_of_its_group() -> None:
    table = rates(KNOWLEDGE)
    for number, method in enumerate(KNOWLEDGE.methods.values()):
        named = {key: line.rate for line in method.holds for key in line.named}
        for place, cause in enumerate(KNOWLEDGE.causes.values()):
            expected = named.get(cause.key, named.get(cause.group, 0.0))
            assert table[number, place] == expected


def test_all_are_chances(reckoned: Reckoned) -> None:
    chances, _, _ = reckoned
    assert np.all((chances >= 0) & (chances < 1))


def test_what_is_not_in_the_list_is_held_by_nothing() -> None:
    place = list(KNOWLEDGE.causes).index("not-in-this-list")
    assert not rates(KNOWLEDGE)[:, place].any()
