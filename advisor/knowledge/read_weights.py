"""`weights.yaml` and `sources.yaml`."""

from collections.abc import Mapping

from advisor.knowledge.entries import Source, Weights, Word
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import known_word, unresolved
from advisor.knowledge.parts import REASONS, Parts, fraction, read_all, told_of
from advisor.terms import Faults, Node, Place, fault, mapping, nearest, one_of, problem_at
from advisor.terms import Mapping as Written

STATUSES = ("verified", "from-memory", "common-practice", "own-judgement")
STRENGTHS = ("strong", "moderate", "weak")

_PARTS = {
    "words": STRENGTHS,
    "left": ("least",),
    "right": ("sure", "unsure"),
    "settled": ("cause", "times-the-next", "group"),
    "marks": ("hangs-on", "unexplained"),
    "history": ("own", "from-records", "remembered"),
    "stories": (),
}


def read_sources(sections: Sections, faults: Faults) -> dict[str, Source]:
    """Faults are gathered, faulty entries left out."""

    def source(entry: Entry) -> Source:
        names = ("title", "status")
        part = Parts(entry.node, entry.place, sections, names, names)
        read = Source(
            key=entry.key,
            title=part.text("title"),
            status=part.read("status", _status, ""),
        )
        part.stop()
        return read

    return read_all(sections["sources"], faults, source)


def _status(node: Node) -> str:
    return known_word(node, STATUSES, "the kinds of status")


def read_weights(sections: Sections, faults: Faults) -> Weights:
    """The one map of words to numbers, slips, stories, and when a cause is settled.

    Faults are gathered. A faulty word is left out, another figure has a stand-in.
    """
    entries = sections["weights"]
    parts = {name: _part(name, entries, sections, faults) for name in _PARTS}
    words, right, settled = parts["words"], parts["right"], parts["settled"]
    read = {s: words.read(s, lambda n: _word(n, sections), None) for s in STRENGTHS}
    weights = Weights(
        words={strength: word for strength, word in read.items() if word is not None},
        least_left=parts["left"].fraction("least", 0.01),
        right_sure=right.read("sure", _rightness, 0.5),
        right_unsure=right.read("unsure", _rightness, 0.5),
        stories=_stories(parts["stories"]),
        settled_cause=settled.fraction("cause"),
        settled_times_next=settled.number("times-the-next"),
        settled_group=settled.fraction("group"),
        hangs_on=parts["marks"].fraction("hangs-on"),
        unexplained=parts["marks"].fraction("unexplained"),
        history={name: parts["history"].fraction(name) for name in _PARTS["history"]},
    )
    for name, part in parts.items():
        if name in entries:
            faults.add(*told_of(entries[name], part.faults.problems))
    for name, entry in entries.items():
        if name not in _PARTS:
            faults.add(
                problem_at(
                    entry.place,
                    "no such part of weights",
                    key=name,
                    expected=one_of(_PARTS),
                    nearest=nearest(name, _PARTS),
                )
            )
    return weights


def _part(name: str, entries: Mapping[str, Entry], sections: Sections, faults: Faults) -> Parts:
    entry = entries.get(name)
    if entry is None:
        place = Place("weights.yaml", 1, 1)
        faults.add(unresolved(place, f'"{name}" is missing', "weights", key=name))
        return Parts(Written((), place), place, sections, ())
    names = _PARTS[name] or entry.node.keys()
    return Parts(entry.node, entry.place, sections, (*names, *REASONS), names)


def _word(node: Node, sections: Sections) -> Word:
    names = ("times", "at-most")
    part = Parts(mapping(node), node.place, sections, names, names)
    read = Word(times=part.number("times", 1.0), at_most=part.fraction("at-most"))
    if read.times < 1:
        part.faults.add(problem_at(node, f"{read.times:g} cannot be", expected="1 or more"))
    part.stop()
    return read


def _rightness(node: Node) -> float:
    right = fraction(node, "right")
    if right == 1:  # then one finding could rule out every cause
        raise fault(node, "no finding is always right", expected="above 0, under 1")
    return right


def _stories(part: Parts) -> dict[str, str]:
    return {
        key.text: part.text(key.text) for key, _ in part.node.entries if key.text not in REASONS
    }
