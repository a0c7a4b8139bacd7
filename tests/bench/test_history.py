"""How long it takes to count the own history in. Figure asked: 1 s for 100,000 places.
Run: pytest --benchmark-only."""

from pytest_benchmark.fixture import BenchmarkFixture

from advisor import open_knowledge
from advisor.library.facts.history import with_history
from tests.library.made_columns import made_columns

PLACES = 100_000


def test_a_hundred_thousand_places(benchmark: BenchmarkFixture) -> None:
    """Loading the survival library, which the first one waits for, is not counted."""
    knowledge = open_knowledge()
    columns = made_columns(knowledge, PLACES)
    after = benchmark.pedantic(with_history, (knowledge, columns), rounds=5, warmup_rounds=1)
    assert after.history is not None
    assert after.history.places > PLACES / 2
