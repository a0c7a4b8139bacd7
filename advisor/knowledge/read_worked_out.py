"""How attributes are worked out by the formulas of `water`: `worked-out` of an attribute."""

from collections.abc import Iterator, Mapping

from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.entries import WorkedOutBy
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import known_word
from advisor.knowledge.parts import Parts, items, told_of
from advisor.terms import (
    Attribute,
    Faults,
    Node,
    Problem,
    Range,
    fault,
    mapping,
    problem_at,
    read_number,
)
from advisor.water import FORMULAS, SAME

_NAMES = ("by", "from", "when", "where-unknown")


def read_worked_out(
    sections: Sections, vocabulary: Vocabulary, faults: Faults
) -> tuple[WorkedOutBy, ...]:
    """Every way of every attribute, in their order. Faults are gathered."""
    found: list[WorkedOutBy] = []
    for key, attribute in vocabulary.attributes.items():
        entry = sections["attributes"][key]
        own, node = Faults(), entry.get("worked-out")
        for way in () if node is None else items(node, "worked-out"):
            with own.catch():
                read = _read_way(way, attribute, sections, vocabulary)
                own.add(*_misfits(entry, attribute, read, vocabulary.attributes))
                if vocabulary.attributes.keys() >= set(read.inputs):
                    found.append(read)
        if node is not None and not attribute.formula:
            own.add(problem_at(node, '"formula" is missing', key="formula"))
        elif node is None and attribute.formula + attribute.valid:
            own.add(problem_at(entry.place, "this is not worked out", key="formula"))
        faults.add(*told_of(entry, own.problems))
    return tuple(found)


def _read_way(
    node: Node, attribute: Attribute, sections: Sections, vocabulary: Vocabulary
) -> WorkedOutBy:
    """Raises Faulty with every fault of it."""
    part = Parts(mapping(node), node.place, sections, _NAMES, ("by", "from"))
    read = WorkedOutBy(
        attribute=attribute.key,
        formula=part.read("by", lambda n: known_word(n, FORMULAS.keys(), "the formulas"), ""),
        inputs=part.keys("from", "attributes"),
        given=part.read("when", lambda n: read_condition(n, vocabulary), None),
        assumed=part.read("where-unknown", lambda n: _read_assumed(n, vocabulary), {}),
    )
    if stray := sorted(read.assumed.keys() - set(read.inputs)):
        part.fail("where-unknown", f"{stray[0]} is no input")
    part.stop()
    return read


def _read_assumed(node: Node, vocabulary: Vocabulary) -> dict[str, Range]:
    faults, assumed = Faults(), {}
    for key, value in mapping(node, "where-unknown").entries:
        with faults.catch():
            attribute = vocabulary.attributes.get(key.text)
            if attribute is None or attribute.kind != "number":
                raise fault(key, f'"{key.text}" is no number that is found', key=key.text)
            assumed[key.text] = read_number(value, attribute)
    faults.stop()
    return assumed


def _misfits(
    entry: Entry, attribute: Attribute, way: WorkedOutBy, attributes: Mapping[str, Attribute]
) -> Iterator[Problem]:
    """Where kinds and units do not fit. Inputs with a fault of their own are passed over."""
    formula = FORMULAS[way.formula]

    def told(message: str, expected: str) -> Problem:
        place = entry.get("worked-out") or entry.place
        return problem_at(place, message, key="worked-out", expected=expected)

    if attribute.kind != "number":
        yield told(f"{way.formula} gives a number, not a {attribute.kind}", "kind: number")
        return
    if len(way.inputs) != len(formula.reads):
        reads = ", ".join(formula.reads)
        yield told(f"{way.formula} reads {len(formula.reads)} attributes", reads)
    pairs = [*zip(way.inputs, formula.reads, strict=False), (attribute.key, formula.unit)]
    units = {key: attributes[key].unit for key, _ in pairs if key in attributes}
    one = next((units[key] for key, unit in pairs if unit == SAME and units.get(key)), None)
    for key, unit in pairs:
        asked = one if unit == SAME else unit
        if key in units and asked is not None and units[key] != asked:
            has = units[key] or "no unit"
            yield told(f"{way.formula} works in {asked}, {key} has {has}", f"unit: {asked}")
