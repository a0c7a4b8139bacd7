"""Names and conditions of the knowledge, as people read them."""

from math import inf

from advisor.engine import All, AnyOf, Condition, Not, Test
from advisor.knowledge import Knowledge
from advisor.terms import Attribute, Range, say_range

_READINGS = {
    "first": "first reading",
    "highest": "highest reading",
    "lowest": "lowest reading",
    "change": "change from first to latest",
}


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
    return f"{attribute.label}, {_READINGS.get(part, part)}"


def choice_label(knowledge: Knowledge, variable: str, choice: str) -> str:
    """How people read one choice of a variable, or one band."""
    base, _, part = variable.partition(".")
    attribute = knowledge.attributes[base]
    if part and attribute.kind == "several":
        return choice
    return next((c.label for c in attribute.choices if c.key == choice), choice)


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
        return f"not: {inner}" if isinstance(condition.of, Test) else f"not ({inner})"
    parts = [_inner(knowledge, condition, part) for part in condition.of]
    return (" and " if isinstance(condition, All) else " or ").join(parts)


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
    return f"{label}: {_range_words(attribute, part, *test.passing)}"


def passing_words(knowledge: Knowledge, variable: str, passing: frozenset[str]) -> str:
    """`a or b`, or `not c` where that is shorter."""
    base, _, part = variable.partition(".")
    attribute = knowledge.attributes[base]
    several = bool(part) and attribute.kind == "several"
    every = ["yes", "no"] if several else [c.key for c in attribute.choices]
    kept = [c for c in every if c in passing]
    struck = [c for c in every if c not in passing]
    if len(struck) < len(kept):
        said = " or ".join(choice_label(knowledge, variable, c) for c in struck)
        return f"not {said}"
    return " or ".join(choice_label(knowledge, variable, c) for c in kept)


def _range_words(attribute: Attribute, part: str, lo: float, hi: float) -> str:
    unlimited = part == "change"
    return say_range(
        Range(lo, hi),
        attribute.unit or "count",
        lowest=-inf if unlimited else attribute.lowest,
        highest=inf if unlimited else attribute.highest,
    )
