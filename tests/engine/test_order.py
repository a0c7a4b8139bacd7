"""Strata: each variable after what it is settled from, and cycles shown with their path."""

from itertools import pairwise

import pytest

from advisor.engine.model import Deduction, Model, Test, Variable, WorkedOut
from advisor.engine.order import dependencies, find_cycle, strata

LONG = 50_000


def test_levels_count_the_deepest_need() -> None:
    needs = {"d": {"b", "c"}, "c": {"b"}, "b": {"a"}, "a": set(), "lone": set()}
    assert strata(needs) == {"a": 0, "lone": 0, "b": 1, "c": 2, "d": 3}


@pytest.mark.parametrize(
    "needs",
    [
        {"a": {"a"}},
        {"a": {"b"}, "b": {"a"}},
        {"a": {"b"}, "b": {"c", "x"}, "c": {"d"}, "d": {"b"}, "x": set()},
        {"far": {"a"}, "a": {"x", "b"}, "b": {"c"}, "c": {"a"}, "x": set()},
    ],
)
def test_a_cycle_is_found_with_its_path(needs: dict[str, set[str]]) -> None:
    path = find_cycle(needs)
    assert path[0] == path[-1]
    assert len(set(path)) == len(path) - 1
    assert all(later in needs[earlier] for earlier, later in pairwise(path))
    with pytest.raises(ValueError, match=" -> ".join(path)):
        strata(needs)


def test_two_ways_to_one_place_are_no_cycle() -> None:
    assert find_cycle({"a": {"b", "c"}, "b": {"d"}, "c": {"d"}, "d": set()}) == ()


def test_a_long_chain() -> None:
    chain = {f"v{i}": {f"v{i - 1}"} if i else set[str]() for i in reversed(range(LONG))}
    assert find_cycle(chain) == ()
    assert strata(chain)["v49999"] == LONG - 1
    chain["v0"] = {"v49999"}
    assert len(find_cycle(chain)) == LONG + 1


def test_what_a_variable_is_settled_from() -> None:
    def on(key: str) -> Test:
        return Test(key, frozenset({"yes"}))

    yes_no = ("yes", "no")
    model = Model(
        variables=(
            *(Variable(key=key, choices=yes_no) for key in ("a", "b", "c", "d")),
            Variable(key="target", choices=yes_no, applies=on("a"), unsure_when=on("b")),
            Variable(key="worked"),
            Variable(key="number"),
        ),
        hypotheses=(),
        deductions=(
            Deduction(key="r", when=on("c"), variable="target", strikes=frozenset({"no"})),
        ),
        worked_out=(
            WorkedOut(
                variable="worked", inputs=("number",), work=lambda ranges: ranges[0], given=on("d")
            ),
        ),
    )
    everything = dependencies(model)
    assert everything["target"] == {"a", "b", "c"}
    assert everything["worked"] == {"number", "d"}
    assert everything["a"] == set()
    evidence = dependencies(model, evidence_only=True)
    assert (evidence["target"], evidence["worked"]) == ({"c"}, {"number"})
