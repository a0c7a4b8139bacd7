"""Conditions: Kleene's tables, and any nesting against a naive recursive evaluator."""

from collections.abc import Mapping, Sequence
from math import inf, nextafter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.circuit import compile_circuit
from advisor.engine.layout import Layout, Values, lay_out
from advisor.engine.model import ALWAYS, All, AnyOf, Condition, Not, Test, Variable
from tests.engine.naive import Kleene, Value, truth

VARIABLES = (
    Variable(key="p", choices=("yes", "no")),
    Variable(key="q", choices=("yes", "no")),
    Variable(key="colour", choices=tuple("abcde")),
    Variable(key="size"),
    Variable(key="weight", lowest=0.0, highest=10.0),
)
LAYOUT = lay_out(VARIABLES)
IS: dict[Kleene, frozenset[str]] = {
    True: frozenset({"yes"}),
    False: frozenset({"no"}),
    None: frozenset({"yes", "no"}),
}
P, Q = Test("p", frozenset({"yes"})), Test("q", frozenset({"yes"}))
NEVER = AnyOf(())


def arrays(rows: Sequence[Mapping[str, Value]]) -> Values:
    """Plain values as the arrays that a circuit reads."""
    of = LAYOUT
    choices = [v for v in of.variables if v.is_choice]
    numbers = [v for v in of.variables if not v.is_choice]
    ranges = np.array([[row[v.key].range for row in rows] for v in numbers])
    applies = [[row[v.key].applies for row in rows] for v in of.variables]
    return Values(
        masks=np.array(
            [[of.mask(v.key, row[v.key].choices) for row in rows] for v in choices],
            dtype=of.full.dtype,
        ),
        lo=ranges[:, :, 0],
        hi=ranges[:, :, 1],
        applies=np.array([[a is True for a in row] for row in applies]),
        applies_not=np.array([[a is False for a in row] for row in applies]),
    )


def evaluate(
    conditions: Sequence[Condition], rows: Sequence[Mapping[str, Value]], layout: Layout = LAYOUT
) -> list[list[Kleene]]:
    """Truth of each condition on each row, by the circuit."""
    found = compile_circuit(conditions, layout).evaluate(arrays(rows))
    assert not (found.true & found.false).any()
    return [
        [True if t else False if f else None for t, f in zip(ts, fs, strict=True)]
        for ts, fs in zip(found.true, found.false, strict=True)
    ]


def row(p: Kleene = None, q: Kleene = None, **other: Value) -> dict[str, Value]:
    unknown = {v.key: Value(choices=frozenset(v.choices)) for v in VARIABLES}
    return unknown | {"p": Value(choices=IS[p]), "q": Value(choices=IS[q])} | other


T, F, U = True, False, None
TABLES = [
    # p, q, p and q, p or q: Kleene, Introduction to Metamathematics, section 64.
    (T, T, T, T),
    (T, F, F, T),
    (T, U, U, T),
    (F, T, F, T),
    (F, F, F, F),
    (F, U, F, U),
    (U, T, U, T),
    (U, F, F, U),
    (U, U, U, U),
]


@pytest.mark.parametrize(("p", "q", "both", "either"), TABLES)
def test_kleenes_tables(p: Kleene, q: Kleene, both: Kleene, either: Kleene) -> None:
    assert evaluate([All((P, Q)), AnyOf((P, Q))], [row(p, q)]) == [[both], [either]]


@pytest.mark.parametrize(("p", "negated"), [(T, F), (F, T), (U, U)])
def test_kleenes_not(p: Kleene, negated: Kleene) -> None:
    assert evaluate([Not(P), Not(Not(P))], [row(p)]) == [[negated], [p]]


def test_all_of_nothing_is_true_and_any_of_nothing_false() -> None:
    asked = [ALWAYS, NEVER, Not(ALWAYS), All((ALWAYS, P)), AnyOf((NEVER, Not(NEVER)))]
    assert evaluate(asked, [row(F)]) == [[T], [F], [F], [F], [T]]


def test_a_test_on_what_does_not_apply_is_false() -> None:
    away, open_ = Value(choices=IS[T], applies=False), Value(choices=IS[T], applies=None)
    assert evaluate([P, Not(P)], [row(p=None) | {"p": away}]) == [[F], [T]]
    assert evaluate([P, Not(P)], [row() | {"p": open_}]) == [[U], [U]]


def test_what_fails_is_false_even_where_it_may_not_apply() -> None:
    assert evaluate([P], [row() | {"p": Value(choices=IS[F], applies=None)}]) == [[F]]


@pytest.mark.parametrize(
    ("between", "expected"),
    [
        ((0.2, 0.3), F),  # up to 0.3 is false for 0.3 and over
        ((0.3, 0.4), T),
        ((0.3, nextafter(0.3, inf)), T),  # a single value
        ((0.5, nextafter(0.5, inf)), F),  # the upper limit is outside
        ((0.5, 0.6), F),
        ((0.2, 0.4), U),
        ((0.4, 0.6), U),
        ((0.0, 1.0), U),
        ((-inf, inf), U),
    ],
)
def test_one_rule_for_ranges(between: tuple[float, float], expected: Kleene) -> None:
    """A value is lo <= x < hi, a test likewise."""
    found = evaluate([Test("size", (0.3, 0.5))], [row(size=Value(range=between))])
    assert found == [[expected]]


def test_half_known_choices() -> None:
    warm = Test("colour", frozenset("ab"))
    rows = [row(colour=Value(choices=frozenset(c))) for c in ("a", "ab", "bc", "cd", "abcde")]
    assert evaluate([warm], rows) == [[T, T, U, F, U]]


def test_an_unknown_variable_is_a_key_error() -> None:
    with pytest.raises(KeyError, match="absent"):
        compile_circuit([Test("absent", frozenset({"yes"}))], LAYOUT)


def subsets(of: Sequence[str]) -> st.SearchStrategy[frozenset[str]]:
    return st.frozensets(st.sampled_from(of), min_size=1)


ALL = (-inf, inf)
EDGES = st.integers(0, 6).map(float)
INTERVALS = (
    st.tuples(EDGES | st.just(-inf), EDGES | st.just(inf))
    .map(sorted)
    .filter(lambda pair: pair[0] < pair[1])
    .map(lambda pair: (pair[0], pair[1]))
)
APPLIES = st.sampled_from([True, True, False, None])


def leaf_tests(*, proper: bool) -> st.SearchStrategy[Test]:
    """Proper: some choice or some number fails it."""
    return st.one_of(
        st.builds(Test, st.just(v.key), subsets(v.choices[1:] if proper else v.choices))
        if v.choices
        else st.builds(Test, st.just(v.key), INTERVALS.filter(lambda i: not proper or i != ALL))
        for v in VARIABLES
    )


def conditions(leaves: st.SearchStrategy[Test], *, least: int) -> st.SearchStrategy[Condition]:
    """Nested conditions; a gate has at least `least` parts."""
    leaf: st.SearchStrategy[Condition] = leaves

    def gates(inner: st.SearchStrategy[Condition]) -> st.SearchStrategy[Condition]:
        parts = st.lists(inner, min_size=least, max_size=4).map(tuple)
        return st.builds(Not, inner) | st.builds(All, parts) | st.builds(AnyOf, parts)

    return st.recursive(leaf, gates, max_leaves=12)


CONDITIONS = conditions(leaf_tests(proper=False), least=0)
ROWS = st.fixed_dictionaries(
    {
        v.key: (
            st.builds(Value, choices=subsets(v.choices), applies=APPLIES)
            if v.choices
            else st.builds(Value, range=INTERVALS, applies=APPLIES)
        )
        for v in VARIABLES
    }
)


@given(st.lists(CONDITIONS, min_size=1, max_size=5), st.lists(ROWS, min_size=1, max_size=20))
def test_any_nesting_as_a_naive_evaluator(
    asked: list[Condition], rows: list[dict[str, Value]]
) -> None:
    expected = [[truth(condition, row) for row in rows] for condition in asked]
    assert evaluate(asked, rows) == expected


@given(CONDITIONS, ROWS)
def test_learning_more_never_turns_a_truth_round(
    condition: Condition, known: dict[str, Value]
) -> None:
    """What is settled with less known stays settled, as long as what applies is settled."""
    settled = {key: Value(v.choices, v.range) for key, v in known.items()}
    less = {key: settled[key] if key in ("p", "size") else row()[key] for key in settled}
    before, after = evaluate([condition], [less, settled])[0]
    assert before is None or before == after


@given(conditions(leaf_tests(proper=True), least=1))
def test_unknown_never_makes_a_condition_true(condition: Condition) -> None:
    """Nor false: with nothing known it is open, as long as something would fail it."""
    assert evaluate([condition], [row()]) == [[None]]
