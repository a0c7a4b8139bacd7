"""How much a finding tells between causes, against sums by hand."""

from dataclasses import replace
from math import log2

import numpy as np
import pytest

from advisor import open_knowledge
from advisor.library.alike.telling import mutual_information, telling

KNOWLEDGE = open_knowledge()
TOLD = telling(KNOWLEDGE)


def test_what_says_nothing_tells_no_bits() -> None:
    assert mutual_information(np.outer([0.2, 0.8], [0.5, 0.3, 0.2])) == pytest.approx(0, abs=1e-12)


def test_what_says_all_tells_the_entropy_of_the_causes() -> None:
    assert mutual_information(np.diag([0.5, 0.25, 0.25])) == pytest.approx(1.5)


def test_a_table_worked_by_hand() -> None:
    """Two causes alike in rate; yes in 9 of 10 and in 1 of 10: 1 bit less the entropy of 0.1."""
    entropy = -0.9 * log2(0.9) - 0.1 * log2(0.1)
    joint = np.array([[0.9, 0.1], [0.1, 0.9]]) / 2
    assert mutual_information(joint) == pytest.approx(1 - entropy)


def test_all_that_tells_can_be_found_by_someone() -> None:
    for key, bits in TOLD.items():
        attribute = KNOWLEDGE.attributes[key.partition(".")[0]]
        assert set(attribute.who) != {"worked-out"}
        assert ("." in key) == (attribute.kind == "several")
        assert bits > 0


def test_the_bits_of_a_family_are_shared_and_none_is_lost() -> None:
    """The families alone: no needs, one base rate for all kinds."""
    rate = 1 / len(KNOWLEDGE.causes)
    hypotheses = tuple(replace(h, base=rate, needs=()) for h in KNOWLEDGE.model.hypotheses)
    model = replace(KNOWLEDGE.model, hypotheses=hypotheses, needs=())
    alone = telling(replace(KNOWLEDGE, model=model))
    all_bits = [mutual_information(family.likelihood * rate) for family in model.families]
    assert sum(alone.values()) == pytest.approx(sum(all_bits))


def test_a_number_that_is_worked_out_tells_by_what_it_is_worked_out_from() -> None:
    ways = {way.variable: way.inputs for way in KNOWLEDGE.model.worked_out}
    read = [family.variable for family in KNOWLEDGE.model.families if family.variable in ways]
    assert read
    for variable in read:
        found = [key for key in ways[variable] if KNOWLEDGE.attributes[key].who != ("worked-out",)]
        assert all(TOLD[key] > 0 for key in found)


def test_the_kind_of_the_structure_tells() -> None:
    assert TOLD["kind"] > 0
