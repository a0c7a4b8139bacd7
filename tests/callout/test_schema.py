"""The schema for editors accepts what the reader accepts, and refuses plain mistakes."""

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator

from advisor import terms
from advisor.callout import Callout, callout_schema
from advisor.callout.log_reader import ANSWER, KINDS, PROPOSED, SHARED
from advisor.knowledge import open_knowledge
from tests.callout import logs
from tests.callout.conftest import Attributes
from tests.callout.test_reader import DESIGN_EXAMPLE, FULL

CASES = [
    path
    for path in sorted((Path(__file__).parents[2] / "cases" / "worked").rglob("*.yaml"))
    if path.name != "floor.yaml"  # the recorded floor, no case
]
HEAD = "callout: X\nstructure: {kind: tank}\nvisits: [{date: 2031-04-16}]\n"


@cache
def validator() -> Draft7Validator:
    return Draft7Validator(callout_schema(open_knowledge().attributes))


def plain(node: terms.Node) -> Any:
    """The document with every scalar as text, as the reader sees it."""
    if isinstance(node, terms.Mapping):
        return {name.text: plain(entry) for name, entry in node.entries}
    if isinstance(node, terms.Listing):
        return [plain(item) for item in node.items]
    return node.text or None


def errors(text: str) -> list[str]:
    return [error.message for error in validator().iter_errors(plain(terms.parse(text, "f")))]


def test_it_is_a_schema(attributes: Attributes) -> None:
    Draft7Validator.check_schema(callout_schema(attributes))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_every_worked_case_is_valid(path: Path, attributes: Attributes) -> None:
    assert Callout.read(path, attributes).leaks
    assert errors(path.read_text()) == []


@pytest.mark.parametrize("text", [DESIGN_EXAMPLE, FULL], ids=["design", "full"])
def test_the_examples_are_valid(text: str) -> None:
    assert errors(text) == []


GOOD = [
    "member: wall or floor",
    "member: {not: [wall, floor]}",
    "member: column or beam",
    "member: unknown",
    "member: {missing: no-access}",
    "deposits: []",
    "deposits: {has: [lime], has-not: rust}",
    "deposits: [{value: [lime], visit: 1}]",
    "water-ph: pH 7",
    "crack-width: under 0.2 mm",
    "first-wet: unknown",
    "wet-after-rain: {value: yes, sure: no}",
    "flow: [{value: 1 L/h}, {value: 2 L/h, corrects: 1, note: wrong cup}]",
]
BAD = [
    "member: wal",
    "member: [wall]",
    "member: {has: [wall]}",
    "deposits: [lime, moss]",
    "crack-width: hairline",
    "crack-width: {how: seen}",
    "crack-width: {value: 1 mm, missing: not-asked}",
    "crack-width: {value: 1 mm, how: guessed}",
    "first-wet: 1.2.2030",
    "pumps: running",
    "colour: green",
    "flow: {value: 1 L/h, visit: first}",
]


@pytest.mark.parametrize("finding", GOOD)
def test_a_finding_that_both_accept(finding: str, attributes: Attributes) -> None:
    text = f"{HEAD}leaks: [{{leak: L1, findings: {{{finding}}}}}]\n"
    assert Callout.parse(text, "f", attributes).leaks[0].findings
    assert errors(text) == []


@pytest.mark.parametrize("finding", BAD)
def test_a_finding_that_both_refuse(finding: str, attributes: Attributes) -> None:
    text = f"{HEAD}leaks: [{{leak: L1, findings: {{{finding}}}}}]\n"
    with pytest.raises(terms.Faulty):
        Callout.parse(text, "f", attributes)
    assert errors(text)


@pytest.mark.parametrize(
    "text",
    [
        "structure: {kind: tank}\nleaks: [{leak: L1}]\n",
        "callout: X\nstructure: {}\nleaks: [{leak: L1}]\n",
        "callout: X\nstructure: {kind: tank}\nleaks: []\n",
        "callout: X\nstructure: {kind: tank}\nleaks: [{where: north}]\n",
        "callout: X\nstructure: {kind: tank}\nvisits: [{rain: heavy}]\nleaks: [{leak: L1}]\n",
        "callout: a/b\nstructure: {kind: tank}\nleaks: [{leak: L1}]\n",
        "callout: X\nstructure: {kind: tank}\nleaks: [{leak: L1}]\ntruth: {causes: []}\n",
    ],
)
def test_a_file_that_both_refuse(text: str, attributes: Attributes) -> None:
    with pytest.raises(terms.Faulty):
        Callout.parse(text, "f", attributes)
    assert errors(text)


def test_what_an_editor_types_as_a_number_is_valid() -> None:
    document = {
        "callout": 2031,
        "structure": {"kind": "tank"},
        "visits": [{"date": "2031-04-16"}],
        "leaks": [{"leak": 1, "findings": {"water-ph": 7, "flow": {"value": "1 L/h", "visit": 1}}}],
    }
    assert list(validator().iter_errors(document)) == []


def test_every_question_is_there_for_the_editor(attributes: Attributes) -> None:
    definitions = callout_schema(attributes)["definitions"]
    assert all(definitions[key]["description"] == a.question for key, a in attributes.items())


def test_a_log_of_every_kind_is_valid(attributes: Attributes) -> None:
    assert len(Callout.parse(logs.FULL, "f", attributes).log) == len(KINDS) + 1
    assert errors(logs.FULL) == []
    assert errors(f"{logs.HEAD}log:\n") == []


def test_the_log_has_the_same_keys_in_the_schema(attributes: Attributes) -> None:
    items = callout_schema(attributes)["properties"]["log"]["items"]["oneOf"]
    found = {
        next(key for key in item["properties"] if key in {*KINDS, PROPOSED}): item for item in items
    }
    assert found.keys() == {*KINDS, PROPOSED}
    for key, kind in KINDS.items():
        assert found[key]["properties"].keys() == {*SHARED, key, *kind.others}
        assert set(found[key]["required"]) == {"leak", "date", key, *kind.musts}
    assert found[PROPOSED]["properties"][PROPOSED]["properties"].keys() == set(ANSWER)


@pytest.mark.parametrize(
    "body",
    [
        "told: []",
        "looked: tight",
        "looked: dry\n    water-up: yes",
        "closed: fixed",
        "confirmed: honeycomb\n    how: seen\n    role: owner",
        "done: gel\n    looked: tight\n    water-up: yes",
        "done: gel\n    packers: [{pressure: 2 bar}]",
        "done: gel\n    colour: green",
        "proposed: {advisor: 1}",
    ],
)
def test_an_entry_that_both_refuse(body: str, attributes: Attributes) -> None:
    text = logs.record(logs.entry(body))
    with pytest.raises(terms.Faulty):
        Callout.parse(text, "f", attributes)
    assert errors(text)
