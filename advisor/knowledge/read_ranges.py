"""Ranges of what can be measured where something is so: `ranges/`. Outside them it is struck out.

An entry is named as the choice that it settles, and becomes one deduction.
"""

from advisor.engine import AnyOf, Condition, Not
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.entries import DeductionEntry
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.parts import parts_of, read_all
from advisor.terms import Faults, Mapping, Node, fault, mapping, problem_at, word

_NAMES = ("settles", "within")


def read_ranges(
    sections: Sections, vocabulary: Vocabulary, faults: Faults
) -> dict[str, DeductionEntry]:
    """By key. Faults are gathered, faulty entries left out."""

    def range_(entry: Entry) -> DeductionEntry:
        part = parts_of(entry, sections, _NAMES, _NAMES)
        outside = part.read("within", lambda node: _outside(node, vocabulary), ())
        variable = part.read("settles", lambda node: _variable(node, entry, vocabulary), "")
        why = part.why()
        if entry.key in sections["deductions"]:
            part.faults.add(problem_at(entry.place, "a deduction has this key already"))
        part.stop()
        then = ((variable, frozenset(["yes"])),)
        return DeductionEntry(key=entry.key, when=AnyOf(outside), then=then, why=why)

    return read_all(sections["ranges"], faults, range_)


def _variable(node: Node, entry: Entry, vocabulary: Vocabulary) -> str:
    name = word(node)
    attribute = vocabulary.attributes.get(name)
    if attribute is None or attribute.kind != "several":
        raise fault(node, f'"{name}" is no attribute of several choices', key="settles")
    return vocabulary.look_up(f"{name}.{entry.key}", entry.place).variable.key


def _outside(node: Node, vocabulary: Vocabulary) -> tuple[Condition, ...]:
    """That a measurement cannot be of it, one for each."""
    faults, found = Faults(), []
    for key, value in mapping(node, "within").entries:
        with faults.catch():
            found.append(Not(read_condition(Mapping(((key, value),), key.place), vocabulary)))
    faults.stop()
    if not found:
        raise fault(node, "no range is given", key="within")
    return tuple(found)
