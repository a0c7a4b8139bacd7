"""The library at 100,000 cases. Figures asked: 2,000 cases/s added, found in 50 ms, flat memory."""

import tracemalloc
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from advisor.library.alike.packed import START
from advisor.library.case import KeptCase, KeptPlace
from advisor.library.store.store import Library, open_library
from tests.library.made_cases import CAUSES, KINDS, METHODS, made_case, token

CASES, DIFFERENT = 100_000, 2_000
PACKED = START + bytes(110)


def pack(_: KeptPlace) -> bytes:
    return PACKED


def cases(first: int, size: int) -> Iterator[KeptCase]:
    """Contents come again, tokens do not: making them would take longer than writing them."""
    made = [made_case(number) for number in range(DIFFERENT)]
    for number in range(first, first + size):
        yield made[number % DIFFERENT].model_copy(update={"case": token(number)})


@pytest.fixture(scope="session")
def full(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    with open_library(tmp_path_factory.mktemp("library") / "library.sqlite") as library:
        begun = perf_counter()
        library.add(cases(0, CASES), pack)
        seconds = perf_counter() - begun
        print(f"\n{CASES / seconds:,.0f} cases/s, {size_of(library) / CASES:,.0f} bytes a case")
        yield library


def size_of(library: Library) -> int:
    return library.path.stat().st_size


def test_cases_added_in_bulk(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """5,000 cases, one transaction; a tenth of them again is told apart."""
    given = list(cases(0, 5000))
    with open_library(tmp_path / "library.sqlite") as library:
        added = benchmark.pedantic(library.add, args=(given, pack), rounds=1)
        assert added.new == 5000
        assert library.add(given[::10], pack).same == 500
        benchmark.extra_info["bytes a case"] = size_of(library) / 5000


@pytest.mark.parametrize(
    "asked",
    [
        {},
        {"kind": KINDS[0]},
        {"cause": CAUSES[0]},
        {"status": "closed", "origin": "own"},
        {"method": METHODS[1]},
        {"kind": KINDS[1], "cause": CAUSES[0], "method": METHODS[2], "quarter_from": "2020-Q1"},
        {"cause": "nowhere"},
        {"words": "made-attribute-7"},
        {"kind": KINDS[1], "cause": CAUSES[0], "words": "nowhere"},
    ],
    ids=str,
)
def test_found_among_all(benchmark: BenchmarkFixture, full: Library, asked: dict[str, str]) -> None:
    found = benchmark(full.find, **asked)
    assert len(found) == (0 if "nowhere" in asked.values() else 20)


def test_a_word_that_stands_nowhere(benchmark: BenchmarkFixture, full: Library) -> None:
    """Every case is read through: this is what `words` costs at most."""
    assert benchmark.pedantic(full.find, kwargs={"words": "nowhere"}, rounds=3) == ()


def test_columns_of_all(benchmark: BenchmarkFixture, full: Library) -> None:
    columns = benchmark.pedantic(full.columns, rounds=3)
    assert len(columns.case) > CASES


def test_opened_and_checked(benchmark: BenchmarkFixture, full: Library) -> None:
    library = benchmark.pedantic(open_library, args=(full.path,), rounds=3)
    library.close()
    assert library.path == full.path


def test_streamed_with_flat_memory(benchmark: BenchmarkFixture, full: Library) -> None:
    assert benchmark.pedantic(lambda: sum(1 for _ in full.bodies()), rounds=1) == CASES
    tracemalloc.start()
    for _ in full.bodies():
        pass
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    benchmark.extra_info["most bytes in memory"] = most
    assert most < 10_000_000
