"""What simulated leaks must show. `python -m tests.bench.simulation` prints the whole report."""

from advisor import open_knowledge
from tests.bench.simulation import LEAKS, PERTURBED, draw, kept, report, score, tables_of

KNOWN = 30
COPYING = 0.5


def test_calibrated_in_a_world_that_is_not_quite_ours() -> None:
    """Tables up to three times off, half of what a story tells copied: ECE 0.03 or less."""
    knowledge = open_knowledge()
    tables = tables_of(knowledge, perturbed=PERTURBED, seed=1)
    drawn = draw(knowledge, tables, copying=COPYING, seed=2, leaks=LEAKS)
    assert score(knowledge.engine, kept(drawn, KNOWN, seed=3)).ece <= 0.03


def test_more_readings_tell_more() -> None:
    knowledge = open_knowledge()
    tables = tables_of(knowledge, perturbed=1.0, seed=1)
    drawn = draw(knowledge, tables, copying=0.0, seed=2, leaks=LEAKS)
    top = [score(knowledge.engine, kept(drawn, n, seed=3)).top_1 for n in (15, 30, None)]
    assert top == sorted(top)


def test_the_report_is_the_same_each_time() -> None:
    lines = report(open_knowledge(), leaks=500)
    assert len(lines) == 18
    assert lines == report(open_knowledge(), leaks=500)
