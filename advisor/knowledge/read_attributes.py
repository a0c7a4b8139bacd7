"""Attributes and structure kinds; the conditions under which an attribute applies."""

from dataclasses import replace
from math import inf
from typing import get_args

from advisor.engine import Condition
from advisor.engine.evidence import MOST_READINGS
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import known_word
from advisor.knowledge.parts import Parts, parts_of, read_all, told_of
from advisor.knowledge.read_derived import (
    derived_faults,
    read_from_dates,
    read_over_places,
)
from advisor.terms import (
    YES_NO,
    Attribute,
    Choice,
    Faults,
    Kind,
    Node,
    Of,
    Range,
    all_units,
    fault,
    mapping,
    nearest,
    problem_at,
    read_number,
    scalar,
    text,
    unit_named,
    word,
)

KNOWERS = (
    "eyes-here",
    "occupant",
    "own-office",
    "plant",
    "owners-file",
    "laboratory",
    "worked-out",
)

_MUSTS = ("label", "of", "kind", "question", "check", "who")
_NAMES = (
    *_MUSTS,
    "choices",
    "choices-from",
    "unit",
    "lowest",
    "highest",
    "applies",
    "unsure-when",
    "of-the-water",
    "over-places",
    "from-dates",
    "worked-out",
    "formula",
    "valid",
    "means",
)
_FORM = {"kind", "choices", "choices-from", "unit", "lowest", "highest"}
"""Parts without which no value of an attribute can be read."""

_NO_KIND: Kind = "text"
_NO_PLACE: Of = "leak"
"""Stand-ins where the written word is none."""

_TAKEN = ("all", "any", "not", "visit")
"""Words that mean something else where an attribute is named."""


def read_attributes(sections: Sections, faults: Faults) -> dict[str, Attribute]:
    """Attributes in the order of their files. Faults are gathered.

    Left out is only what has no readable form: else every entry that names it would be at fault.
    """
    structures = _read_structures(sections, faults)
    entries = sections["attributes"]
    attributes: dict[str, Attribute] = {}
    for entry in entries.values():
        part = parts_of(entry, sections, _NAMES, _MUSTS)
        attribute = _read_attribute(entry, part, structures)
        if not part.failed & _FORM:
            attributes[entry.key] = attribute
        faults.add(*told_of(entry, part.faults.problems))
    for key, attribute in attributes.items():
        misfits = derived_faults(entries[key], attribute, attributes)
        faults.add(*told_of(entries[key], misfits))
    return attributes


def _read_structures(sections: Sections, faults: Faults) -> tuple[Choice, ...]:
    def structure(entry: Entry) -> Choice:
        part = parts_of(entry, sections, ("label",), ("label",))
        part.why()
        read = Choice(entry.key, part.text("label"))
        part.stop()
        return read

    return tuple(read_all(sections["structures"], faults, structure).values())


def _read_attribute(entry: Entry, part: Parts, structures: tuple[Choice, ...]) -> Attribute:
    if entry.key in _TAKEN:
        part.faults.add(problem_at(entry.place, "this word has another meaning in conditions"))
    kind = part.read("kind", _kind, _NO_KIND)
    lowest, highest = part.number("lowest", -inf), part.number("highest", inf)
    if lowest >= highest:
        part.fail("highest", "the highest is above the lowest")
    why = part.why()
    attribute = Attribute(
        key=entry.key,
        label=part.text("label"),
        kind=kind,
        of=part.read("of", _of, _NO_PLACE),
        question=part.text("question"),
        check=part.text("check"),
        who=part.words("who", KNOWERS, "who can know"),
        unit=_unit(part, kind),
        choices=_choices(part, kind, structures),
        lowest=lowest,
        highest=highest,
        from_dates=part.read("from-dates", lambda n: read_from_dates(n, part.sections), None),
        of_the_water=part.flag("of-the-water"),
        over_places=part.read("over-places", lambda n: read_over_places(n, part.sections), None),
        formula=part.text("formula"),
        valid=part.text("valid"),
        because=why.because,
        source=why.source,
    )
    if part.failed & _FORM:
        return attribute
    return replace(attribute, means=part.read("means", lambda n: _means(n, attribute), ()))


def _means(node: Node, attribute: Attribute) -> tuple[tuple[Range, str], ...]:
    """What a number says, by where it lies. Where no row is there, nothing is said."""
    faults, found = Faults(), []
    for key, says in mapping(node, "means").entries:
        with faults.catch():
            if attribute.kind != "number":
                raise fault(key, f"a {attribute.kind} lies nowhere", key="means")
            found.append((read_number(key, attribute), text(says, key.text)))
    faults.stop()
    return tuple(found)


def _kind(node: Node) -> Kind:
    kind: Kind = known_word(node, get_args(Kind), "the kinds")  # type: ignore[assignment]
    return kind


def _of(node: Node) -> Of:
    of: Of = known_word(node, get_args(Of), "what an attribute is of")  # type: ignore[assignment]
    return of


def _unit(part: Parts, kind: Kind) -> str | None:
    if kind != "number":
        for name in ("unit", "lowest", "highest"):
            part.refuse(name, f"a {kind} has no {name}")
        return None
    part.require("unit")
    return part.read("unit", _unit_name, None)


def _unit_name(node: Node) -> str:
    name = scalar(node, "a unit", "unit").text.strip()
    if unit_named(name) is None:
        near = nearest(name, (unit.symbol for unit in all_units()))
        raise fault(node, f'"{name}" is not a unit', key="unit", nearest=near)
    return name


def _choices(part: Parts, kind: Kind, structures: tuple[Choice, ...]) -> tuple[Choice, ...]:
    if kind == "yes-no":
        return YES_NO
    if kind not in ("choice", "several"):
        part.refuse("choices", f"a {kind} has no choices")
        return ()
    if part.has("choices-from"):
        part.words("choices-from", ("structures",), "what choices come from")
        return structures
    part.require("choices")
    least = 2 if kind == "choice" else 1
    return part.read("choices", lambda node: _written_choices(node, least), ())


def _written_choices(node: Node, least: int) -> tuple[Choice, ...]:
    faults, choices = Faults(), []
    for key, label in mapping(node, "choices").entries:
        with faults.catch():
            if word(key) != key.text or key.text == "unknown":
                raise fault(key, "this cannot name a choice", key=key.text)
            choices.append(Choice(key.text, text(label, key.text)))
    faults.stop()
    if not least <= len(choices) <= MOST_READINGS:
        told = f"{len(choices)} choices cannot be"
        raise fault(node, told, key="choices", expected=f"{least} to {MOST_READINGS}")
    return tuple(choices)


def read_applicability(
    sections: Sections, vocabulary: Vocabulary, faults: Faults
) -> tuple[dict[str, Condition], dict[str, Condition]]:
    """`applies` and `unsure-when` by attribute. Faults are gathered."""

    def conditions(name: str) -> dict[str, Condition]:
        def read(entry: Entry) -> Condition | None:
            node = entry.get(name)
            return None if node is None else read_condition(node, vocabulary)

        found = read_all(sections["attributes"], faults, read)
        return {key: condition for key, condition in found.items() if condition is not None}

    return conditions("applies"), conditions("unsure-when")
