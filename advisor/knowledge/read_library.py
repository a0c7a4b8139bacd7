"""How cases are closed and kept: `closing.yaml`, `keeping.yaml`."""

from collections.abc import Mapping
from itertools import pairwise

from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.library_entries import Closing, Keeping
from advisor.knowledge.names import known_word
from advisor.knowledge.parts import items, parts_of, read_all
from advisor.terms import Attribute, Faults, Node, fault, nearest, number, problem_at

_CLOSING_MUSTS = ("label", "proofs")
_CLOSING_NAMES = (*_CLOSING_MUSTS, "groups", "kinds")
_KEEPING_MUSTS = ("keep",)
_KEEPING_NAMES = (*_KEEPING_MUSTS, "bands", "backfill")
_WAYS = ("as-found", "in-bands", "never")


def read_closing(sections: Sections, faults: Faults) -> dict[str, Closing]:
    """By key. Faults are gathered, faulty entries left out."""

    def closing(entry: Entry) -> Closing:
        part = parts_of(entry, sections, _CLOSING_NAMES, _CLOSING_MUSTS)
        proofs = part.keys("proofs", "proofs")
        if part.has("proofs") and not proofs and "proofs" not in part.failed:
            part.fail("proofs", "no proof is named")
        read = Closing(
            key=entry.key,
            label=part.text("label"),
            proofs=proofs,
            groups=part.keys("groups", "groups"),
            kinds=part.keys("kinds", "structures"),
            why=part.why(),
        )
        part.stop()
        return read

    return read_all(sections["closing"], faults, closing)


def read_keeping(
    sections: Sections, attributes: Mapping[str, Attribute], faults: Faults
) -> dict[str, Keeping]:
    """By attribute. Faults are gathered, faulty entries left out."""

    def keeping(entry: Entry) -> Keeping:
        part = parts_of(entry, sections, _KEEPING_NAMES, _KEEPING_MUSTS)
        attribute = attributes.get(entry.key)
        if attribute is None and entry.key not in sections["attributes"]:
            part.faults.add(
                problem_at(
                    entry.place,
                    "there is no such attribute",
                    key=entry.key,
                    expected="the key of an attribute",
                    nearest=nearest(entry.key, sections["attributes"]),
                )
            )
        if attribute is not None and attribute.kind != "number":
            part.refuse("bands", "only a number is kept in bands")
        way = part.read("keep", _way, "as-found")
        if way == "in-bands":
            part.require("bands")
        else:
            part.refuse("bands", 'bands go with "keep: in-bands"')
        if way == "never":
            part.refuse("backfill", "what is never kept is not asked for")
        read = Keeping(
            key=entry.key,
            bands=part.read("bands", _edges, ()),
            leave_out=way == "never",
            backfill=part.flag("backfill"),
            why=part.why(),
        )
        part.stop()
        return read

    return read_all(sections["keeping"], faults, keeping)


def _way(node: Node) -> str:
    return known_word(node, _WAYS, "the ways of keeping")


def _edges(node: Node) -> tuple[float, ...]:
    edges = tuple(number(item, "bands") for item in items(node, "bands"))
    if not edges:
        raise fault(node, "no edge is named", key="bands", expected="such as [1, 5, 20]")
    if any(low >= high for low, high in pairwise(edges)):
        raise fault(node, "the edges do not rise", key="bands", expected="such as [1, 5, 20]")
    return edges
