"""Speed and memory of the engine on a made-up rule base of full size. Run: pytest --benchmark-only.

CLIPS (https://www.clipsrules.net) is timed on the same deductions and rows, for comparison.
"""

import tracemalloc
from statistics import median
from time import perf_counter

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from advisor.engine.engine import Engine, compile_engine
from advisor.engine.layout import Table
from tests.engine.synthetic import random_rows, synthetic_model
from tests.outside.clips_rules import Clips, facts_of

MANY = 100_000
COMPARED = 300
MODEL = synthetic_model(hypotheses=41, families=50, deductions=60)


@pytest.fixture(scope="module")
def engine() -> Engine:
    return compile_engine(MODEL)


@pytest.fixture(scope="module")
def many(engine: Engine) -> Table:
    return random_rows(engine, MANY)


def test_compiling(benchmark: BenchmarkFixture) -> None:
    assert len(benchmark(compile_engine, MODEL).hypotheses) == 41


def test_one_row(benchmark: BenchmarkFixture, engine: Engine) -> None:
    """Target: 1 ms."""
    table = random_rows(engine, 1)
    assert benchmark(engine.run, table).beliefs.shape == (1, 41)


def test_a_hundred_thousand_rows(benchmark: BenchmarkFixture, engine: Engine, many: Table) -> None:
    """Target: 0.4 s on two cores."""
    beliefs = benchmark.pedantic(engine.beliefs, (many,), rounds=7, warmup_rounds=1)
    assert beliefs.shape == (MANY, 41)


def test_memory_of_a_hundred_thousand_rows(
    benchmark: BenchmarkFixture, engine: Engine, many: Table
) -> None:
    """Target: under 1 GiB, the table itself included. Traced, so the time here is no measure."""

    def peak() -> int:
        tracemalloc.start()
        engine.beliefs(many)
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return most

    own = sum(a.nbytes for a in (many.masks, many.lo, many.hi, many.sure, many.not_applicable))
    found = benchmark.pedantic(peak, rounds=1) + own
    benchmark.extra_info["mebibytes"] = round(found / 2**20)
    print(f"\n100,000 rows: {found / 2**20:.0f} MiB at most")
    assert found < 2**30


def test_deductions_beside_clips(benchmark: BenchmarkFixture, engine: Engine) -> None:
    """The same deductions on the same rows of single values, from findings to what is struck.

    Twice: a row at a time, and all rows at once. CLIPS takes a row at a time, as text.
    """
    table = random_rows(engine, COMPARED, unsure=0.0, half_known=0.0)
    rows = [table.take([i]) for i in range(COMPARED)]
    texts = [facts_of(table, engine.layout, i) for i in range(COMPARED)]
    clips = Clips(MODEL)

    def one_by_one() -> None:
        for row in rows:
            engine.settler.settle(row)

    theirs = _median(lambda: [clips.struck(text) for text in texts])
    single = _median(one_by_one)
    benchmark.pedantic(engine.settler.settle, (table,), rounds=20, warmup_rounds=2)
    together = benchmark.stats.stats.median if benchmark.stats else float("nan")
    per_row = {
        "CLIPS": theirs / COMPARED * 1e6,
        "a row at a time": single / COMPARED * 1e6,
        "all rows at once": together / COMPARED * 1e6,
    }
    benchmark.extra_info |= {
        **{f"microseconds a row, {name}": round(value, 1) for name, value in per_row.items()},
        "times as fast, a row at a time": round(theirs / single, 1),
        "times as fast, all rows at once": round(theirs / together),
    }
    print("\n" + ", ".join(f"{k} {v:.1f} µs" for k, v in per_row.items()))
    assert single < theirs


def _median(work: object, rounds: int = 3) -> float:
    assert callable(work)
    times = []
    for _ in range(rounds):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return median(times)
