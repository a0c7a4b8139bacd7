"""Faults of the knowledge as a whole: cycles, second paths, conditions never true."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise

from advisor.engine import (
    All,
    Condition,
    Model,
    can_be_true,
    dependencies,
    find_cycle,
    second_paths,
    variables_of,
)
from advisor.engine.soundness import all_upstream
from advisor.knowledge.folder import Entry, Sections
from advisor.terms import Problem, problem_at

MOST_AGAIN = 8
"""Families that read an attribute again; more would count one finding too often."""


def find_faults(model: Model, sections: Sections) -> list[Problem]:
    """All of them; what lies on a cycle is left out of the other two searches."""
    cycles = find_cycles(model)
    rest = _cut_open(model, cycles)
    return [
        *(_cycle_fault(cycle, model, sections) for cycle in cycles),
        *_paths(rest, sections),
        *_too_often_again(model, sections),
        *_never_true(rest, sections),
        *_rarer_than_its_need(model, sections),
    ]


def find_cycles(model: Model) -> list[tuple[str, ...]]:
    """Cycles that share no variable: one mistake makes one of them, however many pass it."""
    needs, found = dependencies(model), []
    while cycle := find_cycle(needs):
        found.append(cycle)
        needs = {key: needed - set(cycle) for key, needed in needs.items() if key not in cycle}
    return found


def _cut_open(model: Model, cycles: list[tuple[str, ...]]) -> Model:
    """The model without what settles the variables of cycles."""
    on_one = {key for cycle in cycles for key in cycle}
    return replace(
        model,
        variables=tuple(
            replace(v, applies=None, unsure_when=None) if v.key in on_one else v
            for v in model.variables
        ),
        deductions=tuple(d for d in model.deductions if d.variable not in on_one),
        worked_out=tuple(w for w in model.worked_out if w.variable not in on_one),
    )


def _cycle_fault(cycle: tuple[str, ...], model: Model, sections: Sections) -> Problem:
    """Told at the deduction that stands last, else at the attribute where the path begins."""
    steps = set(pairwise(cycle))
    deductions = [
        deduction_entry(sections, d.key)
        for d in model.deductions
        if any((d.variable, read) in steps for read in variables_of(d.when))
    ]
    by = dict.fromkeys(entry.key for entry in deductions)
    through = f", through {', '.join(by)}" if by else ""
    entry = deductions[-1] if deductions else _attribute(sections, cycle[0])
    text = f"an attribute may not depend on itself: {' -> '.join(cycle)}{through}"
    return problem_at(entry.place, text, key=entry.key)


def entry_of(key: str) -> str:
    """The entry of a deduction: one that deduces several things is several to the engine."""
    return key.partition("/")[0]


def deduction_entry(sections: Sections, key: str) -> Entry:
    """Where a deduction is written: by itself, or as a range."""
    return sections["deductions"].get(entry_of(key)) or sections["ranges"][entry_of(key)]


def _attribute(sections: Sections, variable: str) -> Entry:
    return sections["attributes"][variable.partition(".")[0]]


def _paths(model: Model, sections: Sections) -> Iterator[Problem]:
    """A fault for each family or need that is reached again, by however many attributes.

    Told at the last deduction on the two ways, else at the family or need.
    """
    again: dict[tuple[str, str], list[str]] = {}
    for path in second_paths(model):
        for key in path.reaches[1:]:
            again.setdefault((path.reaches[0], key), []).append(path.origin)
    for (first, second), origins in again.items():
        by = _deductions_between(model, origins, (first, second))
        through = f", by {', '.join(by)}" if by else ""
        entry = sections["families"].get(second) or sections["needs"][second]
        place = deduction_entry(sections, by[-1]).place if by else entry.place
        yield problem_at(
            place,
            f"evidence is reached twice by {', '.join(origins)}: "
            f"through {first} and through {second}{through}",
            key=by[-1] if by else second,
            expected=f"one way only, or in {second} again: REASON",
        )


def _deductions_between(model: Model, origins: list[str], ends: tuple[str, str]) -> list[str]:
    """The entries of deductions on a way from one of the origins to one of the ends."""
    upstream = dependencies(model, evidence_only=True)
    read = {f.key: {f.variable} for f in model.families}
    read |= {n.key: set(variables_of(n.when)) for n in model.needs}
    passed = all_upstream(read[ends[0]] | read[ends[1]], upstream)
    starts = {v.key for v in model.variables if set(v.origins or (v.key,)) & set(origins)}
    between = [
        entry_of(d.key)
        for d in model.deductions
        if d.variable in passed and starts & all_upstream(variables_of(d.when), upstream)
    ]
    return list(dict.fromkeys(between))


def _too_often_again(model: Model, sections: Sections) -> Iterator[Problem]:
    keys = [f.key for f in model.families if f.again is not None]
    for key in keys[MOST_AGAIN:]:
        place = sections["families"][key].place
        yield problem_at(place, f"more than {MOST_AGAIN} families say again", key=key)


def _never_true(model: Model, sections: Sections) -> Iterator[Problem]:
    variables = {v.key: v for v in model.variables}
    asked = dict.fromkeys(conditions_of(model))  # one attribute may be several variables
    for section, key, condition in asked:
        if not can_be_true(condition, variables):
            entry = (
                deduction_entry(sections, key)
                if section == "deductions"
                else sections[section][key]
            )
            yield problem_at(entry.place, "this condition can never be true", key=key)


def _rarer_than_its_need(model: Model, sections: Sections) -> Iterator[Problem]:
    """A cause cannot be met more often than what must be there for it."""
    shares = {need.key: need.share for need in model.needs}
    for h in model.hypotheses:
        by_kind = h.base if isinstance(h.base, Mapping) else {"every kind": h.base}
        for need in h.needs:
            kind, rate = max(by_kind.items(), key=lambda item: item[1])
            if rate > shares.get(need, 1.0):
                entry = sections["causes"][h.key]
                yield problem_at(
                    entry.node.get("base-rate") or entry.place,
                    f"{rate:g} of {kind} is above the share {shares[need]:g} of what it needs, "
                    f"{need}: more such leaks than structures that have it",
                    key=h.key,
                    expected=f"at most {shares[need]:g}, or a larger share in {need}",
                )


def conditions_of(model: Model) -> Iterator[tuple[str, str, Condition]]:
    """Every condition, with the section and the key of its entry."""
    applies = {v.key: v.applies for v in model.variables}
    for d in model.deductions:
        yield "deductions", entry_of(d.key), d.when
    for f in model.families:
        here = applies[f.variable]
        if f.given is not None:
            yield "families", f.key, f.given if here is None else All((f.given, here))
    for n in model.needs:
        yield "needs", n.key, n.when
    for v in model.variables:
        for condition in (v.applies, v.unsure_when):
            if condition is not None:
                yield "attributes", v.key.partition(".")[0], condition
    for key, condition in model.watched.items():
        part, _, name = key.partition(" ")
        yield _WATCHED.get(part, part), entry_of(name), condition


_WATCHED = {
    "shown": "contributors",
    "possible": "contributors",
    "open": "stops",
    "ways": "attributes",
}
"""Which section the conditions stand in that are asked beside the beliefs."""
