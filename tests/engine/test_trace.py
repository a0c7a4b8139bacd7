"""Traces say what the arrays say, and why."""

from math import inf

import numpy as np
import pytest

from advisor.engine.engine import compile_engine
from advisor.engine.family import build_table
from advisor.engine.model import All, Deduction, Family, Hypothesis, Model, Not, Test, Variable
from advisor.engine.trace import Trace, trace
from tests.engine.naive import truth, values_of_row
from tests.engine.rows import Row, row, table_of
from tests.engine.synthetic import random_rows, synthetic_model

YES_NO = ("yes", "no")


def yes(variable: str) -> Test:
    return Test(variable, frozenset({"yes"}))


def family(key: str, variable: str, given: Test | None = None) -> Family:
    built = build_table(YES_NO, (0.5, 0.5), ["it"], {})
    return Family(
        key=key,
        variable=variable,
        readings=YES_NO,
        shares=np.array([0.5, 0.5]),
        likelihood=built.likelihood,
        mentioned=built.mentioned,
        given=given,
    )


BOTH = All((yes("seen"), Not(Test("size", (5, inf)))))
ENGINE = compile_engine(
    Model(
        variables=(
            Variable(key="seen", choices=YES_NO),
            Variable(key="size", lowest=0, highest=10),
            Variable(key="follows", choices=YES_NO),
            Variable(key="place", choices=YES_NO),
            Variable(key="inside", choices=YES_NO, applies=yes("place")),
        ),
        hypotheses=(Hypothesis(key="it", base=1),),
        deductions=(
            Deduction(key="rule", when=BOTH, variable="follows", strikes=frozenset({"no"})),
        ),
        families=(family("direct", "follows"), family("there", "inside", given=yes("seen"))),
    )
)


def traced(written: Row) -> Trace:
    return trace(ENGINE, ENGINE.run(table_of(ENGINE.layout, written)), 0)


@pytest.mark.parametrize(
    ("written", "state", "tests"),
    [
        (row(), "unknown", ["unknown", "unknown"]),
        (row(seen="yes"), "unknown", ["true", "unknown"]),
        (row(seen="yes", size=3.0), "true", ["true", "false"]),  # under a Not: false lets it fire
        (row(seen="yes", size=(3.0, 6.0)), "unknown", ["true", "unknown"]),
        (row(seen="yes", size=7.0), "false", ["true", "true"]),
        (row(seen="no"), "false", ["false", "unknown"]),
        (row(size=7.0), "false", ["unknown", "true"]),
    ],
)
def test_why_a_deduction_fired_or_did_not(written: Row, state: str, tests: list[str]) -> None:
    (found,) = traced(written).deductions
    assert found.deduction.key == "rule"
    assert (found.state, [t.state for t in found.tests]) == (state, tests)
    assert [t.test.variable for t in found.tests] == ["seen", "size"]
    assert not found.in_conflict


def test_a_deduction_against_a_finding_is_in_conflict() -> None:
    (found,) = traced(row(seen="yes", size=3.0, follows="no")).deductions
    assert (found.state, found.in_conflict) == ("true", True)


@pytest.mark.parametrize(
    ("written", "read", "applies", "given"),
    [
        (row(), False, "unknown", "unknown"),
        (row(seen="yes", place="yes", inside="no"), True, "true", "true"),
        (row(seen="no", place="yes", inside="no"), False, "true", "false"),
        (row(place="yes", inside="no"), False, "true", "unknown"),
        (row(seen="yes", place="yes"), False, "true", "true"),
        (row(seen="yes", place="no"), False, "false", "true"),
        (row(seen="yes", inside="no"), True, "true", "true"),  # a finding settles that it applies
        (row(seen="yes", inside=None), False, "false", "true"),
    ],
)
def test_why_a_family_is_read_or_silent(written: Row, read: bool, applies: str, given: str) -> None:
    _, found = traced(written).families
    assert (found.family.key, found.read, found.applies) == ("there", read, applies)
    assert [t.state for t in found.given] == [given]


def test_a_family_without_given_has_no_tests() -> None:
    found, _ = traced(row(seen="yes", size=3.0)).families
    assert (found.family.key, found.read, found.given) == ("direct", True, ())


def test_traces_of_random_rows_are_the_naive_truth_of_their_conditions() -> None:
    """Every test and every condition, one value at a time."""
    engine = compile_engine(
        synthetic_model(hypotheses=4, families=10, deductions=20, observed=70, seed=4)
    )
    run = engine.run(random_rows(engine, 20, seed=5))
    words = {True: "true", False: "false", None: "unknown"}
    states = set()
    for at in range(20):
        values = values_of_row(engine.layout, run.settled.values, at)
        found = trace(engine, run, at)
        assert [d.deduction for d in found.deductions] == list(engine.model.deductions)
        for deduction in found.deductions:
            assert deduction.state == words[truth(deduction.deduction.when, values)]
            for test in deduction.tests:
                assert test.state == words[truth(test.test, values)]
            states.add(deduction.state)
        for each in found.families:
            assert each.applies == words[values[each.family.variable].applies]
            for test in each.given:
                assert test.state == words[truth(test.test, values)]
    assert states == {"true", "false", "unknown"}
