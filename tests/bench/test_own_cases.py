"""100,000 cases made of the invented ones. Figures asked: 2,000 cases/s added with their findings
packed, similar places in 150 ms, facts in 2 s, memory flat while exporting.
"""

import tracemalloc
from collections.abc import Iterator
from random import Random
from time import perf_counter

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from advisor.assessment.similar import similar_places
from advisor.callout import Callout
from advisor.cli.library_opening import packing
from advisor.knowledge import open_knowledge, shipped
from advisor.library.case import KeptCase
from advisor.library.facts.facts import facts_of
from advisor.library.facts.history import with_history
from advisor.library.moves.csv_in import read_csv
from advisor.library.moves.jsonl import exported
from advisor.library.moves.lines import from_line
from advisor.library.scrub.identities import private_words, scrub_text
from advisor.library.store.store import Library, open_library
from tests.library.firm_table import FIRST, HEADER, KEY, mapping

KNOWLEDGE = open_knowledge()
CASES = 100_000
CALLOUT = shipped("cases") / "worked" / "seen" / "lift-pit-that-sweats-in-august.yaml"


def made() -> Iterator[KeptCase]:
    file = shipped("cases") / "demonstration" / "histories.jsonl"
    invented = [from_line(line) for line in file.read_text(encoding="utf-8").splitlines()]
    chance = Random(1)
    for _ in range(CASES):
        told = {
            "case": f"{chance.getrandbits(128):032x}",
            "quarter": f"{chance.randint(2019, 2031)}-Q{chance.randint(1, 4)}",
            "labels": {"site": f"site-{chance.randrange(CASES)}"},
        }
        yield chance.choice(invented).model_copy(update=told)


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    cases = list(made())
    path = tmp_path_factory.mktemp("own") / "library.sqlite"
    with open_library(path, invented=True) as library:
        pack = packing(library, KNOWLEDGE)
        begun = perf_counter()
        library.add(cases, pack)
        print(f"\n{CASES / (perf_counter() - begun):,.0f} cases/s")
        print(f"{path.stat().st_size / CASES:,.0f} bytes a case")
    del cases  # a hundred thousand of them would slow down all that follows
    with open_library(path) as library:  # as the next command finds it
        yield library


def test_similar_places(benchmark: BenchmarkFixture, full: Library) -> None:
    callout = Callout.read(CALLOUT, KNOWLEDGE.attributes)
    found = benchmark(similar_places, KNOWLEDGE, full, callout, callout.leaks[0])
    assert len(found) == 5


def test_facts(benchmark: BenchmarkFixture, full: Library) -> None:
    facts = benchmark(lambda: facts_of(KNOWLEDGE, full.columns()))
    assert facts.standing.all.all.cases == CASES


def test_history(benchmark: BenchmarkFixture, full: Library) -> None:
    columns = full.columns()
    assert benchmark(with_history, KNOWLEDGE, columns).history is not None


def test_export_keeps_its_memory(benchmark: BenchmarkFixture, full: Library) -> None:
    tracemalloc.start()
    count = benchmark.pedantic(  # type: ignore[no-untyped-call]
        lambda: sum(1 for _ in exported(full.bodies())), rounds=1
    )
    assert count == CASES
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 20e6


def test_a_table_of_twenty_thousand_rows(benchmark: BenchmarkFixture) -> None:
    rows = [
        FIRST.replace("A-17", f"A-{n}").replace("0,3", f"0,{n % 97 + 1}") for n in range(20_000)
    ]
    data = "\n".join([HEADER, *rows]).encode()
    found = benchmark.pedantic(  # type: ignore[no-untyped-call]
        lambda: read_csv(data, "firm.csv", KNOWLEDGE, mapping(), key=KEY, origin="from-records"),
        rounds=1,
    )
    assert found.taken == len(rows)


def test_a_long_odd_note(benchmark: BenchmarkFixture) -> None:
    names = private_words({"owner": "Anna Example", "address": "12 Sample Street"})
    assert benchmark(scrub_text, "12-" * 1300, names)
