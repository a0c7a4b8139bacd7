"""Groups, waters, needs and causes."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.entries import (
    NOT_IN_THIS_LIST,
    OTHER_SIDE,
    UNLISTED,
    Cause,
    Group,
    NeedEntry,
    Through,
    Water,
)
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.read_weights import fraction, known_word, read_why, texts, words
from advisor.terms import Faults, Node, Problem, fault, mapping, number, text
from advisor.terms import Mapping as Written


@dataclass(frozen=True, slots=True)
class Causes:
    groups: Mapping[str, Group]
    waters: Mapping[str, Water]
    needs: Mapping[str, NeedEntry]
    causes: Mapping[str, Cause]


def read_causes(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> Causes:
    """Faults are gathered, faulty entries left out."""
    groups: dict[str, Group] = {}
    waters: dict[str, Water] = {}
    needs: dict[str, NeedEntry] = {}
    causes: dict[str, Cause] = {}
    for entry in sections["groups"].values():
        with faults.catch():
            groups[entry.key] = _read_group(entry, sections)
    for entry in sections["waters"].values():
        with faults.catch():
            waters[entry.key] = _read_water(entry, sections, vocabulary)
    for entry in sections["needs"].values():
        with faults.catch():
            needs[entry.key] = _read_need(entry, sections, vocabulary)
    for entry in sections["causes"].values():
        with faults.catch():
            causes[entry.key] = _read_cause(entry, sections)
    if NOT_IN_THIS_LIST not in sections["causes"]:
        faults.add(Problem(message=f'the cause "{NOT_IN_THIS_LIST}" is missing', file="causes"))
    return Causes(groups, waters, needs, causes)


def _read_group(entry: Entry, sections: Sections) -> Group:
    entry.only(("label", "through"), ("label", "through"))
    through: Through = known_word(  # type: ignore[assignment]
        entry.need("through"), get_args(Through), "yes, no or unlisted"
    )
    return Group(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        through=through,
        why=read_why(entry, sections),
    )


def _read_water(entry: Entry, sections: Sections, vocabulary: Vocabulary) -> Water:
    entry.only(("label", "possible-when"), ("label",))
    node = entry.get("possible-when")
    return Water(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        possible_when=None if node is None else read_condition(node, vocabulary),
        why=read_why(entry, sections),
    )


def _read_need(entry: Entry, sections: Sections, vocabulary: Vocabulary) -> NeedEntry:
    entry.only(("label", "when", "share", "again"), ("label", "when", "share"))
    again = entry.get("again")
    return NeedEntry(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        when=read_condition(entry.need("when"), vocabulary),
        share=fraction(entry.need("share"), "share"),
        again=None if again is None else text(again, "again"),
        why=read_why(entry, sections),
    )


_CAUSE_NAMES = (
    "label",
    "also-called",
    "group",
    "water",
    "base-rate",
    "needs",
    "within",
    "evidence",
    "confirmed-by",
    "confused-with",
)


def _read_cause(entry: Entry, sections: Sections) -> Cause:
    faults = Faults()
    with faults.catch():
        entry.only(_CAUSE_NAMES, ("label", "group", "water", "base-rate"))
    faults.stop()
    group = water = ""
    needs: tuple[str, ...] = ()
    within: tuple[str, ...] = ()
    confused: dict[str, str] = {}
    rate: float | dict[str, float] = 0.0
    causes = sections["causes"]
    with faults.catch():
        group = known_word(entry.need("group"), sections["groups"], "groups")
    with faults.catch():
        waters = (OTHER_SIDE, UNLISTED, *sections["waters"])
        water = known_word(entry.need("water"), waters, "waters")
    with faults.catch():
        needs = words(entry.get("needs"), sections["needs"], "needs")
    with faults.catch():
        within = words(entry.get("within"), causes, "causes")
    with faults.catch():
        node = entry.get("confused-with")
        if node is not None:
            confused = _read_confused(mapping(node, "confused-with"), sections)
    with faults.catch():
        rate = _read_rate(entry.need("base-rate"), sections)
    faults.stop()
    evidence = entry.get("evidence")
    return Cause(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        also_called=texts(entry.get("also-called"), "also-called"),
        group=group,
        water=water,
        base_rate=rate,
        needs=needs,
        within=within,
        evidence="" if evidence is None else text(evidence, "evidence"),
        confirmed_by=texts(entry.get("confirmed-by"), "confirmed-by"),
        confused_with=confused,
        why=read_why(entry, sections),
    )


def _read_confused(node: Written, sections: Sections) -> dict[str, str]:
    faults = Faults()
    confused = {}
    for key, how in node.entries:
        with faults.catch():
            confused[known_word(key, sections["causes"], "causes")] = text(how, key.text)
    faults.stop()
    return confused


def _read_rate(node: Node, sections: Sections) -> float | dict[str, float]:
    """One rate above 0, or one for each structure kind that can have the cause."""
    if not isinstance(node, Written):
        return _rate(node)
    faults = Faults()
    rates = {}
    for key, value in node.entries:
        with faults.catch():
            rates[known_word(key, sections["structures"], "structures")] = _rate(value)
    faults.stop()
    return rates


def _rate(node: Node) -> float:
    rate = number(node, "base-rate")
    if not 0 < rate <= 1:
        raise fault(
            node, f"{rate:g} is no base rate", key="base-rate", expected="above 0, at most 1"
        )
    return rate
