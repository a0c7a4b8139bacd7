"""A row of JSON Lines may come from anywhere: what it names must be known here."""

from typing import Any

import pytest

from advisor.knowledge import open_knowledge, shipped
from advisor.library.case import KeptCase
from advisor.library.moves.known import unknown_in
from advisor.library.moves.lines import from_line

KNOWLEDGE = open_knowledge()
TOKEN = "0" * 32


def case(**place: Any) -> KeptCase:
    told = {"place": 1, "status": "watching", **place}
    return KeptCase.model_validate({"case": TOKEN, "kind": "basement", "places": [told]})


def test_all_invented_cases_are_known() -> None:
    file = shipped("cases") / "demonstration" / "histories.jsonl"
    lines = file.read_text(encoding="utf-8").splitlines()
    assert [unknown_in(KNOWLEDGE, from_line(line)) for line in lines[::10]] == [None] * 32


@pytest.mark.parametrize(
    ("place", "message"),
    [
        ({"findings": {"seen-by": {"value": "Jan Example"}}}, "this attribute is not known here"),
        ({"findings": {"wet-zone": {"value": "Jan Example"}}}, "is not one of its choices"),
        ({"agreed": "jan-example"}, 'there is no method "jan-example"'),
        ({"done": [{"day": 1, "method": "jan-example"}]}, 'there is no method "jan-example"'),
        ({"supported": "jan-example"}, 'there is no cause "jan-example"'),
        (
            {"confirmed": {"day": 1, "cause": "honeycomb", "how": "document", "role": "jan"}},
            'there is no role "jan"',
        ),
        (
            {"looked": [{"day": 1, "state": "tight", "proof": "jan"}]},
            'there is no proof "jan"',
        ),
        (
            {"shown": {"day": 1, "advisor": "Jan Example", "knowledge": "k", "causes": {}}},
            "no version of an answer",
        ),
    ],
)
def test_what_is_not_known_is_told(place: dict[str, Any], message: str) -> None:
    problem = unknown_in(KNOWLEDGE, case(**place))
    assert problem is not None
    assert message in problem.message
