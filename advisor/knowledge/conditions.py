"""Conditions as written in the knowledge, checked and turned into those of the engine."""

from collections.abc import Collection
from collections.abc import Mapping as Table
from dataclasses import dataclass, replace
from math import inf, nextafter

from advisor.engine import All, AnyOf, Condition, Not, Test, Variable
from advisor.knowledge.entries import READINGS_OF
from advisor.knowledge.names import unresolved
from advisor.terms import (
    Attribute,
    Faults,
    Faulty,
    Node,
    Place,
    Range,
    fault,
    listing,
    mapping,
    nearest,
    one_of,
    read_choice,
    read_number,
)

YES_NO = ("yes", "no")


@dataclass(frozen=True, slots=True)
class Read:
    """What a name in a condition or a family reads: a variable, and how its values are written."""

    variable: Variable
    attribute: Attribute


class Vocabulary:
    """The names that conditions may use. Dotted names make their variable when first used.

    written: the keys of all attributes, with those that are faulty.
    """

    def __init__(self, attributes: Table[str, Attribute], written: Collection[str]) -> None:
        self.attributes = attributes
        self.written = written
        self.variables: dict[str, Variable] = {}
        for attribute in attributes.values():
            for variable in _plain_variables(attribute):
                self.variables[variable.key] = variable

    def look_up(self, name: str, place: Place) -> Read:
        """Raises Faulty for a name that is none, or that holds no value to test."""
        base, _, part = name.partition(".")
        attribute = self.attributes.get(base)
        if attribute is None and base in self.written:
            raise Faulty(unresolved(place, f'"{base}" has a fault of its own', key=name))
        if attribute is None:
            near = nearest(base, self.written)
            told = f'"{base}" is not an attribute'
            raise Faulty(unresolved(place, told, "attributes", key=name, nearest=near))
        if attribute.kind in ("date", "text"):
            raise fault(place, f"a {attribute.kind} cannot be tested", key=name)
        if attribute.kind == "several":
            return self._one_of_several(attribute, part, place)
        if not part:
            return Read(self.variables[base], attribute)
        fits = READINGS_OF if attribute.kind == "number" else ("first",)
        if part not in fits:
            raise fault(
                place,
                f'"{part}" is not a reading of {base}',
                key=name,
                expected=one_of(fits),
                nearest=nearest(part, fits),
            )
        variable = replace(self.variables[base], key=name, origins=(base,))
        if part == "change":  # a difference: below zero too, and without limits
            variable = replace(variable, lowest=-inf, highest=inf)
            attribute = replace(attribute, lowest=-inf, highest=inf)
        self.variables.setdefault(name, variable)
        return Read(self.variables[name], attribute)

    def _one_of_several(self, attribute: Attribute, part: str, place: Place) -> Read:
        choices = tuple(c.key for c in attribute.choices)
        if part not in choices:
            raise fault(
                place,
                f"{attribute.key} has several choices: name one",
                key=attribute.key,
                expected=one_of(f"{attribute.key}.{c}" for c in choices),
                nearest=nearest(part, choices) if part else None,
            )
        name = f"{attribute.key}.{part}"
        label = next(c.label for c in attribute.choices if c.key == part)
        return Read(self.variables[name], replace(attribute, key=name, kind="yes-no", label=label))


def _plain_variables(attribute: Attribute) -> list[Variable]:
    key = attribute.key
    origins = attribute.from_dates or (attribute.over_places[1] if attribute.over_places else ())
    if attribute.kind in ("choice", "yes-no"):
        choices = tuple(c.key for c in attribute.choices)
        return [Variable(key=key, choices=choices, origins=tuple(origins))]
    if attribute.kind == "several":
        return [Variable(key=f"{key}.{c.key}", choices=YES_NO) for c in attribute.choices]
    if attribute.kind == "number":
        top = nextafter(attribute.highest, inf)
        return [Variable(key=key, lowest=attribute.lowest, highest=top, origins=tuple(origins))]
    return []


def read_condition(node: Node, vocabulary: Vocabulary) -> Condition:
    """`{attribute: value, …}` is all of these; `all`, `any`, `not` nest. Raises Faulty."""
    parts: list[Condition] = []
    faults = Faults()
    written = mapping(node, "condition")
    if not written.entries:
        raise fault(node, "the condition is empty", expected="{ATTRIBUTE: VALUE}")
    for key, value in written.entries:
        with faults.catch():
            if key.text == "all":
                parts.append(All(_several(value, vocabulary)))
            elif key.text == "any":
                parts.append(AnyOf(_several(value, vocabulary)))
            elif key.text == "not":
                parts.append(Not(read_condition(value, vocabulary)))
            else:
                parts.append(_read_test(key.text, key.place, value, vocabulary))
    faults.stop()
    return parts[0] if len(parts) == 1 else All(tuple(parts))


def _several(node: Node, vocabulary: Vocabulary) -> tuple[Condition, ...]:
    faults = Faults()
    parts: list[Condition] = []
    for item in listing(node, "condition"):
        with faults.catch():
            parts.append(read_condition(item, vocabulary))
    faults.stop()
    if not parts:
        raise fault(node, "the list of conditions is empty", expected="[{ATTRIBUTE: VALUE}, …]")
    return tuple(parts)


def _read_test(name: str, place: Place, node: Node, vocabulary: Vocabulary) -> Test:
    read = vocabulary.look_up(name, place)
    if read.variable.is_choice:
        mask = read_choice(node, read.attribute)
        choices = read.variable.choices
        if mask == read.attribute.every_choice:
            raise fault(node, "every value passes: this tests nothing", key=name)
        return Test(read.variable.key, frozenset(c for i, c in enumerate(choices) if mask >> i & 1))
    range_ = read_number(node, read.attribute)
    if Range(read.variable.lowest, read.variable.highest).within(range_.lo, range_.hi):
        raise fault(node, "every value passes: this tests nothing", key=name)
    return Test(read.variable.key, (range_.lo, range_.hi))
