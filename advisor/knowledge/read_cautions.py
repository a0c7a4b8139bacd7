"""What to mind while working, and what proves the work: `cautions/`, `proofs/`."""

from typing import Literal

from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import known_word
from advisor.knowledge.parts import Parts, items, parts_of, read_all
from advisor.knowledge.repair_entries import ACTIVITIES, Caution, Permit, Proof, Threshold
from advisor.terms import Faults, Node, Unreadable, fault, mapping, read_quantity, scalar

_CAUTION_MUSTS = ("label", "takes", "do")
_CAUTION_NAMES = (*_CAUTION_MUSTS, "when", "limits", "permit")
_PROOF_MUSTS = ("label", "look", "by")
_PROOF_NAMES = (*_PROOF_MUSTS, "water-up", "after-days", "least-days", "always")
_THRESHOLD = ("what", "value", "where", "dated")
_PERMIT = ("what", "issued-by")


def read_cautions(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> dict[str, Caution]:
    """By key. Faults are gathered, faulty entries left out."""

    def caution(entry: Entry) -> Caution:
        part = parts_of(entry, sections, _CAUTION_NAMES, _CAUTION_MUSTS)
        read = Caution(
            key=entry.key,
            label=part.text("label"),
            takes=part.words("takes", ACTIVITIES, "what a step takes"),
            when=part.read("when", lambda node: read_condition(node, vocabulary), None),
            do=part.text("do"),
            limits=part.read("limits", lambda node: _thresholds(node, sections), ()),
            permit=part.read("permit", lambda node: _permit(node, sections), None),
            why=part.why(),
        )
        part.stop()
        return read

    return read_all(sections["cautions"], faults, caution)


def read_proofs(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> dict[str, Proof]:
    """By key. Faults are gathered, faulty entries left out."""

    def proof(entry: Entry) -> Proof:
        part = parts_of(entry, sections, _PROOF_NAMES, _PROOF_MUSTS)
        read = Proof(
            key=entry.key,
            label=part.text("label"),
            look=part.key("look", "looks"),
            water_up=part.flag("water-up"),
            by=part.read("by", _by, "event"),
            after_days=part.read("after-days", _days, None),
            least_days=part.number("least-days"),
            always=part.read("always", lambda node: read_condition(node, vocabulary), None),
            why=part.why(),
        )
        part.stop()
        return read

    return read_all(sections["proofs"], faults, proof)


def _by(node: Node) -> Literal["date", "event"]:
    by: Literal["date", "event"] = known_word(node, ("date", "event"), "what it is due by")  # type: ignore[assignment]
    return by


def _days(node: Node) -> tuple[float, float]:
    try:
        read = read_quantity(f"{scalar(node, 'days').text} d", "d", lowest=0, highest=36500)
    except Unreadable as error:
        raise fault(node, error.message, key="after-days", expected="1-3") from None
    return read.lo, read.lo if read.is_point else read.hi


def _thresholds(node: Node, sections: Sections) -> tuple[Threshold, ...]:
    faults, found = Faults(), list[Threshold]()
    for item in items(node, "limits"):
        with faults.catch():
            part = Parts(mapping(item), item.place, sections, _THRESHOLD, _THRESHOLD)
            what, value, where, dated = (part.text(name) for name in _THRESHOLD)
            part.stop()
            found.append(Threshold(what=what, value=value, where=where, dated=dated))
    faults.stop()
    return tuple(found)


def _permit(node: Node, sections: Sections) -> Permit:
    part = Parts(mapping(node), node.place, sections, _PERMIT, _PERMIT)
    what, issued_by = (part.text(name) for name in _PERMIT)
    part.stop()
    return Permit(what=what, issued_by=issued_by)
