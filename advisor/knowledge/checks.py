"""What the compiled model shows: faults that stop, remarks that do not."""

from collections.abc import Iterator

from advisor.engine import (
    Condition,
    Model,
    can_be_true,
    dependencies,
    find_cycle,
    second_paths,
    separations,
    variables_of,
)
from advisor.knowledge.entries import NOT_IN_THIS_LIST
from advisor.knowledge.folder import Entry, Sections
from advisor.terms import Problem, problem_at

WEAK_DECIBELS = 10.0
"""Pairs of causes that all families together separate by less are named."""

MOST_AGAIN = 8
"""Families that read an attribute again; more would count one finding too often."""


def find_faults(model: Model, sections: Sections) -> list[Problem]:
    """Cycles, second paths, conditions that can never be true: in the order of the files."""
    cycle = find_cycle(dependencies(model))
    if cycle:
        entry = _of_variable(sections, cycle[0])
        text = f"an attribute may not depend on itself: {' -> '.join(cycle)}"
        return [problem_at(entry.place, text, key=entry.key)]
    return [*_paths(model, sections), *_never_true(model, sections)]


def _of_variable(sections: Sections, variable: str) -> Entry:
    return sections["attributes"][variable.partition(".")[0]]


def _paths(model: Model, sections: Sections) -> Iterator[Problem]:
    for path in second_paths(model):
        for key in path.reaches[1:]:
            entry = sections["families"].get(key) or sections["needs"][key]
            yield problem_at(
                entry.place,
                f"{path.origin} reaches evidence already through {path.reaches[0]}",
                key=key,
                expected="again: the reason why it counts twice",
            )
    again = [f.key for f in model.families if f.again is not None]
    for key in again[MOST_AGAIN:]:
        place = sections["families"][key].place
        yield problem_at(place, f"more than {MOST_AGAIN} families say again", key=key)


def _never_true(model: Model, sections: Sections) -> Iterator[Problem]:
    variables = {v.key: v for v in model.variables}
    for section, key, condition in _conditions(model):
        if condition is not None and not can_be_true(condition, variables):
            entry = sections[section].get(key)
            message = "this condition can never be true"
            yield (
                problem_at(entry.place, message, key=key)
                if entry
                else Problem(message=message, key=key)
            )


def _conditions(model: Model) -> Iterator[tuple[str, str, Condition | None]]:
    for d in model.deductions:
        yield "deductions", d.key.partition("/")[0], d.when
    for f in model.families:
        yield "families", f.key, f.given
    for n in model.needs:
        yield "needs", n.key, n.when
    for v in model.variables:
        yield "attributes", v.key, v.applies
        yield "attributes", v.key, v.unsure_when
    for key, condition in model.watched.items():
        part, _, name = key.partition(" ")
        section = {"shown": "contributors", "possible": "contributors", "open": "stops"}
        yield section.get(part, part), name, condition


def find_remarks(model: Model, sections: Sections) -> list[Problem]:
    """Unused deductions, every `again`, causes no family speaks for, pairs hardly told apart."""
    return [
        *_unused(model, sections),
        *(
            problem_at(sections["families"][f.key].place, f"reads again: {f.again}", key=f.key)
            for f in model.families
            if f.again is not None
        ),
        *_unspoken(model, sections),
        *(
            problem_at(
                sections["causes"][pair.one].place,
                f"only {pair.decibels:.1f} dB apart from {pair.other}",
                key=pair.one,
                expected=f"at least {WEAK_DECIBELS:g} dB",
            )
            for pair in separations(model)
            if pair.decibels < WEAK_DECIBELS
        ),
    ]


def _unused(model: Model, sections: Sections) -> Iterator[Problem]:
    """Deductions on a variable that nothing reads."""
    read = {f.variable for f in model.families}
    for _, _, condition in _conditions(model):
        read |= variables_of(condition)
    read |= {i for w in model.worked_out for i in w.inputs}
    for d in model.deductions:
        if d.variable not in read:
            key = d.key.partition("/")[0]
            place = sections["deductions"][key].place
            yield problem_at(place, f"nothing reads {d.variable}", key=key)


def _unspoken(model: Model, sections: Sections) -> Iterator[Problem]:
    """Causes whose every reading is met as often with any other."""
    for i, hypothesis in enumerate(model.hypotheses):
        spoken = any((f.likelihood[:, i] > f.shares * (1 + 1e-9)).any() for f in model.families)
        if not spoken and hypothesis.key != NOT_IN_THIS_LIST:
            place = sections["causes"][hypothesis.key].place
            yield problem_at(place, "no family speaks for this cause", key=hypothesis.key)
