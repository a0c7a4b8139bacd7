"""Attributes whose value follows from dates or from other wet places."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import repeat

from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import key_of, known_word
from advisor.knowledge.parts import Parts
from advisor.terms import Attribute, Kind, Node, Problem, mapping, problem_at, unit_named, word

OVER_PLACES: Mapping[str, tuple[Kind, str | None]] = {
    "count": ("number", None),
    "regular-pitch": ("yes-no", "m"),
}
"""Facts over wet places: the kind of each, and the unit of what it reads (None: nothing)."""

VISIT = "visit"
"""Where an age ends at the day of the last visit."""


def read_from_dates(node: Node, sections: Sections) -> tuple[str, str]:
    """The dates where an age begins and ends. Raises Faulty."""
    part = Parts(mapping(node), node.place, sections, ("from", "to"), ("from", "to"))
    begin = part.key("from", "attributes")
    end = part.read("to", lambda n: _date_or_visit(n, sections), VISIT)
    part.stop()
    return begin, end


def _date_or_visit(node: Node, sections: Sections) -> str:
    return VISIT if word(node) == VISIT else key_of(node, sections, "attributes")


def read_over_places(node: Node, sections: Sections) -> tuple[str, tuple[str, ...]]:
    """The function over wet places, and what it reads. Raises Faulty."""
    part = Parts(mapping(node), node.place, sections, ("by", "from"), ("by",))
    functions = OVER_PLACES.keys()
    by = part.read("by", lambda n: known_word(n, functions, "the functions over wet places"), "")
    inputs = part.keys("from", "attributes")
    part.stop()
    return by, inputs


def derived_faults(
    entry: Entry,
    attribute: Attribute,
    attributes: Mapping[str, Attribute],
) -> Iterator[Problem]:
    """Where kinds and units do not fit. Inputs with a fault of their own are passed over."""

    def told(name: str, message: str, expected: str) -> Problem:
        return problem_at(entry.get(name) or entry.place, message, key=name, expected=expected)

    if attribute.from_dates is not None:
        name = "from-dates"
        if attribute.kind != "number" or not _is_time(attribute.unit):
            yield told(name, "an age is a number with a unit of time", "kind: number, unit: d")
        for key in attribute.from_dates:
            if key != VISIT and key in attributes and attributes[key].kind != "date":
                yield told(name, f"{key} is no date", "an attribute of the kind date")
    if attribute.over_places is not None:
        name, (function, inputs) = "over-places", attribute.over_places
        kind, unit = OVER_PLACES[function]
        if attribute.kind != kind:
            yield told(name, f"{function} gives a {kind}, not a {attribute.kind}", f"kind: {kind}")
        if unit is None and inputs:
            yield told(name, f"{function} reads no attributes", 'no "from"')
        if unit is not None and not inputs:
            yield told(name, f"{function} reads attributes", f"from: [ATTRIBUTE, …], in {unit}")
        yield from _unit_faults(
            told, name, function, zip(inputs, repeat(unit), strict=False), attributes
        )


def _is_time(unit: str | None) -> bool:
    here, day = unit_named(unit or ""), unit_named("d")
    return here is not None and day is not None and here.dimension == day.dimension


def _unit_faults(
    told: Callable[[str, str, str], Problem],
    name: str,
    function: str,
    pairs: Iterable[tuple[str, str | None]],
    attributes: Mapping[str, Attribute],
) -> Iterator[Problem]:
    for key, unit in pairs:
        attribute = attributes.get(key)
        if attribute is not None and unit is not None and attribute.unit != unit:
            has = attribute.unit or "no unit"
            yield told(name, f"{function} works in {unit}, {key} has {has}", f"unit: {unit}")
