"""Numbers that point to one building are kept as bands, a few not at all."""

from itertools import pairwise
from math import inf

import pytest

from advisor.knowledge import open_knowledge
from advisor.knowledge.library_entries import Keeping
from advisor.library.alike.findings import read_findings
from advisor.library.scrub.scrubbing import Scrubbed
from advisor.terms import Range
from tests.library.test_scrubbing import RECORD, done, knowledge

BANDED = [rule for rule in open_knowledge().keeping.values() if rule.bands]
NEVER = [rule.key for rule in open_knowledge().keeping.values() if rule.leave_out]


def with_finding(key: str, value: str) -> Scrubbed:
    """The record with one more finding, where it belongs."""
    of = knowledge().attributes[key].of
    record = RECORD.replace("pour-date: 2029-01-10, ", "").removesuffix("log:\n")
    record = record.replace("      first-wet: 2030-11-02\n", "")
    old, new = {
        "structure": ("{kind: basement", f"{{kind: basement, {key}: {value}"),
        "visit": ("{date: 2031-05-20", f"{{date: 2031-05-20, {key}: {value}"),
        "leak": ("    findings:\n", f"    findings:\n      {key}: {value}\n"),
    }[of]
    assert old in record
    return done(record.replace(old, new))


@pytest.mark.parametrize("rule", BANDED, ids=lambda rule: rule.key)
def test_bands_hold_what_was_found_and_end_at_edges(rule: Keeping) -> None:
    key, edges = rule.key, rule.bands
    attribute = knowledge().attributes[key]
    between = [(a + b) / 2 for a, b in pairwise(edges)]
    for number in (*edges, *between, edges[0] / 2, edges[-1] * 1.5):
        if not attribute.lowest <= number <= attribute.highest or number < 0:
            continue
        unit = "" if attribute.unit in ("count", None) else f" {attribute.unit}"
        kept = with_finding(key, f"{number:g}{unit}")
        facts, problems = read_findings(knowledge(), kept.case.places[0].findings)
        assert not problems
        value = facts[key].value
        assert isinstance(value, Range)
        assert value.lo <= number < value.hi
        assert value.lo in (*edges, attribute.lowest)
        assert value.hi in edges or value.hi > attribute.highest
        assert not any(value.lo < edge < value.hi for edge in edges)
        assert kept.removed["band"] == 1


def test_a_range_over_several_bands_stays_one_range() -> None:
    facts, _ = read_findings(
        knowledge(), with_finding("wall-height", "2.5 to 6 m").case.places[0].findings
    )
    assert facts["wall-height"].value == Range(2, 8)
    rare, _ = read_findings(
        knowledge(), with_finding("wall-height", "47 m").case.places[0].findings
    )
    value = rare["wall-height"].value
    assert isinstance(value, Range)
    assert value.lo == 8
    assert 200 < value.hi < inf


@pytest.mark.parametrize("key", NEVER)
def test_what_is_never_kept_is_absent(key: str) -> None:
    kept = with_finding(key, "3.25 m")
    assert key not in kept.case.model_dump_json()
    assert kept.removed["left-out"] == 1
