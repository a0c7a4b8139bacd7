"""Contributors, looks and stops."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from advisor.engine import Condition
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.entries import STEPS, Asked, Contributor, Look, Stop
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.read_weights import fraction, known_word, read_why, texts, words
from advisor.terms import Faults, fault, number, text, yes_no


@dataclass(frozen=True, slots=True)
class Advice:
    contributors: Mapping[str, Contributor]
    looks: Mapping[str, Look]
    stops: Mapping[str, Stop]


def read_advice(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> Advice:
    """Faults are gathered, faulty entries left out."""
    contributors: dict[str, Contributor] = {}
    looks: dict[str, Look] = {}
    stops: dict[str, Stop] = {}
    for entry in sections["contributors"].values():
        with faults.catch():
            contributors[entry.key] = _read_contributor(entry, sections, vocabulary)
    for entry in sections["looks"].values():
        with faults.catch():
            looks[entry.key] = _read_look(entry, sections, vocabulary)
    for entry in sections["stops"].values():
        with faults.catch():
            stops[entry.key] = _read_stop(entry, sections, vocabulary)
    return Advice(contributors, looks, stops)


def _condition(entry: Entry, name: str, vocabulary: Vocabulary) -> Condition | None:
    node = entry.get(name)
    return None if node is None else read_condition(node, vocabulary)


def _read_contributor(entry: Entry, sections: Sections, vocabulary: Vocabulary) -> Contributor:
    entry.only(("label", "shown", "possible"), ("label", "shown"))
    return Contributor(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        shown=read_condition(entry.need("shown"), vocabulary),
        possible=_condition(entry, "possible", vocabulary),
        why=read_why(entry, sections),
    )


_LOOK_NAMES = (
    "label",
    "do",
    "attributes",
    "minutes",
    "wait-hours",
    "needs",
    "damages",
    "spoils",
    "who",
    "answers",
    "only-when",
)


def _read_look(entry: Entry, sections: Sections, vocabulary: Vocabulary) -> Look:
    entry.only(_LOOK_NAMES, ("label", "do", "attributes", "minutes", "who", "answers"))
    minutes = number(entry.need("minutes"), "minutes")
    if minutes < 1:
        raise fault(entry.need("minutes"), "a look takes at least 1 minute", key=entry.key)
    wait, damages = entry.get("wait-hours"), entry.get("damages")
    attributes = words(entry.need("attributes"), sections["attributes"], "attributes")
    if not attributes:
        raise fault(entry.need("attributes"), "a look answers at least one", key=entry.key)
    return Look(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        do=text(entry.need("do"), "do"),
        attributes=attributes,
        minutes=minutes,
        wait_hours=0.0 if wait is None else number(wait, "wait-hours"),
        needs=texts(entry.get("needs"), "needs"),
        damages=damages is not None and yes_no(damages, "damages"),
        spoils=words(entry.get("spoils"), sections["attributes"], "attributes"),
        who=text(entry.need("who"), "who"),
        answers=fraction(entry.need("answers"), "answers"),
        only_when=_condition(entry, "only-when", vocabulary),
        why=read_why(entry, sections),
    )


_STOP_NAMES = ("label", "when", "asked", "open-when", "ask", "bars", "do", "released-by")


def _read_stop(entry: Entry, sections: Sections, vocabulary: Vocabulary) -> Stop:
    entry.only(_STOP_NAMES, ("label", "when", "asked", "bars", "do", "released-by"))
    asked: Asked = known_word(  # type: ignore[assignment]
        entry.need("asked"), get_args(Asked), "when it is asked"
    )
    ask = entry.get("ask")
    return Stop(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        when=read_condition(entry.need("when"), vocabulary),
        asked=asked,
        open_when=_condition(entry, "open-when", vocabulary),
        ask="" if ask is None else text(ask, "ask"),
        bars=words(entry.need("bars"), STEPS, "the steps"),
        do=text(entry.need("do"), "do"),
        released_by=text(entry.need("released-by"), "released-by"),
        why=read_why(entry, sections),
    )
