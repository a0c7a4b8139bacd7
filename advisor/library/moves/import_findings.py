"""Columns of an imported table that hold findings, and how their cells are read.

A finding stands under `finding.ATTRIBUTE` or, for one of several choices, under
`finding.ATTRIBUTE.CHOICE`, with values as in a callout file.
"""

import re
from collections.abc import Iterator, Mapping
from typing import Final

from advisor.callout import Resolved
from advisor.knowledge import Knowledge
from advisor.library.alike.findings import (
    KEPT_KINDS,
    LONGEST,
    attribute_of,
    read_findings,
    say_findings,
)
from advisor.library.case import KeptFinding
from advisor.library.moves.csv_out import NOT_APPLICABLE, UNSURE
from advisor.library.scrub.banding import banded
from advisor.terms import (
    Attribute,
    Faulty,
    Place,
    Problem,
    Range,
    Scalar,
    nearest,
    one_of,
    parse,
    read_value,
)

FINDING: Final = "finding."
TAKEN: Final = (*KEPT_KINDS, "several")

Findings = dict[str, KeptFinding]

# No unit stands in there.
_BARE = re.compile(r"(?:[-+0-9.,/<>≤≥=–\s]|\b(?:to|under|over|at least|at most)\b)+")
_NOWHERE = Place("", 1, 1)


def unread(message: str, expected: str | None = None, near: str | None = None) -> Faulty:
    """What is said of a text; who knows the row adds its place."""
    return Faulty(Problem(message=message, expected=expected, nearest=near))


def finding_names(knowledge: Knowledge) -> Iterator[str]:
    """Every column of findings that can be mapped."""
    for attribute in knowledge.attributes.values():
        if attribute.kind in TAKEN and not _left_out(knowledge, attribute.key):
            yield FINDING + attribute.key
            yield from (FINDING + key for key in _keys(attribute) if key != attribute.key)


def finding_attribute(knowledge: Knowledge, name: str) -> Attribute:
    """What a column of findings answers. Raises Faulty, without a place, where it is none."""
    key = name.removeprefix(FINDING)
    attribute = attribute_of(knowledge, key)
    named = knowledge.attributes.get(key)
    if attribute is None and named is not None and named.kind == "several":
        attribute = named
    if attribute is None and named is not None:
        raise unread(f"a {named.kind} is not kept", one_of(TAKEN))
    if attribute is None:
        near = nearest(name, finding_names(knowledge))
        raise unread("there is no such column of ours", f"{FINDING}ATTRIBUTE", near)
    if _left_out(knowledge, key):
        raise unread("this is never kept", "the column under `leave`")
    return attribute


def what_it_takes(attribute: Attribute) -> str:
    """In words."""
    if attribute.kind == "number":
        return f"a number with its unit, as 1 {attribute.unit or 'count'}"
    choices = one_of(choice.key for choice in attribute.choices)
    return f"{choices}; {'several as [a, b]' if attribute.kind == 'several' else 'also a or b'}"


def read_finding(
    knowledge: Knowledge, attribute: Attribute, unit: str | None, text: str
) -> Findings:
    """What a cell says, as it is kept. unit: of a bare number. Raises Faulty."""
    said = text.removesuffix(UNSURE)
    sure = said == text
    keys = _keys(attribute)
    if said == NOT_APPLICABLE:
        return {key: KeptFinding(value=None, sure=sure) for key in keys}
    if unit and attribute.kind == "number" and _BARE.fullmatch(said):
        said = f"{said} {unit}"
    bracketed = said.startswith(("[", "{"))
    node = parse(said, "") if bracketed else Scalar(said, True, False, _NOWHERE)
    value = read_value(node, attribute)
    facts: dict[str, Resolved] = {}
    if isinstance(value, tuple):
        there, not_there = value
        for bit, key in enumerate(keys):
            if (there | not_there) >> bit & 1:
                facts[key] = Resolved(1 if there >> bit & 1 else 2, sure=sure)
    elif isinstance(value, int | Range):
        facts[attribute.key] = Resolved(value, sure=sure)
    return _kept(knowledge, facts)


def read_exported(knowledge: Knowledge, text: str) -> Findings:
    """`KEY=VALUE` as the library's own export has it. Raises Faulty."""
    key, equals, said = text.partition("=")
    if not equals:
        raise unread("no finding", "ATTRIBUTE=VALUE")
    value = said.removesuffix(UNSURE)
    sure = value == said
    if value != NOT_APPLICABLE and len(value) > LONGEST:
        raise unread(f"a finding of {len(value)} letters", f"at most {LONGEST}")
    finding = KeptFinding(value=None if value == NOT_APPLICABLE else value, sure=sure)
    facts, problems = read_findings(knowledge, {key: finding})
    if problems:
        raise Faulty(problems)
    return _kept(knowledge, facts)


def _kept(knowledge: Knowledge, facts: Mapping[str, Resolved]) -> Findings:
    """Rare numbers as bands; what is never kept left out."""
    return say_findings(knowledge, banded(knowledge, facts)[0])


def _keys(attribute: Attribute) -> list[str]:
    """The keys under which it is kept."""
    if attribute.kind != "several":
        return [attribute.key]
    return [f"{attribute.key}.{choice.key}" for choice in attribute.choices]


def _left_out(knowledge: Knowledge, key: str) -> bool:
    rule = knowledge.keeping.get(key.partition(".")[0])
    return rule is not None and rule.leave_out
