"""Names and conditions of the knowledge, as people read them."""

from math import inf

from advisor.engine import All, AnyOf, Condition, Not, Test
from advisor.knowledge import READINGS_OF, Knowledge, both, choice_words, either, read_aloud
from advisor.terms import Attribute, Range, say_range


def attribute_label(knowledge: Knowledge, variable: str) -> str:
    """`white lime (white deposits)` for one of several choices, else the attribute's label."""
    base, _, part = variable.partition(".")
    attribute = knowledge.attributes.get(base)
    if attribute is None:
        return variable
    if not part:
        return attribute.label
    if attribute.kind == "several":
        choice = next((c.label for c in attribute.choices if c.key == part), part)
        return f"{choice} ({attribute.label})"
    reading = knowledge.say(f"reading-{part}") if part in READINGS_OF else part
    return f"{attribute.label}, {reading}"


def cause_label(knowledge: Knowledge, key: str) -> str:
    """The label of a cause, or its key where there is none."""
    cause = knowledge.causes.get(key)
    return cause.label if cause else key


def group_label(knowledge: Knowledge, key: str) -> str:
    """The label of a group, or its key where there is none."""
    group = knowledge.groups.get(key)
    return group.label if group else key


def water_label(knowledge: Knowledge, key: str) -> str:
    """The label of a water, or its key where there is none."""
    water = knowledge.waters.get(key)
    return water.label if water else key


def condition_words(knowledge: Knowledge, condition: Condition) -> str:
    """A condition in words, with brackets where `and` meets `or`."""
    if isinstance(condition, Test):
        return _test_words(knowledge, condition)
    if isinstance(condition, Not):
        inner = condition_words(knowledge, condition.of)
        alone = isinstance(condition.of, Test)
        return knowledge.say("not-this" if alone else "not-these", condition=inner)
    parts = [_inner(knowledge, condition, part) for part in condition.of]
    return (both if isinstance(condition, All) else either)(knowledge, parts)


def _inner(knowledge: Knowledge, outer: All | AnyOf, part: Condition) -> str:
    words = condition_words(knowledge, part)
    mixed = isinstance(part, All | AnyOf) and type(part) is not type(outer) and len(part.of) > 1
    return f"({words})" if mixed else words


def _test_words(knowledge: Knowledge, test: Test) -> str:
    label = attribute_label(knowledge, test.variable)
    base, _, part = test.variable.partition(".")
    attribute = knowledge.attributes[base]
    if isinstance(test.passing, frozenset):
        return f"{label}: {passing_words(knowledge, test.variable, test.passing)}"
    return f"{label}: {_range_words(knowledge, attribute, part, *test.passing)}"


def passing_words(knowledge: Knowledge, variable: str, passing: frozenset[str]) -> str:
    """`a or b`, or `not c` where that is shorter."""
    base, _, part = variable.partition(".")
    attribute = knowledge.attributes[base]
    several = bool(part) and attribute.kind == "several"
    every = ["yes", "no"] if several else [c.key for c in attribute.choices]
    kept = [c for c in every if c in passing]
    struck = [c for c in every if c not in passing]
    if len(struck) < len(kept):
        words = [choice_words(knowledge, variable, c) for c in struck]
        return knowledge.say("not-choices", choices=either(knowledge, words))
    return either(knowledge, [choice_words(knowledge, variable, c) for c in kept])


def _range_words(
    knowledge: Knowledge, attribute: Attribute, part: str, lo: float, hi: float
) -> str:
    unlimited = part == "change"
    said = say_range(
        Range(lo, hi),
        attribute.unit or "count",
        lowest=-inf if unlimited else attribute.lowest,
        highest=inf if unlimited else attribute.highest,
    )
    return read_aloud(knowledge, said)
