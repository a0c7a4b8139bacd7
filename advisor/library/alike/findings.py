"""Findings of a kept case as facts for the engine, and facts as findings to keep.

A finding stands under its attribute; one of several choices as `ATTRIBUTE.CHOICE: yes`. Of several
readings only what they say together is kept: no first or last day, no date, no free text.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from advisor.callout import Resolved
from advisor.knowledge import Knowledge
from advisor.library.case import KeptFinding
from advisor.terms import (
    Attribute,
    Faulty,
    Listing,
    Node,
    Place,
    Problem,
    Range,
    Scalar,
    Unreadable,
    fault,
    nearest,
    one_of,
    read_choice,
    read_number,
    read_quantity,
    say_choices,
    say_range,
    unit_named,
)
from advisor.terms import Mapping as Written

Facts = Mapping[str, Resolved]
"""What is known of one wet place, by variable."""

KEPT_KINDS = ("choice", "yes-no", "number")
LONGEST = 200
"""Characters of a text that the kept form holds. Only a firm's own choices could take more."""
NOT, OR = "not ", " or "


def read_findings(
    knowledge: Knowledge, findings: Mapping[str, KeptFinding], file: str = ""
) -> tuple[dict[str, Resolved], tuple[Problem, ...]]:
    """Facts as `table_of` takes them. What cannot be read is left out and told.

    file: its name in the problems.
    """
    facts: dict[str, Resolved] = {}
    problems: list[Problem] = []
    for key, finding in findings.items():
        try:
            facts[key] = _fact(knowledge, key, finding, Place(file, 1, 1))
        except Faulty as faulty:
            problems += faulty.problems
    # A kept finding has no line of its own.
    return facts, tuple(replace(problem, line=None, column=None) for problem in problems)


def say_findings(knowledge: Knowledge, facts: Facts) -> dict[str, KeptFinding]:
    """What is known of a wet place, as it is kept. What says nothing is left out."""
    return dict(_said(knowledge, facts))


def attribute_of(knowledge: Knowledge, key: str) -> Attribute | None:
    """What a finding answers, of one of several choices as a yes-no; None: it is not kept."""
    name, dot, choice = key.partition(".")
    attribute = knowledge.attributes.get(name)
    if attribute is None:
        return None
    if not dot:
        return attribute if attribute.kind in KEPT_KINDS else None
    known = any(choice == one.key for one in attribute.choices)
    # A yes-no has the choices yes and no by itself.
    return replace(attribute, key=key, kind="yes-no") if _several(attribute) and known else None


def _fact(knowledge: Knowledge, key: str, finding: KeptFinding, place: Place) -> Resolved:
    """Raises Faulty where it cannot be read."""
    attribute = _asked(knowledge, key, place)
    if finding.value is None:
        return Resolved(sure=finding.sure, not_applicable=True)
    if attribute.kind == "number":
        return Resolved(read_number(_scalar(finding.value, place), attribute), sure=finding.sure)
    node: Node = _scalar(finding.value, place)
    struck = finding.value.removeprefix(NOT)
    if struck != finding.value and "-".join(finding.value.split()) not in _keys(attribute):
        parts = tuple(_scalar(part, place) for part in struck.split(OR))
        node = Written(((_scalar(NOT.strip(), place), Listing(parts, place)),), place)
    return Resolved(read_choice(node, attribute), sure=finding.sure)


def _scalar(text: str, place: Place) -> Scalar:
    return Scalar(text, quoted=True, cut=False, place=place)


def _keys(attribute: Attribute) -> frozenset[str]:
    return frozenset(choice.key for choice in attribute.choices)


def _said(knowledge: Knowledge, facts: Facts) -> Iterator[tuple[str, KeptFinding]]:
    for key, fact in facts.items():
        attribute = attribute_of(knowledge, key)
        if attribute is None:
            continue
        if fact.not_applicable:
            yield key, KeptFinding(value=None, sure=fact.sure)
        elif (text := _say(fact, attribute)) is not None:
            yield key, KeptFinding(value=text, sure=fact.sure)


def _say(fact: Resolved, attribute: Attribute) -> str | None:
    """None where nothing is known."""
    if isinstance(fact.value, Range):
        text = _say_number(fact.value, attribute)
    elif isinstance(fact.value, int):
        text = _say_choices(fact.value, attribute)
    else:
        return None
    return None if text == "unknown" or len(text) > LONGEST else text


def _say_choices(mask: int, attribute: Attribute) -> str:
    """`a or b`; where that is too long, what it is not: `not c or d`."""
    text = say_choices(mask, attribute)
    if len(text) <= LONGEST:
        return text
    return NOT + say_choices(attribute.every_choice & ~mask, attribute)


def _say_number(value: Range, attribute: Attribute) -> str:
    """In few figures where they say all, else in as many as it takes."""
    short = say_range(value, _unit(attribute), lowest=attribute.lowest, highest=attribute.highest)
    for text in (short, _say_exactly(value, attribute)):
        if _reads_as(text, attribute) == value:
            return text
    return short


def _say_exactly(value: Range, attribute: Attribute) -> str:
    unit = unit_named(_unit(attribute))
    name = "" if unit is None or unit.bare else f" {unit.symbol}"
    low, high = _digits(value.lo), _digits(value.hi)
    if value.is_point:
        return f"{low}{name}"
    if value.lo <= attribute.lowest:
        return f"under {high}{name}"
    if value.hi > attribute.highest:
        return f"at least {low}{name}"
    return f"{low} to {high}{name}"


def _digits(x: float) -> str:
    """The shortest digits that mean this number, without exponent."""
    return format(Decimal(repr(x)), "f")


def _reads_as(text: str, attribute: Attribute) -> Range | None:
    try:
        return read_quantity(
            text, _unit(attribute), lowest=attribute.lowest, highest=attribute.highest
        )
    except Unreadable:
        return None


def _unit(attribute: Attribute) -> str:
    return attribute.unit or "count"


def _asked(knowledge: Knowledge, key: str, place: Place) -> Attribute:
    """The attribute of a finding. Raises Faulty where there is none."""
    attribute = attribute_of(knowledge, key)
    if attribute is not None:
        return attribute
    name = key.partition(".")[0]
    known = knowledge.attributes.get(name)
    if known is None:
        near = nearest(name, knowledge.attributes)
        raise fault(place, "this attribute is not known here", key=key, nearest=near)
    if _several(known):
        expected = one_of(f"{name}.{choice.key}" for choice in known.choices)
        raise fault(place, "no choice of it is named", key=key, expected=expected)
    raise fault(place, "this is not kept", key=key, expected=one_of(KEPT_KINDS))


def _several(attribute: Attribute) -> bool:
    return attribute.kind == "several"
