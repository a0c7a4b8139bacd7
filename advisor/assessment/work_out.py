"""A subject worked out by hand: findings in, numbers and one line of what they mean out."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import isnan, nextafter

import numpy as np

from advisor.callout import Resolved
from advisor.diagnosis import Place, check_words, failing, likely, meaning, place_of, said, unheld
from advisor.engine import trace
from advisor.knowledge import Knowledge, Sum, either
from advisor.terms import Faults, Faulty, Problem, Scalar, nearest, read_value
from advisor.terms.node import Place as Written


@dataclass(frozen=True, kw_only=True)
class SumResult:
    """One number. likely: with the middle of each input; null each where it is not known."""

    what: str
    low: float | None
    likely: float | None
    high: float | None
    unit: str


@dataclass(frozen=True, kw_only=True)
class WorkedOutSum:
    """valid: every formula holds for what was given; else `remarks` say why not."""

    subject: str
    inputs: Mapping[str, str]
    results: tuple[SumResult, ...]
    verdict: str
    formula: str
    source: str
    valid: bool
    remarks: tuple[str, ...]


Given = Mapping[str, str]
"""What is known, by attribute, as written: `{"crack-width": "0.2 mm"}`."""


def read_given(knowledge: Knowledge, given: Given) -> dict[str, Resolved]:
    """What is given, as facts of a row. Raises Faulty with every fault of it."""
    faults, facts = Faults(), {}
    for key, written in given.items():
        node = Scalar(written, quoted=True, cut=False, place=Written("", 0, 0))
        attribute = knowledge.attributes.get(key)
        if attribute is None or attribute.kind in ("several", "date", "text"):
            faults.add(_no_input(knowledge, key))
            continue
        try:
            facts[key] = Resolved(value=read_value(node, attribute))
        except Faulty as faulty:  # it was written on a command line: there is no place to tell
            faults.add(*(replace(p, line=None, column=None) for p in faulty.problems))
    faults.stop()
    return facts


def missing(knowledge: Knowledge, subject: Sum, given: Given) -> tuple[str, ...]:
    """What must still be known for the subject. Raises Faulty as `read_given`."""
    place = place_of(knowledge, read_given(knowledge, given))
    return tuple(key for key in subject.asks if not place.is_known(key))


def work_out(knowledge: Knowledge, subject: Sum, given: Given) -> WorkedOutSum:
    """Raises Faulty where something is missing, cannot be read, or cannot be so."""
    place = place_of(knowledge, read_given(knowledge, given))
    lacking = [key for key in subject.asks if not place.is_known(key)]
    if lacking:
        raise Faulty(_lacks(knowledge, subject, key) for key in lacking)
    if impossible := list(_impossible(place, subject)):
        raise Faulty(impossible)
    told = [key for key in subject.gives if key in place.ways or place.is_known(key)]
    numbers = [key for key in told if knowledge.attributes[key].kind == "number"]
    attributes = [knowledge.attributes[key] for key in numbers]
    sources = dict.fromkeys([*(k for a in attributes for k in a.source), *subject.why.source])
    return WorkedOutSum(
        subject=subject.key,
        inputs=dict(given),
        results=tuple(_result(place, key) for key in numbers),
        verdict=_verdict(place, _answering(place, subject)),
        formula="; ".join(f"{a.label}: {a.formula}" for a in attributes if a.formula),
        source="; ".join(knowledge.sources[key].title for key in sources),
        valid=not any(unheld(place, place.ways[key]) for key in _chain(place, subject.gives)),
        remarks=tuple(dict.fromkeys(_remarks(place, subject, told))),
    )


def _no_input(knowledge: Knowledge, key: str) -> Problem:
    return Problem(
        message=f'"{key}" is nothing that can be given here',
        expected="ATTRIBUTE=VALUE, with an attribute that `advisor knowledge list` shows",
        nearest=nearest(key, knowledge.attributes),
    )


def _lacks(knowledge: Knowledge, subject: Sum, key: str) -> Problem:
    example = subject.example.get(key) or f"… {knowledge.attributes[key].unit or ''}".strip()
    ways = [" and ".join(w.inputs) for w in knowledge.worked_out if w.attribute == key]
    other = f", or {' or '.join(dict.fromkeys(ways))}" if ways else ""
    return Problem(
        message=f"{subject.key} needs the {knowledge.attributes[key].label}",
        key=key,
        expected=f"{key}='{example}'{other}",
    )


def _impossible(place: Place, subject: Sum) -> Iterator[Problem]:
    for key in _chain(place, subject.gives):
        checks = failing(place, place.ways[key])
        for message in check_words(place.knowledge, checks, "impossible"):
            yield Problem(message=message, key=", ".join(place.ways[key].inputs))


def _chain(place: Place, keys: tuple[str, ...]) -> list[str]:
    """The numbers that were worked out for these, and for what they rest on."""
    found: dict[str, None] = {}
    waiting = list(keys)
    while waiting:
        key = waiting.pop(0)
        if key in place.ways and key not in found:
            found[key] = None
            waiting += place.ways[key].inputs
    return list(found)


def _result(place: Place, key: str) -> SumResult:
    unit = place.knowledge.attributes[key].unit or ""
    if not place.is_known(key):
        return SumResult(what=key, low=None, likely=None, high=None, unit=unit)
    ends, middle = place.range(key), likely(place, key)
    high = nextafter(ends.hi, -np.inf)
    return SumResult(
        what=key, low=ends.lo, likely=None if isnan(middle) else middle, high=high, unit=unit
    )


def _struck(place: Place, told: list[str]) -> Iterator[str]:
    """Of several choices those that cannot be there, and by which findings."""
    knowledge = place.knowledge
    several = [key for key in told if knowledge.attributes[key].kind == "several"]
    if not several:
        return
    for step in trace(knowledge.engine, place.run, place.row).deductions:
        base, _, part = step.deduction.variable.partition(".")
        if base in several and step.state == "true" and "yes" in step.deduction.strikes:
            label = next(c.label for c in knowledge.attributes[base].choices if c.key == part)
            by = [t.test.variable for t in step.tests if t.state == "false"]
            findings = ", ".join(knowledge.attributes[key].label for key in by)
            yield knowledge.say("sum-cannot-be", what=label, findings=findings)


def _answering(place: Place, subject: Sum) -> str:
    """Of what may answer the subject, the first that something is known of."""
    return next((key for key in subject.verdict if place.is_known(key)), subject.verdict[0])


def _verdict(place: Place, key: str) -> str:
    """What the answer means; that it cannot be judged where nothing follows."""
    knowledge, attribute = place.knowledge, place.knowledge.attributes[key]
    if not place.is_known(key):
        return knowledge.say("sum-cannot-be-judged", what=attribute.label)
    if attribute.kind == "number":
        means = meaning(attribute, place.range(key))
        number = said(place, key)
        return means or knowledge.say("sum-is", what=attribute.label, number=number)
    labels = {choice.key: choice.label for choice in attribute.choices}
    left = [labels[c] for c in place.choices(key)]
    words = ", ".join(left) if attribute.kind == "several" else either(knowledge, left)
    words = words or knowledge.say("none")
    return knowledge.say("sum-is", what=attribute.label, number=words)


def _remarks(place: Place, subject: Sum, told: list[str]) -> Iterator[str]:
    """What was taken for granted, where formulas are weak, and what else the numbers say."""
    knowledge = place.knowledge
    for key in _chain(place, subject.gives):
        way = place.ways[key]
        yield from unheld(place, way)
        yield from check_words(knowledge, failing(place, way), "doubtful")
        for taken in way.assumed:
            if not place.is_known(taken):
                label = knowledge.attributes[taken].label
                number = said(place, taken, way.assumed[taken])
                yield knowledge.say("sum-assumed", what=label, number=number)
    helpful = [key for key in subject.helps if not place.is_known(key)]
    if helpful and not place.is_known(_answering(place, subject)):
        yield knowledge.say("sum-give-also", attributes=", ".join(helpful))
    yield from _struck(place, told)
    for key in told:
        if key != _answering(place, subject) and place.is_known(key):
            attribute = knowledge.attributes[key]
            if attribute.kind != "number":
                yield _verdict(place, key)
            elif means := meaning(attribute, place.range(key)):
                yield knowledge.say("sum-is", what=attribute.label, number=means)
