"""Attributes and structure kinds; the conditions under which an attribute applies."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import get_args

from advisor.engine import Condition
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.read_weights import known_word, read_why, words
from advisor.terms import (
    YES_NO,
    Attribute,
    Choice,
    Faults,
    fault,
    mapping,
    number,
    only_keys,
    text,
    unit_named,
    yes_no,
)
from advisor.terms.attribute import Kind, Of
from advisor.water import WORKERS

NAMES = (
    "label",
    "of",
    "kind",
    "choices",
    "choices-from",
    "unit",
    "lowest",
    "highest",
    "question",
    "check",
    "who",
    "applies",
    "unsure-when",
    "over-places",
    "from-dates",
    "worked-out",
    "of-the-water",
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
OVER_PLACES = ("count", "regular-pitch")


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOutBy:
    """A number worked out by a function of the water floor from other attributes."""

    attribute: str
    function: str
    inputs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Attributes:
    """Everything the attribute files say."""

    attributes: Mapping[str, Attribute]
    worked_out: tuple[WorkedOutBy, ...]


def read_attributes(sections: Sections, faults: Faults) -> Attributes:
    """Attributes in the order of their files. Faults are gathered, faulty ones left out."""
    entries = sections["attributes"]
    attributes: dict[str, Attribute] = {}
    worked: list[WorkedOutBy] = []
    for entry in entries.values():
        with faults.catch():
            attributes[entry.key] = _read_attribute(entry, sections)
            node = entry.get("worked-out")
            if node is not None:
                only_keys(mapping(node), ("by", "from"), ("by", "from"))
                by, inputs = mapping(node).get("by"), mapping(node).get("from")
                assert by is not None
                worked.append(
                    WorkedOutBy(
                        attribute=entry.key,
                        function=known_word(by, WORKERS, "the functions of water"),
                        inputs=words(inputs, entries, "attributes"),
                    )
                )
    for item in worked:
        with faults.catch():
            _check_worked_out(item, entries[item.attribute], attributes)
    return Attributes(attributes, tuple(worked))


def _read_attribute(entry: Entry, sections: Sections) -> Attribute:
    faults = Faults()
    with faults.catch():
        entry.only(NAMES, ("label", "of", "kind", "question", "check", "who"))
    faults.stop()
    kind: Kind = known_word(entry.need("kind"), get_args(Kind), "the kinds")  # type: ignore[assignment]
    of: Of = known_word(entry.need("of"), get_args(Of), "what an attribute is of")  # type: ignore[assignment]
    why = None
    choices: tuple[Choice, ...] = ()
    with faults.catch():
        why = read_why(entry, sections)
    with faults.catch():
        choices = _read_choices(entry, kind, sections)
    who: tuple[str, ...] = ()
    with faults.catch():
        who = words(entry.need("who"), KNOWERS, "who can know")
    unit, lowest, highest = None, -inf, inf
    with faults.catch():
        unit, lowest, highest = _read_number_form(entry, kind)
    faults.stop()
    assert why is not None
    from_dates, over_places = _read_sources_of_value(entry, sections)
    return Attribute(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        kind=kind,
        of=of,
        question=text(entry.need("question"), "question"),
        check=text(entry.need("check"), "check"),
        who=who,
        unit=unit,
        choices=choices,
        lowest=lowest,
        highest=highest,
        from_dates=from_dates,
        over_places=over_places,
        of_the_water=_flag(entry, "of-the-water"),
        because=why.because,
        source=why.source,
    )


def _flag(entry: Entry, name: str) -> bool:
    node = entry.get(name)
    return node is not None and yes_no(node, name)


def _read_choices(entry: Entry, kind: str, sections: Sections) -> tuple[Choice, ...]:
    if kind == "yes-no":
        return YES_NO
    if kind not in ("choice", "several"):
        return ()
    if entry.get("choices-from") is not None:
        known_word(entry.need("choices-from"), ("structures",), "what choices come from")
        return tuple(
            Choice(key, text(e.need("label"), "label")) for key, e in sections["structures"].items()
        )
    written = mapping(entry.need("choices"), "choices")
    if len(written.entries) < (2 if kind == "choice" else 1):
        raise fault(written, "too few choices", key=entry.key, expected="at least two")
    return tuple(Choice(key.text, text(node, key.text)) for key, node in written.entries)


def _read_number_form(entry: Entry, kind: str) -> tuple[str | None, float, float]:
    if kind != "number":
        return None, -inf, inf
    node = entry.need("unit")
    unit = text(node, "unit")
    if unit_named(unit) is None:
        raise fault(node, f'"{unit}" is not a unit', key=entry.key)
    low, high = entry.get("lowest"), entry.get("highest")
    return (
        unit,
        -inf if low is None else number(low, "lowest"),
        inf if high is None else number(high, "highest"),
    )


def _read_sources_of_value(
    entry: Entry, sections: Sections
) -> tuple[tuple[str, str] | None, tuple[str, tuple[str, ...]] | None]:
    """from-dates and over-places: values that a callout works out by itself."""
    known = sections["attributes"]
    from_dates, over_places = None, None
    node = entry.get("from-dates")
    if node is not None:
        dates = mapping(node, "from-dates")
        only_keys(dates, ("from", "to"), ("from", "to"))
        begin, end = dates.get("from"), dates.get("to")
        assert begin is not None
        assert end is not None
        from_dates = (
            known_word(begin, known, "attributes"),
            known_word(end, ("visit", *known), "attributes"),
        )
    node = entry.get("over-places")
    if node is not None:
        places = mapping(node, "over-places")
        only_keys(places, ("by", "from"), ("by",))
        by = places.get("by")
        assert by is not None
        over_places = (
            known_word(by, OVER_PLACES, "the functions over wet places"),
            words(places.get("from"), known, "attributes"),
        )
    return from_dates, over_places


def _check_worked_out(item: WorkedOutBy, entry: Entry, attributes: Mapping[str, Attribute]) -> None:
    """The units must be those the function works in."""
    worker = WORKERS[item.function]
    for key, unit in [
        *zip(item.inputs, worker.inputs, strict=False),
        (item.attribute, worker.unit),
    ]:
        attribute = attributes.get(key)
        if attribute is not None and attribute.unit != unit:
            raise fault(
                entry.place, f"{item.function} works in {unit}, not in {attribute.unit}", key=key
            )
    if len(item.inputs) != len(worker.inputs):
        raise fault(
            entry.place,
            f"{item.function} reads {len(worker.inputs)} attributes, in {', '.join(worker.inputs)}",
            key=entry.key,
        )


def read_applicability(
    sections: Sections, vocabulary: Vocabulary, faults: Faults
) -> tuple[dict[str, Condition], dict[str, Condition]]:
    """`applies` and `unsure-when` by attribute."""
    found: tuple[dict[str, Condition], dict[str, Condition]] = ({}, {})
    for entry in sections["attributes"].values():
        for name, into in zip(("applies", "unsure-when"), found, strict=True):
            node = entry.get(name)
            if node is not None:
                with faults.catch():
                    into[entry.key] = read_condition(node, vocabulary)
    return found
