"""Groups, waters, needs and causes."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from advisor.engine import ALWAYS
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.entries import (
    NOT_IN_THIS_LIST,
    UNLISTED,
    Cause,
    Group,
    NeedEntry,
    Through,
    Water,
)
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import key_of, known_word, unresolved
from advisor.knowledge.parts import fraction, parts_of, read_all
from advisor.terms import Faults, Node, Place, fault, mapping, text
from advisor.terms import Mapping as Written


@dataclass(frozen=True, slots=True)
class Causes:
    groups: Mapping[str, Group]
    waters: Mapping[str, Water]
    needs: Mapping[str, NeedEntry]
    causes: Mapping[str, Cause]


def read_causes(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> Causes:
    """Faults are gathered, faulty entries left out."""

    def group(entry: Entry) -> Group:
        part = parts_of(entry, sections, ("label", "through"), ("label", "through"))
        read = Group(
            key=entry.key,
            label=part.text("label"),
            through=part.read("through", _through, _NO_WORD),
            why=part.why(),
        )
        part.stop()
        return read

    def water(entry: Entry) -> Water:
        part = parts_of(entry, sections, ("label", "possible-when"), ("label",))
        read = Water(
            key=entry.key,
            label=part.text("label"),
            possible_when=part.read(
                "possible-when", lambda node: read_condition(node, vocabulary), None
            ),
            why=part.why(),
        )
        part.stop()
        return read

    def need(entry: Entry) -> NeedEntry:
        musts = ("label", "when", "share")
        part = parts_of(entry, sections, (*musts, "again"), musts)
        read = NeedEntry(
            key=entry.key,
            label=part.text("label"),
            when=part.read("when", lambda node: read_condition(node, vocabulary), ALWAYS),
            share=part.fraction("share"),
            again=part.text("again") or None,
            why=part.why(),
        )
        part.stop()
        return read

    found = Causes(
        groups=read_all(sections["groups"], faults, group),
        waters=read_all(sections["waters"], faults, water),
        needs=read_all(sections["needs"], faults, need),
        causes=read_all(sections["causes"], faults, lambda entry: _read_cause(entry, sections)),
    )
    if NOT_IN_THIS_LIST not in sections["causes"]:
        nowhere = Place("causes", 1, 1)
        faults.add(unresolved(nowhere, f'the cause "{NOT_IN_THIS_LIST}" is missing', "causes"))
    return found


_NO_WORD: Through = "unlisted"


def _through(node: Node) -> Through:
    through: Through = known_word(  # type: ignore[assignment]
        node, get_args(Through), "what a group can be"
    )
    return through


_CAUSE_MUSTS = ("label", "group", "water", "base-rate")
_CAUSE_NAMES = (
    *_CAUSE_MUSTS,
    "also-called",
    "needs",
    "within",
    "evidence",
    "confirmed-by",
    "confused-with",
)


def _read_cause(entry: Entry, sections: Sections) -> Cause:
    part = parts_of(entry, sections, _CAUSE_NAMES, _CAUSE_MUSTS)
    read = Cause(
        key=entry.key,
        label=part.text("label"),
        also_called=part.texts("also-called"),
        group=part.key("group", "groups"),
        water=part.key("water", "waters"),
        base_rate=part.read("base-rate", lambda node: _read_rate(node, sections), 1.0),
        needs=part.keys("needs", "needs"),
        within=part.keys("within", "causes"),
        evidence=part.text("evidence"),
        confirmed_by=part.texts("confirmed-by"),
        confused_with=part.read("confused-with", lambda node: _read_confused(node, sections), {}),
        why=part.why(),
    )
    part.stop()
    if entry.key == NOT_IN_THIS_LIST:
        _check_always_possible(read, entry, sections)
    return read


def _check_always_possible(cause: Cause, entry: Entry, sections: Sections) -> None:
    """What is in no list can never be out, or a callout could be left with no cause at all."""
    if cause.needs:
        raise fault(entry.place, "this cause needs nothing", key="needs")
    if (cause.group, cause.water) != (UNLISTED, UNLISTED):
        raise fault(entry.place, f'its group and water are "{UNLISTED}"', key="group")
    if isinstance(cause.base_rate, Mapping):
        missing = [kind for kind in sections["structures"] if kind not in cause.base_rate]
        if missing:
            raise fault(
                entry.place,
                f"no rate for {', '.join(missing)}",
                key="base-rate",
                expected="a rate for every kind of structure",
            )


def _read_confused(node: Node, sections: Sections) -> dict[str, str]:
    faults, confused = Faults(), {}
    for key, how in mapping(node, "confused-with").entries:
        with faults.catch():
            confused[key_of(key, sections, "causes")] = text(how, key.text)
    faults.stop()
    return confused


def _read_rate(node: Node, sections: Sections) -> float | dict[str, float]:
    """One rate above 0, or one for each structure kind that can have the cause."""
    if not isinstance(node, Written):
        return fraction(node, "base-rate")
    faults, rates = Faults(), {}
    for key, value in node.entries:
        with faults.catch():
            rates[key_of(key, sections, "structures")] = fraction(value, key.text)
    faults.stop()
    if not rates:
        raise fault(node, "no rate is given", key="base-rate", expected="a number above 0")
    return rates
