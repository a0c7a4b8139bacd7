"""How long it takes to count a library. Figure asked: 2 s for 100,000 places, reading included.
Run: pytest --benchmark-only."""

from pytest_benchmark.fixture import BenchmarkFixture

from advisor import open_knowledge
from advisor.library.facts.facts import facts_of
from tests.library.made_columns import made_columns

PLACES = 100_000


def test_a_hundred_thousand_places(benchmark: BenchmarkFixture) -> None:
    """Target: 1.7 s; reading the columns takes the rest."""
    knowledge = open_knowledge()
    columns = made_columns(knowledge, PLACES)
    facts = benchmark.pedantic(facts_of, (knowledge, columns), rounds=5, warmup_rounds=1)
    assert facts.standing.all.all.places == PLACES
    assert facts.held.by_method_and_path
