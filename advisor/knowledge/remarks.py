"""What is odd in the knowledge but stops nothing."""

from collections.abc import Iterable, Iterator

from advisor.engine import Condition, Model, separations, variables_of
from advisor.knowledge.checks import conditions_of, deduction_entry, entry_of
from advisor.knowledge.entries import NOT_IN_THIS_LIST
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.parts import items
from advisor.terms import Problem, Scalar, problem_at

WEAK_DECIBELS = 10.0
"""Pairs of causes that all families together separate by less are named."""


def find_remarks(
    model: Model, sections: Sections, asked: Iterable[Condition] = ()
) -> list[Problem]:
    """Unused deductions, each `again`, causes no family speaks for, what no look answers, twins.

    asked: conditions that are asked beside those of the model.
    """
    return [
        *_unused(model, sections, asked),
        *_again(model, sections),
        *_unspoken(model, sections),
        *_unanswered(model, sections),
        *_near_twins(model, sections),
    ]


def _unused(model: Model, sections: Sections, asked: Iterable[Condition]) -> Iterator[Problem]:
    """Deductions on a variable that nothing reads and no sum gives."""
    read = {f.variable for f in model.families}
    for condition in (*(c for _, _, c in conditions_of(model)), *asked):
        read |= variables_of(condition)
    read |= {i for w in model.worked_out for i in w.inputs}
    told = {key for entry in sections["sums"].values() for key in _listed(entry, "gives")}
    for d in model.deductions:
        if d.variable not in read and d.variable.partition(".")[0] not in told:
            place = deduction_entry(sections, d.key).place
            yield problem_at(place, f"nothing reads {d.variable}", key=entry_of(d.key))


def _again(model: Model, sections: Sections) -> Iterator[Problem]:
    for section, found in (("families", model.families), ("needs", model.needs)):
        for entry in found:
            if entry.again is not None:
                place = sections[section][entry.key].place
                yield problem_at(place, f"reads again: {entry.again}", key=entry.key)


def _unspoken(model: Model, sections: Sections) -> Iterator[Problem]:
    """Causes of which no reading is met more often than with others."""
    for i, hypothesis in enumerate(model.hypotheses):
        spoken = any((f.likelihood[:, i] > f.shares * (1 + 1e-9)).any() for f in model.families)
        if not spoken and hypothesis.key != NOT_IN_THIS_LIST:
            place = sections["causes"][hypothesis.key].place
            yield problem_at(place, "no family speaks for this cause", key=hypothesis.key)


def _unanswered(model: Model, sections: Sections) -> Iterator[Problem]:
    """Attributes that decide something and are observed, but that no look answers."""
    answered = {key for look in sections["looks"].values() for key in _listed(look, "attributes")}
    deciding = {f.variable for f in model.families} | {
        variable for need in model.needs for variable in variables_of(need.when)
    }
    for key in dict.fromkeys(variable.partition(".")[0] for variable in sorted(deciding)):
        entry = sections["attributes"][key]
        settled = "worked-out" in _listed(entry, "who") or any(map(entry.get, _SETTLED_BY))
        if key not in answered and not settled and key != model.base_by:
            yield problem_at(entry.place, "it decides something, but no look answers it", key=key)


_SETTLED_BY = ("from-dates", "over-places", "worked-out")
"""What an attribute is worked out from, so that nobody has to look."""


def _listed(entry: Entry, name: str) -> set[str]:
    """The words of a list, or the one that stands there alone."""
    node = entry.get(name)
    return {part.text for part in items(node, name) if isinstance(part, Scalar)} if node else set()


def _near_twins(model: Model, sections: Sections) -> Iterator[Problem]:
    for pair in separations(model):
        if pair.decibels < WEAK_DECIBELS:
            yield problem_at(
                sections["causes"][pair.one].place,
                f"only {pair.decibels:.1f} dB apart from {pair.other}",
                key=pair.one,
                expected=f"at least {WEAK_DECIBELS:g} dB",
            )
