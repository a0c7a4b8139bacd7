"""Likeness of complete places against a general implementation of Gower's coefficient
(package gower, https://pypi.org/project/gower). Its distance is 1 - likeness. All invented."""

from random import Random

import gower
import numpy as np
import pandas as pd
import pytest

from advisor import open_knowledge
from advisor.callout import Resolved
from advisor.library.alike.likeness import most_alike
from advisor.library.alike.packed import pack, together
from advisor.library.alike.telling import telling
from advisor.terms import Range

KNOWLEDGE = open_knowledge()
SHIPPED = telling(KNOWLEDGE)
CHOICES = [k for k in SHIPPED if "." in k or KNOWLEDGE.attributes[k].kind in ("choice", "yes-no")]
NUMBERS = [k for k in SHIPPED if k not in CHOICES]
DRAWS, PLACES = 60, 40


def drawn(key: str, chance: Random) -> int | float:
    """The bit of a choice, or a number that single precision holds."""
    attribute = KNOWLEDGE.attributes[key.partition(".")[0]]
    if key in CHOICES:
        return chance.randrange(2 if "." in key else len(attribute.choices))
    top = min(attribute.highest, attribute.lowest + 1000)
    return float(np.float32(chance.uniform(attribute.lowest, top)))


def fact(key: str, value: int | float) -> Resolved:
    return Resolved(1 << int(value) if key in CHOICES else Range.point(value))


@pytest.mark.parametrize("seed", range(DRAWS))
def test_complete_places(seed: int) -> None:
    chance = Random(seed)
    keys = chance.sample(CHOICES, chance.randint(1, 12)) + chance.sample(
        NUMBERS, chance.randint(1, 6)
    )
    weights = SHIPPED if seed % 2 else {key: chance.uniform(0.1, 3) for key in keys}
    table = [{key: drawn(key, chance) for key in keys} for _ in range(PLACES)]
    facts = [{key: fact(key, value) for key, value in row.items()} for row in table]
    names = {key: number for number, key in enumerate(sorted(keys))}
    found = most_alike(
        KNOWLEDGE,
        facts[0],
        together([pack(KNOWLEDGE, place, names) for place in facts]),
        names,
        weights,
        n=PLACES,
    )
    frame = pd.DataFrame(table).astype({key: str for key in keys if key in CHOICES})
    distances = gower.gower_matrix(
        frame,
        weight=np.array([weights[key] for key in keys]),
        cat_features=[key in CHOICES for key in keys],
    )
    ours = np.array([one.alike for one in sorted(found, key=lambda one: one.row)])
    assert ours == pytest.approx(1 - distances[0], abs=2e-5)  # theirs is in single precision
    assert found[0].row == 0
    nearest = np.argsort(distances[0], kind="stable")[1]
    assert distances[0][found[1].row] == pytest.approx(distances[0][nearest], abs=4e-5)
