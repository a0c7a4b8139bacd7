"""Faults of a record without what stands in it: for screens and logs that others read.

Everywhere else a fault quotes what was written. Where records are scrubbed it may be a name.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from advisor.callout.leak_reader import LEAK_KEYS
from advisor.callout.log_reader import ANSWER, CHOICES, KINDS, PROPOSED, SHARED
from advisor.callout.log_values import PACKER
from advisor.callout.reader import KEYS
from advisor.callout.reading_reader import FULL_FORM
from advisor.callout.release_reader import RELEASE_KEYS
from advisor.callout.unspoken import unspoken
from advisor.knowledge import Knowledge
from advisor.terms import Problem

_NAMES: Final = ("leak", "same-water")
"""Keys whose other names are told as what was expected."""


def discreet(knowledge: Knowledge, problems: Iterable[Problem]) -> list[Problem]:
    """The problems with their places; of words only those of the form and the knowledge."""
    known = frozenset(_known(knowledge))
    return [_discreet(problem, known) for problem in problems]


def _discreet(problem: Problem, known: frozenset[str]) -> Problem:
    if problem.line is None:  # of the file as a whole: nothing that stands in it
        return problem
    told = unspoken(problem)
    return replace(
        told,
        key=problem.key if problem.key in known else None,
        expected=None if problem.key in _NAMES else told.expected,
        nearest=problem.nearest if problem.nearest in known else None,
    )


def _known(knowledge: Knowledge) -> Iterator[str]:
    yield from (*KEYS, *LEAK_KEYS, *RELEASE_KEYS, *SHARED, *ANSWER, *PACKER, *FULL_FORM)
    yield from (*KINDS, PROPOSED, *CHOICES)
    for kind in KINDS.values():
        yield from kind.others
    for words in CHOICES.values():
        yield from words
    for part in (
        *(knowledge.attributes, knowledge.causes, knowledge.methods, knowledge.looks),
        *(knowledge.stops, knowledge.proofs, knowledge.quantities, knowledge.materials),
        knowledge.contributors,
    ):
        yield from part
    for attribute in knowledge.attributes.values():
        yield from (choice.key for choice in attribute.choices)
