"""How long it takes to find the places most alike. Figure asked: 150 ms among 100,000, reading the
library included; 60 ms of them are for comparing. Run: pytest --benchmark-only."""

from random import Random

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from advisor import open_knowledge
from advisor.callout import Resolved
from advisor.library.alike.likeness import most_alike
from advisor.library.alike.packed import RECORD, PackedPlaces, pack, together
from advisor.library.alike.telling import telling
from tests.outside.random_leaks import random_facts

KNOWLEDGE = open_knowledge()
WEIGHTS = telling(KNOWLEDGE)
PLACES, FINDINGS = 100_000, 15
NAMES = {key: number for number, key in enumerate(WEIGHTS)}


def places(count: int, chance: Random) -> list[dict[str, Resolved]]:
    """Each with fifteen findings; what tells most is looked at most often."""
    order = sorted(WEIGHTS, key=lambda key: -WEIGHTS[key])
    found = []
    for facts in random_facts(KNOWLEDGE, count, seed=chance.randrange(1000)):
        telling_ones = [key for key in order if key in facts]
        found.append({key: facts[key] for key in telling_ones[:FINDINGS]})
    return found


@pytest.fixture(scope="module")
def library() -> PackedPlaces:
    """Places are drawn from a thousand that differ: drawing takes longer than comparing."""
    packed = [pack(KNOWLEDGE, place, NAMES) for place in places(1000, Random(1))]
    return together(Random(2).choices(packed, k=PLACES))


def test_most_alike_of_a_hundred_thousand(
    benchmark: BenchmarkFixture, library: PackedPlaces
) -> None:
    query = places(1, Random(3))[0]
    assert len(query) == FINDINGS
    found = benchmark(most_alike, KNOWLEDGE, query, library, NAMES, WEIGHTS)
    assert len(found) == 5
    benchmark.extra_info["bytes a place"] = len(library.joined) / PLACES
    assert len(library.joined) / PLACES <= FINDINGS * RECORD.itemsize


def test_packing_one_place(benchmark: BenchmarkFixture) -> None:
    place = places(1, Random(4))[0]
    assert benchmark(pack, KNOWLEDGE, place, NAMES)


def test_weights_of_the_shipped_knowledge(benchmark: BenchmarkFixture) -> None:
    assert benchmark(telling.__wrapped__, KNOWLEDGE) == WEIGHTS
