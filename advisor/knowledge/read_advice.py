"""Contributors, looks and stops."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from advisor.engine import ALWAYS, Condition
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.entries import STEPS, Asked, Contributor, Look, Stop, Urgency
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import known_word
from advisor.knowledge.parts import parts_of, read_all
from advisor.terms import Faults, Node, fault, number


@dataclass(frozen=True, slots=True)
class Advice:
    contributors: Mapping[str, Contributor]
    looks: Mapping[str, Look]
    stops: Mapping[str, Stop]


def read_advice(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> Advice:
    """Faults are gathered, faulty entries left out."""

    def condition(node: Node) -> Condition:
        return read_condition(node, vocabulary)

    def contributor(entry: Entry) -> Contributor:
        part = parts_of(entry, sections, ("label", "shown", "possible"), ("label", "shown"))
        read = Contributor(
            key=entry.key,
            label=part.text("label"),
            shown=part.read("shown", condition, ALWAYS),
            possible=part.read("possible", condition, None),
            why=part.why(),
        )
        part.stop()
        return read

    def look(entry: Entry) -> Look:
        part = parts_of(entry, sections, _LOOK_NAMES, _LOOK_MUSTS)
        read = Look(
            key=entry.key,
            label=part.text("label"),
            do=part.text("do"),
            attributes=part.keys("attributes", "attributes"),
            minutes=part.read("minutes", _minutes, 1.0),
            wait_hours=part.read("wait-hours", _hours, 0.0),
            needs=part.texts("needs"),
            damages=part.flag("damages"),
            spoils=part.keys("spoils", "attributes"),
            who=part.text("who"),
            steps=part.words("steps", STEPS, "the steps") if entry.get("steps") else ON_SITE,
            answers=part.fraction("answers"),
            only_when=part.read("only-when", condition, None),
            why=part.why(),
        )
        part.stop()
        if not read.attributes:
            raise fault(entry.place, "a look answers at least one attribute", key="attributes")
        return read

    def stop(entry: Entry) -> Stop:
        part = parts_of(entry, sections, _STOP_NAMES, _STOP_MUSTS)
        read = Stop(
            key=entry.key,
            label=part.text("label"),
            when=part.read("when", condition, ALWAYS),
            asked=part.read("asked", _asked, "at-the-door"),
            urgency=part.read("urgency", _urgency, "before-repair"),
            no_advice=part.flag("no-advice"),
            open_when=part.read("open-when", condition, None),
            ask=part.text("ask"),
            bars=part.words("bars", STEPS, "the steps"),
            do=part.text("do"),
            released_by=part.text("released-by"),
            why=part.why(),
        )
        part.stop()
        if not read.bars:
            raise fault(entry.place, "a stop bars at least one step", key="bars")
        return read

    return Advice(
        contributors=read_all(sections["contributors"], faults, contributor),
        looks=read_all(sections["looks"], faults, look),
        stops=read_all(sections["stops"], faults, stop),
    )


ON_SITE = ("all-work",)
"""The steps of a look that names none: it is done at the place."""

_LOOK_MUSTS = ("label", "do", "attributes", "minutes", "who", "answers")
_LOOK_NAMES = (*_LOOK_MUSTS, "wait-hours", "needs", "damages", "spoils", "steps", "only-when")
_STOP_MUSTS = ("label", "when", "asked", "ask", "bars", "do", "released-by")
_STOP_NAMES = (*_STOP_MUSTS, "urgency", "no-advice", "open-when")


def _minutes(node: Node) -> float:
    minutes = number(node, "minutes")
    if minutes < 1:
        raise fault(node, "a look takes at least 1 minute", key="minutes")
    return minutes


def _hours(node: Node) -> float:
    hours = number(node, "wait-hours")
    if hours < 0:
        raise fault(node, "a wait is 0 hours or more", key="wait-hours")
    return hours


def _asked(node: Node) -> Asked:
    asked: Asked = known_word(node, get_args(Asked), "when it is asked")  # type: ignore[assignment]
    return asked


def _urgency(node: Node) -> Urgency:
    found: Urgency = known_word(node, get_args(Urgency), "how urgent it is")  # type: ignore[assignment]
    return found
