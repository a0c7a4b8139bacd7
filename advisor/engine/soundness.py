"""What makes a model unsound or weak: second paths, conditions that cannot be true, near twins."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from math import inf, log

import numpy as np

from advisor.engine.model import (
    All,
    Condition,
    Floats,
    Interval,
    Model,
    Not,
    Test,
    Variable,
    variables_of,
)
from advisor.engine.order import dependencies

MOST_BOXES = 2000
"""A condition with more alternatives than this is not searched to the end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paths:
    """One observed thing and the families and needs it reaches that do not say `again`."""

    origin: str
    reaches: tuple[str, ...]


def second_paths(model: Model) -> tuple[Paths, ...]:
    """Observed things that reach evidence by more than one path without `again`."""
    upstream = dependencies(model, evidence_only=True)
    origins = {v.key: v.origins or (v.key,) for v in model.variables}
    named = {need for h in model.hypotheses for need in h.needs}
    reached: dict[str, list[str]] = {}
    entries: list[tuple[str, frozenset[str], str | None]] = [
        (f.key, frozenset([f.variable]), f.again) for f in model.families
    ]
    entries += [(n.key, variables_of(n.when), n.again) for n in model.needs if n.key in named]
    for key, read, again in entries:
        if again is None:
            for thing in sorted({o for v in all_upstream(read, upstream) for o in origins[v]}):
                reached.setdefault(thing, []).append(key)
    return tuple(
        Paths(origin=thing, reaches=tuple(keys)) for thing, keys in reached.items() if len(keys) > 1
    )


def all_upstream(start: Collection[str], upstream: Mapping[str, set[str]]) -> set[str]:
    """The variables of `start` and everything they are settled from, however long the way."""
    found, waiting = set(start), list(start)
    while waiting:
        for following in upstream[waiting.pop()]:
            if following not in found:
                found.add(following)
                waiting.append(following)
    return found


def can_be_true(condition: Condition, variables: Mapping[str, Variable]) -> bool:
    """Whether some values pass, test by test; a test on what does not apply is false.

    Only what the condition itself says is looked at, not the deductions of others.
    """
    return next(_boxes(condition, variables), None) is not None


_Allowed = frozenset[str] | Interval
_Box = Mapping[str, _Allowed]


def _boxes(condition: Condition, variables: Mapping[str, Variable]) -> Iterator[_Box]:
    """Alternatives under which a condition holds: per variable, what is still allowed."""
    waiting: list[tuple[_Box, tuple[tuple[Condition, bool], ...]]] = [({}, ((condition, True),))]
    for _ in range(MOST_BOXES):
        if not waiting:
            return
        box, todo = waiting.pop()
        if not todo:
            yield box
            continue
        (part, wanted), rest = todo[0], todo[1:]
        if isinstance(part, Not):
            waiting.append((box, ((part.of, not wanted), *rest)))
        elif isinstance(part, Test):
            applies = variables[part.variable].applies
            if applies is not None and wanted:
                rest = ((applies, True), *rest)
            elif applies is not None:
                waiting.append((box, ((applies, False), *rest)))
            narrower = _narrowed(box, part, wanted, variables)
            waiting += [(inside, rest) for inside in narrower if inside]
        elif isinstance(part, All) == wanted:
            waiting.append((box, (*((p, wanted) for p in part.of), *rest)))
        else:
            waiting += [(box, ((p, wanted), *rest)) for p in part.of]
    yield {}  # too many to search: taken as possible


def _narrowed(
    box: _Box, test: Test, wanted: bool, variables: Mapping[str, Variable]
) -> Iterator[_Box | None]:
    """The box with one more test taken as passed or failed; None where nothing is left."""
    variable = variables[test.variable]
    if isinstance(test.passing, frozenset):
        every = frozenset(variable.choices)
        before = box.get(test.variable, every)
        assert isinstance(before, frozenset)
        left = before & (test.passing if wanted else every - test.passing)
        yield {**box, test.variable: left} if left else None
        return
    low, high = test.passing
    for a, b in [(low, high)] if wanted else [(-inf, low), (high, inf)]:
        interval = box.get(test.variable, (variable.lowest, variable.highest))
        assert not isinstance(interval, frozenset)
        narrower = (max(a, interval[0]), min(b, interval[1]))
        yield {**box, test.variable: narrower} if narrower[0] < narrower[1] else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Twins:
    """Two hypotheses that the families hardly tell apart, and by how many decibels."""

    one: str
    other: str
    decibels: float


def separations(model: Model) -> tuple[Twins, ...]:
    """All pairs, weakest first: 10 / ln 10 x the smaller Kullback-Leibler sum over all families.

    Slips of sure findings on, every `given` taken as true.
    """
    total = np.zeros((len(model.hypotheses), len(model.hypotheses)))
    for family in model.families:
        total += _divergence(
            model.right_sure * family.likelihood + (1 - model.right_sure) * family.shares[:, None]
        )
    decibels = 10 / log(10) * np.minimum(total, total.T)
    pairs = [
        Twins(one=a.key, other=b.key, decibels=float(decibels[i, j]))
        for (i, a), (j, b) in combinations(enumerate(model.hypotheses), 2)
        if b.key not in a.within and a.key not in b.within
    ]
    return tuple(sorted(pairs, key=lambda pair: (pair.decibels, pair.one, pair.other)))


def _divergence(p: Floats) -> Floats:
    """(hypotheses, hypotheses): sum over readings of P log(P / Q). p: (readings, hypotheses)."""
    logs = np.log(p)
    own = (p * logs).sum(axis=0)
    divergence: Floats = own[:, None] - p.T @ logs
    return divergence
