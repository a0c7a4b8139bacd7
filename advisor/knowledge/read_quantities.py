"""Numbers of a repair and what they are of: `quantities/`, `materials`."""

from collections.abc import Iterator, Mapping

from advisor.engine import find_cycle
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import key_of, known_word
from advisor.knowledge.parts import items, parts_of, read_all
from advisor.knowledge.repair_entries import TOOLS, Material, Quantity
from advisor.terms import (
    Attribute,
    Faults,
    Node,
    Problem,
    Range,
    Unreadable,
    fault,
    mapping,
    problem_at,
    read_number,
    read_quantity,
    scalar,
    text,
    unit_named,
    word,
)
from advisor.water import FORMULAS, SAME

_NAMES = (
    "label",
    "unit",
    "by",
    "from",
    "first-of",
    "fixed",
    "where-unknown",
    "at-most",
    "within",
    "formula",
)
_WAYS = ("by", "first-of", "fixed")
MOST = 1e12


def read_materials(sections: Sections, faults: Faults) -> dict[str, Material]:
    """By key. Faults are gathered, faulty entries left out."""

    def material(entry: Entry) -> Material:
        part = parts_of(
            entry, sections, ("label", "unit", "waste", "certificate"), ("label", "unit")
        )
        unit = part.read("unit", _unit, "count")
        read = Material(
            key=entry.key,
            label=part.text("label"),
            unit=unit,
            waste=part.read("waste", lambda node: _written(node, "ratio"), Range.point(0.0)),
            certificate=part.text("certificate"),
            why=part.why(),
        )
        part.stop()
        return read

    return read_all(sections["materials"], faults, material)


def read_quantities(
    sections: Sections, attributes: Mapping[str, Attribute], faults: Faults
) -> dict[str, Quantity]:
    """By key. Faults are gathered, faulty entries left out."""

    def quantity(entry: Entry) -> Quantity:
        part = parts_of(entry, sections, _NAMES, ("label", "unit"))
        unit = part.read("unit", _unit, "count")
        read = Quantity(
            key=entry.key,
            label=part.text("label"),
            unit=unit,
            formula=part.read("by", lambda n: known_word(n, FORMULAS.keys(), "the formulas"), None),
            inputs=part.read("from", lambda n: _inputs(n, sections), ()),
            first_of=part.read("first-of", lambda n: _inputs(n, sections), ()),
            fixed=part.read("fixed", lambda n: _written(n, unit), None),
            assumed=part.read("where-unknown", lambda n: _assumed(n, attributes), {}),
            at_most=part.read("at-most", lambda n: _at_most(n, sections), ()),
            within=part.keys("within", "attributes"),
            how=part.text("formula"),
            why=part.why(),
        )
        if sum(part.has(way) for way in _WAYS) != 1:
            told = 'one of "by", "first-of" and "fixed" says what it is'
            part.faults.add(problem_at(entry.place, told))
        if stray := sorted(set(read.assumed) - {*read.inputs, *read.first_of}):
            part.fail("where-unknown", f"{stray[0]} is no input")
        part.stop()
        return read

    found = read_all(sections["quantities"], faults, quantity)
    known = set(found)
    faults.add(*_cycles(found, sections))
    for key, read in found.items():
        if set(read.inputs) & sections["quantities"].keys() <= known:
            faults.add(*_misfits(sections["quantities"][key], read, found, attributes))
    return found


def _unit(node: Node) -> str:
    """A unit that can be read. Raises Faulty."""
    name = text(node)
    if unit_named(name) is None:
        raise fault(node, f'"{name}" is no unit', key="unit")
    return name


def _written(node: Node, unit: str) -> Range:
    """A number or a range, with its unit."""
    try:
        return read_quantity(scalar(node, "a number").text, unit, lowest=0, highest=MOST)
    except Unreadable as error:
        raise fault(node, error.message, expected=error.expected, nearest=error.nearest) from None


def _inputs(node: Node, sections: Sections) -> tuple[str, ...]:
    """Number attributes and other quantities."""
    faults, found = Faults(), list[str]()
    for item in items(node, "from"):
        with faults.catch():
            key = word(item)
            section = "attributes" if key in sections["attributes"] else "quantities"
            found.append(key_of(item, sections, section))
    faults.stop()
    return tuple(found)


def _at_most(node: Node, sections: Sections) -> tuple[str, ...]:
    """Tools of the van, and attributes."""
    return tuple(
        word(item) if word(item) in TOOLS else key_of(item, sections, "attributes")
        for item in items(node, "at-most")
    )


def _assumed(node: Node, attributes: Mapping[str, Attribute]) -> dict[str, Range]:
    faults, found = Faults(), dict[str, Range]()
    for key, value in mapping(node, "where-unknown").entries:
        with faults.catch():
            attribute = attributes.get(key.text)
            if attribute is None or attribute.kind != "number":
                raise fault(key, f'"{key.text}" is no number that is found', key=key.text)
            found[key.text] = read_number(value, attribute)
    faults.stop()
    return found


def _cycles(found: Mapping[str, Quantity], sections: Sections) -> Iterator[Problem]:
    needs = {
        key: {k for k in (*read.inputs, *read.first_of) if k in found}
        for key, read in found.items()
    }
    if cycle := find_cycle(needs):
        place = sections["quantities"][cycle[0]].place
        told = f"it rests on itself: {' -> '.join((*cycle, cycle[0]))}"
        yield problem_at(place, told, key=cycle[0])


def _misfits(
    entry: Entry,
    read: Quantity,
    quantities: Mapping[str, Quantity],
    attributes: Mapping[str, Attribute],
) -> Iterator[Problem]:
    """Where the units do not fit those of the formula."""

    def unit_of(key: str) -> str | None:
        if key in quantities:
            return quantities[key].unit
        return attributes[key].unit or "count" if key in attributes else None

    if read.formula is None:
        pairs = [(key, read.unit) for key in (*read.first_of, *read.within)]
    else:
        formula = FORMULAS[read.formula]
        if len(read.inputs) != len(formula.reads):
            told = f"{read.formula} reads {len(formula.reads)} numbers"
            yield problem_at(entry.place, told, key=read.key, expected=", ".join(formula.reads))
            return
        pairs = [*zip(read.inputs, formula.reads, strict=True), (read.key, formula.unit)]
    one = next((unit_of(key) for key, unit in pairs if unit == SAME), None)
    for key, unit in pairs:
        asked = one if unit == SAME else unit
        if (has := unit_of(key)) is not None and has != asked:
            told = f"{read.formula or read.key} works in {asked}, {key} has {has}"
            yield problem_at(entry.place, told, key=read.key, expected=f"unit: {asked}")
