"""What makes a rule base unsound, against plain searches and sums."""

from collections.abc import Mapping
from itertools import product
from math import inf, log, nextafter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.model import (
    All,
    AnyOf,
    Condition,
    Deduction,
    Family,
    Hypothesis,
    Model,
    Need,
    Not,
    Test,
    Variable,
    WorkedOut,
)
from advisor.engine.soundness import Paths, can_be_true, second_paths, separations
from tests.engine.synthetic import synthetic_model

YES_NO = ("yes", "no")


def yes(variable: str) -> Test:
    return Test(variable, frozenset({"yes"}))


def no(variable: str) -> Test:
    return Test(variable, frozenset({"no"}))


def family(key: str, variable: str, **more: object) -> Family:
    return Family(
        key=key,
        variable=variable,
        readings=YES_NO,
        shares=np.array([0.5, 0.5]),
        likelihood=np.full((2, 1), 0.5),
        mentioned=np.array([False]),
        **more,  # type: ignore[arg-type]
    )


def follows(variable: str, when: Condition) -> Deduction:
    return Deduction(key=f"to-{variable}", when=when, variable=variable, strikes=frozenset({"no"}))


def paths(
    *families: Family,
    deductions: tuple[Deduction, ...] = (),
    needs: tuple[Need, ...] = (),
    named: tuple[str, ...] = (),
    worked_out: tuple[WorkedOut, ...] = (),
    variables: tuple[Variable, ...] = (),
) -> tuple[Paths, ...]:
    own = {v.key for v in variables}
    names = [n for n in ("a", "b", "c", "d", "e", "x", "y") if n not in own]
    return second_paths(
        Model(
            variables=(*(Variable(key=n, choices=YES_NO) for n in names), *variables),
            hypotheses=(Hypothesis(key="it", base=1, needs=named),),
            deductions=deductions,
            families=families,
            needs=needs,
            worked_out=worked_out,
        )
    )


def test_one_way_each_is_sound() -> None:
    assert paths(family("f", "a"), family("g", "b"), deductions=(follows("b", yes("c")),)) == ()


def test_two_families_on_one_variable() -> None:
    assert paths(family("f", "a"), family("g", "a")) == (Paths(origin="a", reaches=("f", "g")),)


def test_a_second_way_through_deductions_however_long() -> None:
    found = paths(
        family("f", "a"),
        family("g", "d"),
        deductions=(
            follows("b", yes("a")),
            follows("c", Not(yes("b"))),
            follows("d", AnyOf((yes("c"), All((no("e"),))))),
        ),
    )
    assert found == (Paths(origin="a", reaches=("f", "g")),)


def test_two_families_on_what_is_deduced_name_every_origin() -> None:
    found = paths(
        family("f", "c"), family("g", "c"), deductions=(follows("c", All((yes("a"), yes("b")))),)
    )
    assert {p.origin for p in found} == {"a", "b", "c"}  # c may be found itself


def test_a_second_way_through_a_worked_out_fact() -> None:
    found = paths(
        family("f", "x"),
        family("g", "y"),
        variables=(Variable(key="x"), Variable(key="y")),
        worked_out=(WorkedOut(variable="y", inputs=("x",), work=lambda ranges: ranges[0]),),
    )
    assert found == (Paths(origin="x", reaches=("f", "g")),)


def test_readings_cut_from_one_thing_before_they_come_here() -> None:
    first = Variable(key="x", choices=YES_NO, origins=("thing",))
    both = Variable(key="y", choices=YES_NO, origins=("other", "thing"))
    assert paths(family("f", "x"), family("g", "y"), variables=(first, both)) == (
        Paths(origin="thing", reaches=("f", "g")),
    )


def test_a_need_counts_when_a_hypothesis_names_it() -> None:
    need = Need(key="n", when=yes("a"), share=0.5)
    assert paths(family("f", "a"), needs=(need,)) == ()
    assert paths(family("f", "a"), needs=(need,), named=("n",)) == (
        Paths(origin="a", reaches=("f", "n")),
    )


def test_given_and_applies_are_no_ways_to_evidence() -> None:
    second = Variable(key="x", choices=YES_NO, applies=yes("a"), unsure_when=no("a"))
    assert paths(family("f", "a"), family("g", "x"), variables=(second,)) == ()
    assert paths(family("f", "a"), family("g", "b", given=yes("a"))) == ()


def test_again_is_left_out_and_two_others_are_not() -> None:
    again = family("g", "a", again="a reason")
    assert paths(family("f", "a"), again) == ()
    assert paths(family("f", "a"), again, family("h", "a")) == (
        Paths(origin="a", reaches=("f", "h")),
    )
    need = Need(key="n", when=yes("a"), share=0.5, again="a reason")
    assert paths(family("f", "a"), needs=(need,), named=("n",)) == ()


def test_a_loop_of_deductions_does_not_hang() -> None:
    found = paths(
        family("f", "a"),
        family("g", "b"),
        deductions=(follows("a", yes("b")), follows("b", yes("a"))),
    )
    assert {p.origin for p in found} == {"a", "b"}


# Conditions that can be true: small domains are tried out whole.

LETTERS = ("p", "q", "r")
NUMBER = Variable(key="n", lowest=0, highest=nextafter(3, inf))
POINTS = (0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
PLAIN = {
    "a": Variable(key="a", choices=LETTERS),
    "b": Variable(key="b", choices=YES_NO),
    "n": NUMBER,
}

tests_of_a = st.sets(st.sampled_from(LETTERS), min_size=1, max_size=2).map(
    lambda choices: Test("a", frozenset(choices))
)
tests_of_b = st.sampled_from([yes("b"), no("b")])
tests_of_n = st.tuples(st.sampled_from([-inf, *POINTS]), st.sampled_from([*POINTS, inf])).map(
    lambda ends: Test("n", ends)
)
"""The last two may be empty: a test that nothing passes."""

conditions: st.SearchStrategy[Condition] = st.recursive(
    st.one_of(tests_of_a, tests_of_b, tests_of_n),
    lambda inner: st.one_of(
        inner.map(Not),
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: All(tuple(parts))),
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: AnyOf(tuple(parts))),
    ),
    max_leaves=8,
)


World = Mapping[str, str | float]


def holds(condition: Condition, world: World, variables: Mapping[str, Variable]) -> bool:
    """One value for each variable; a test on what does not apply is false."""
    if isinstance(condition, Test):
        applies = variables[condition.variable].applies
        if applies is not None and not holds(applies, world, variables):
            return False
        value, passing = world[condition.variable], condition.passing
        if isinstance(passing, frozenset):
            return value in passing
        assert isinstance(value, float)
        return passing[0] <= value < passing[1]
    if isinstance(condition, Not):
        return not holds(condition.of, world, variables)
    join = all if isinstance(condition, All) else any
    return join(holds(part, world, variables) for part in condition.of)


def tried_out(condition: Condition, variables: Mapping[str, Variable]) -> bool:
    """Points between all limits that a test can have are enough."""
    return any(
        holds(condition, {"a": a, "b": b, "n": n}, variables)
        for a, b, n in product(LETTERS, YES_NO, POINTS)
    )


APPLYING = {
    "b": PLAIN["b"],
    "a": Variable(key="a", choices=LETTERS, applies=yes("b")),
    "n": Variable(key="n", lowest=0, highest=nextafter(3, inf), applies=Test("a", frozenset("p"))),
}
"""`n` applies under a choice of `a`, which itself applies under a choice of `b`."""


@pytest.mark.parametrize("variables", [PLAIN, APPLYING], ids=["plain", "applying"])
@given(condition=conditions)
def test_can_be_true_is_what_trying_everything_finds(
    variables: Mapping[str, Variable], condition: Condition
) -> None:
    assert can_be_true(condition, variables) == tried_out(condition, variables)


@pytest.mark.parametrize(
    ("condition", "possible"),
    [
        (All((no("b"), Test("a", frozenset("p")))), False),
        (All((no("b"), Not(Test("a", frozenset("p"))))), True),  # no answer passes no test
        (AnyOf((no("b"), Test("a", frozenset("p")))), True),
        (AnyOf((All((no("b"), Test("a", frozenset("p")))), All((yes("b"), no("b"))))), False),
        (All((no("b"), Not(Not(Test("n", (1, 2)))))), False),
        (Test("n", (3, inf)), True),
        (Test("n", (3.5, inf)), False),
        (Test("n", (5, 6)), False),
        (AnyOf(()), False),
        (All(()), True),
        (Not(All(())), False),
    ],
)
def test_can_be_true_by_hand(condition: Condition, possible: bool) -> None:
    assert can_be_true(condition, APPLYING) == possible


def test_too_many_alternatives_are_taken_as_possible() -> None:
    variables = {f"v{i}": Variable(key=f"v{i}", choices=YES_NO) for i in range(14)}
    either = [AnyOf((yes(key), no(key))) for key in variables]
    assert can_be_true(All((*either, yes("v0"), no("v0"))), variables)


# Separations.


def test_separations_are_the_sums_term_by_term() -> None:
    model = synthetic_model(hypotheses=6, families=12, deductions=6, observed=20, seed=5)
    found = {(t.one, t.other): t.decibels for t in separations(model)}
    assert len(found) == 15
    for (i, a), (j, b) in product(enumerate(model.hypotheses), repeat=2):
        if i < j:
            there = back = 0.0
            for f in model.families:
                for r, share in enumerate(f.shares):
                    p = model.right_sure * f.likelihood[r, i] + (1 - model.right_sure) * share
                    q = model.right_sure * f.likelihood[r, j] + (1 - model.right_sure) * share
                    there += p * log(p / q)
                    back += q * log(q / p)
            plain = 10 / log(10) * min(there, back)
            assert found[a.key, b.key] == pytest.approx(plain, rel=1e-9, abs=1e-12)


def test_a_hypothesis_within_another_is_exempt_whichever_says_so() -> None:
    model = Model(
        variables=(Variable(key="a", choices=YES_NO),),
        hypotheses=(
            Hypothesis(key="one", base=1, within=("two",)),
            Hypothesis(key="two", base=1),
            Hypothesis(key="three", base=1, within=("one",)),
        ),
        families=(),
    )
    assert [(t.one, t.other, t.decibels) for t in separations(model)] == [("two", "three", 0)]


def test_the_weakest_pair_comes_first() -> None:
    found = [t.decibels for t in separations(synthetic_model(seed=3))]
    assert found == sorted(found)
    assert found[0] >= -1e-9
