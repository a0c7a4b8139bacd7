"""Deductions: facts that follow from facts."""

from advisor.engine import ALWAYS
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.entries import DeductionEntry
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.parts import parts_of, read_all
from advisor.terms import Faults, Node, Scalar, fault, mapping, read_choice

Strikes = tuple[str, frozenset[str]]
"""A variable, and the choices that are struck out."""


def read_deductions(
    sections: Sections, vocabulary: Vocabulary, faults: Faults
) -> dict[str, DeductionEntry]:
    """Faults are gathered, faulty entries left out."""

    def deduction(entry: Entry) -> DeductionEntry:
        part = parts_of(entry, sections, ("when", "then"), ("when", "then"))
        read = DeductionEntry(
            key=entry.key,
            when=part.read("when", lambda node: read_condition(node, vocabulary), ALWAYS),
            then=part.read("then", lambda node: _read_then(node, vocabulary), ()),
            why=part.why(),
        )
        part.stop()
        return read

    return read_all(sections["deductions"], faults, deduction)


def _read_then(node: Node, vocabulary: Vocabulary) -> tuple[Strikes, ...]:
    faults, then = Faults(), []
    for key, value in mapping(node, "then").entries:
        with faults.catch():
            then.append(_strikes(key, value, vocabulary))
    faults.stop()
    if not then:
        raise fault(node, "nothing is deduced", expected="{ATTRIBUTE: VALUE}")
    return tuple(then)


def _strikes(key: Scalar, value: Node, vocabulary: Vocabulary) -> Strikes:
    """Every choice that the value does not leave is struck out."""
    read = vocabulary.look_up(key.text, key.place)
    if not read.variable.is_choice:
        raise fault(key, "only choices can be deduced, not numbers", key=key.text)
    if read.variable.key != read.attribute.key:  # one of several dated readings
        raise fault(key, "only the latest can be deduced", expected=read.attribute.key)
    mask = read_choice(value, read.attribute)
    struck = frozenset(c for i, c in enumerate(read.variable.choices) if not mask >> i & 1)
    if not struck:
        raise fault(value, "this strikes nothing out", key=key.text)
    return read.variable.key, struck
