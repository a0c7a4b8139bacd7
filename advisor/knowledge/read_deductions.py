"""Deductions: facts that follow from facts."""

from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.entries import DeductionEntry
from advisor.knowledge.folder import Sections
from advisor.knowledge.read_weights import read_why
from advisor.terms import Faults, fault, mapping, read_choice
from advisor.terms import Mapping as Written


def read_deductions(
    sections: Sections, vocabulary: Vocabulary, faults: Faults
) -> dict[str, DeductionEntry]:
    """Faults are gathered, faulty entries left out."""
    found = {}
    for entry in sections["deductions"].values():
        with faults.catch():
            entry.only(("when", "then"), ("when", "then"))
            found[entry.key] = DeductionEntry(
                key=entry.key,
                when=read_condition(entry.need("when"), vocabulary),
                then=_read_then(mapping(entry.need("then"), "then"), vocabulary),
                why=read_why(entry, sections),
            )
    return found


def _read_then(node: Written, vocabulary: Vocabulary) -> tuple[tuple[str, frozenset[str]], ...]:
    """What is struck out: every choice that the value does not leave."""
    faults = Faults()
    then = []
    for key, value in node.entries:
        with faults.catch():
            read = vocabulary.look_up(key.text, key.place)
            choices = read.variable.choices
            if not choices:
                raise fault(key, "only choices can be deduced, not numbers", key=key.text)
            mask = read_choice(value, read.attribute)
            struck = frozenset(c for i, c in enumerate(choices) if not mask >> i & 1)
            if not struck:
                raise fault(value, "this strikes nothing out", key=key.text)
            then.append((read.variable.key, struck))
    faults.stop()
    if not then:
        raise fault(node, "nothing is deduced", expected="{ATTRIBUTE: VALUE}")
    return tuple(then)
