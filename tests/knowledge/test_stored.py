"""What is stored comes back the same, and nothing else is ever made of the bytes."""

import json
from dataclasses import dataclass
from math import inf
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine import Test
from advisor.knowledge import open_folder, shipped
from advisor.knowledge.stored import MARK, restored, stored
from advisor.terms import Place
from advisor.water import FORMULAS

TEXTS = st.text('ab "\\\n{}[]äß€', max_size=12)
PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | TEXTS,
    lambda inner: (
        st.lists(inner) | st.lists(inner).map(tuple) | st.dictionaries(TEXTS | st.integers(), inner)
    ),
    max_leaves=30,
)


@given(PLAIN)
def test_plain_values(value: Any) -> None:
    assert restored(stored(value)) == value


def test_arrays_sets_paths_formulas_and_our_own_classes() -> None:
    array = np.arange(6, dtype=np.uint16).reshape(2, 3)
    value = (array, frozenset("ab"), Path("a/b"), FORMULAS["dew-margin"], Test("flow", (0.0, inf)))
    found = restored(stored(value))
    assert found[0].dtype == array.dtype
    assert (found[0] == array).all()
    assert found[1:] == value[1:]


def test_one_object_stays_one() -> None:
    shared = ("a", "b")
    found = restored(stored([shared, shared]))
    assert found[0] is found[1]


def test_the_shipped_knowledge_comes_back_whole() -> None:
    knowledge = open_folder(shipped("knowledge"))  # as it is kept: nobody has asked it anything
    found = restored(stored(knowledge))
    assert (found.causes, found.looks, found.attributes, found.stops) == (
        knowledge.causes,
        knowledge.looks,
        knowledge.attributes,
        knowledge.stops,
    )
    blank = knowledge.engine.blank()
    assert (found.engine.run(blank).beliefs == knowledge.engine.run(blank).beliefs).all()


@dataclass
class Stranger:
    name: str


@pytest.mark.parametrize("value", [Stranger("x"), print, {1, 2}, b"bytes", np.array([object()])])
def test_what_is_not_ours_is_not_stored_or_not_made(value: object) -> None:
    with pytest.raises((TypeError, ValueError)):
        restored(stored(value))


def test_what_would_not_come_back_is_not_stored() -> None:
    with pytest.raises(TypeError, match="Place cannot be stored"):
        stored([Place("a.yaml", 1, 1)])


@pytest.mark.parametrize(
    ("kinds", "node"),
    [
        ([["subprocess", "Popen", ["args"]]], [0, "true"]),
        ([["advisor.terms", "read", []]], [0]),
        ([["os", "stat_result", []]], [0]),
        ([], ["function", "os", "system"]),
        ([], ["array", "|O", [1]]),
        ([], ["code", "1 + 1"]),
    ],
)
def test_bytes_made_by_hand_run_nothing(kinds: list[Any], node: list[Any]) -> None:
    head = json.dumps({"kinds": kinds, "nodes": [node], "root": [0]}).encode()
    with pytest.raises((ValueError, TypeError)):
        restored(MARK + len(head).to_bytes(8, "little") + head + bytes(64))


def test_a_formula_that_is_none_is_refused() -> None:
    head = json.dumps({"kinds": [], "nodes": [["formula", "system"]], "root": [0]}).encode()
    with pytest.raises(KeyError):
        restored(MARK + len(head).to_bytes(8, "little") + head)


@pytest.mark.parametrize("written", [b"", b"something", MARK, MARK + bytes(8)])
def test_other_bytes_are_refused(written: bytes) -> None:
    with pytest.raises(ValueError, match=r"not stored|Expecting value"):
        restored(written)
