"""Attributes, units, and values as sets of possibilities."""

from advisor.terms.attribute import YES_NO, Attribute, Choice, Kind, Of
from advisor.terms.document import parse, read
from advisor.terms.fields import (
    day,
    listing,
    mapping,
    number,
    one_of,
    only_keys,
    scalar,
    text,
    whole,
    word,
    yes_no,
)
from advisor.terms.node import Listing, Mapping, Node, Place, Scalar, fault, problem_at
from advisor.terms.problem import Faults, Faulty, Problem, nearest
from advisor.terms.quantity import Range, Unreadable, read_quantity, say_number, say_range
from advisor.terms.units import Unit, all_units, convert, unit_named, units_of
from advisor.terms.value import (
    Value,
    read_choice,
    read_number,
    read_several,
    read_value,
    say_choices,
)

__all__ = [
    "YES_NO",
    "Attribute",
    "Choice",
    "Faults",
    "Faulty",
    "Kind",
    "Listing",
    "Mapping",
    "Node",
    "Of",
    "Place",
    "Problem",
    "Range",
    "Scalar",
    "Unit",
    "Unreadable",
    "Value",
    "all_units",
    "convert",
    "day",
    "fault",
    "listing",
    "mapping",
    "nearest",
    "number",
    "one_of",
    "only_keys",
    "parse",
    "problem_at",
    "read",
    "read_choice",
    "read_number",
    "read_quantity",
    "read_several",
    "read_value",
    "say_choices",
    "say_number",
    "say_range",
    "scalar",
    "text",
    "unit_named",
    "units_of",
    "whole",
    "word",
    "yes_no",
]
