"""How long methods and plans take. Figures asked: a plan 20 ms, 100,000 rows ranked in 1 s."""

from concurrent.futures import ThreadPoolExecutor

from pytest_benchmark.fixture import BenchmarkFixture

from advisor import Callout, open_knowledge
from advisor.callout import resolve
from advisor.diagnosis import examine, table_of
from advisor.engine.model import Floats
from advisor.repair import chances_to_hold, repair, truths

KNOWLEDGE = open_knowledge()
CALLOUT = """
callout: invented
structure: {kind: basement, tensioned: no, agreed-tightness: fully-dry}
visits: [{date: 2031-02-16, danger-signs: []}]
leaks:
  - leak: L1
    findings: {member: wall, crack-visible: yes, crack-width: 0.3 mm, wetness: drips,
      wall-thickness: 300 mm, path-length: 2-3 m, relation-to-joint: away-from-joints}
"""
ROWS, BLOCK = 100_000, 10_000


def test_plan_of_one_wet_place(benchmark: BenchmarkFixture) -> None:
    callout = Callout.parse(CALLOUT, "invented.yaml", KNOWLEDGE.attributes)
    diagnosis, place = examine(KNOWLEDGE, callout, callout.leaks[0])
    methods, plan = benchmark(repair, place, diagnosis)
    assert len(methods) == len(KNOWLEDGE.methods)
    assert plan.method is not None


def test_methods_ranked_for_a_hundred_thousand_rows(benchmark: BenchmarkFixture) -> None:
    """From settled rows and beliefs to the chance of every method, in blocks on all processors."""
    callout = Callout.parse(CALLOUT, "invented.yaml", KNOWLEDGE.attributes)
    facts = resolve(callout, callout.leaks[0], KNOWLEDGE.attributes)
    run = KNOWLEDGE.engine.run(table_of(KNOWLEDGE.engine, [facts]).repeated(BLOCK))
    beliefs = run.beliefs

    def block(_: int) -> Floats:
        return chances_to_hold(KNOWLEDGE, beliefs, truths(KNOWLEDGE, run.settled))

    def ranked() -> list[Floats]:
        with ThreadPoolExecutor() as pool:
            return list(pool.map(block, range(ROWS // BLOCK)))

    found = benchmark.pedantic(ranked, rounds=3, iterations=1)
    assert sum(one.shape[1] for one in found) == ROWS
