"""Causes with what speaks for and against each, and their sums: through, water, group."""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from typing import Literal

import numpy as np

from advisor.diagnosis.result import (
    CauseBelief,
    Evidence,
    GroupBelief,
    NeedFactor,
    Through,
    WaterBelief,
)
from advisor.engine import Run
from advisor.engine.model import Floats
from advisor.knowledge import NOT_IN_THIS_LIST, FamilyEntry, Knowledge, choice_words, either


def cause_beliefs(knowledge: Knowledge, run: Run, row: int) -> tuple[CauseBelief, ...]:
    """All causes, most believed first, ties by key."""
    calculus = knowledge.engine.calculus
    state = run.state.row(row)
    times = calculus.family_times(state)[:, 0, :]
    lines = [
        _evidence(knowledge, entry, int(state.readings.possible[i, 0]), bool(sure))
        for i, (entry, sure) in enumerate(
            zip(knowledge.families.values(), state.readings.sure[:, 0], strict=True)
        )
    ]
    base = calculus.base(state)[0]
    book = _book(knowledge, base, int(state.base[0]))
    factors = calculus.need_factors(state)[:, 0]
    beliefs = run.beliefs[row]
    found = []
    for i, cause in enumerate(knowledge.causes.values()):
        needs = _need_factors(knowledge, cause.needs, factors)
        said = [
            replace(line, times=float(t))
            for line, t in zip(lines, times[:, i], strict=True)
            if t != 1
        ]
        found.append(
            CauseBelief(
                cause=cause.key,
                group=cause.group,
                water=cause.water,
                confidence=float(beliefs[i]),
                base_rate=float(base[i]),
                book=float(book[i]),
                ruled_out=_ruled_out(float(base[i]), needs, knowledge),
                needs=needs,
                for_=_strongest(line for line in said if line.times > 1),
                against=_strongest(line for line in said if line.times < 1),
            )
        )
    return tuple(sorted(found, key=lambda c: (-c.confidence, c.cause)))


def _book(knowledge: Knowledge, base: Floats, kinds: int) -> Floats:
    """(causes,): the share of each base rate that is the book's. kinds: what it can be, a mask."""
    if knowledge.history is None:
        return np.ones_like(base)
    rates = knowledge.history.book_rates
    possible = [kind for kind in range(len(rates)) if kinds >> kind & 1]
    with np.errstate(invalid="ignore"):
        return np.where(base > 0, np.minimum(rates[possible].mean(axis=0) / base, 1.0), 1.0)


def _strongest(lines: Iterable[Evidence]) -> tuple[Evidence, ...]:
    return tuple(sorted(lines, key=lambda e: (-abs(float(np.log(e.times))), e.attribute)))


def _evidence(knowledge: Knowledge, entry: FamilyEntry, possible: int, sure: bool) -> Evidence:
    """The line of a family, its factor still to be filled in."""
    family = entry.family
    left = [r for i, r in enumerate(family.readings) if possible >> i & 1]
    said = either(knowledge, [choice_words(knowledge, family.variable, r) for r in left])
    text = f"{entry.label}: {said}"
    return Evidence(
        attribute=family.variable,
        reading=" or ".join(left),
        times=1.0,
        text=text if sure else knowledge.say("finding-unsure", finding=text),
    )


def _need_factors(
    knowledge: Knowledge,
    needs: Iterable[str],
    factors: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
) -> tuple[NeedFactor, ...]:
    place = _need_places(knowledge)
    found = []
    for key in needs:
        times = float(factors[place[key]])
        if times == 1:
            continue
        here = "need-here" if times > 1 else "need-not-here" if times == 0 else "need-perhaps-not"
        text = knowledge.say(here, need=knowledge.needs[key].label)
        found.append(NeedFactor(need=key, times=times, text=text))
    return tuple(found)


@lru_cache(maxsize=4)
def _need_places(knowledge: Knowledge) -> dict[str, int]:
    return {key: i for i, key in enumerate(knowledge.needs)}


def _ruled_out(base: float, needs: Iterable[NeedFactor], knowledge: Knowledge) -> str | None:
    if base == 0:
        return knowledge.say("not-in-this-kind")
    reasons = [f"{n.text}. {knowledge.needs[n.need].why.because}" for n in needs if n.times == 0]
    return " ".join(reasons) or None


def through_belief(knowledge: Knowledge, causes: Iterable[CauseBelief]) -> Through:
    """Through the concrete or not, as sums over the causes."""
    sums = {"yes": 0.0, "no": 0.0, "unlisted": 0.0}
    for cause in causes:
        sums[knowledge.groups[cause.group].through] += cause.confidence
    return Through(**sums)


def water_beliefs(knowledge: Knowledge, causes: Iterable[CauseBelief]) -> tuple[WaterBelief, ...]:
    """Every water that some cause names."""
    sums = dict.fromkeys((c.water for c in knowledge.causes.values()), 0.0)
    for cause in causes:
        sums[cause.water] += cause.confidence
    ordered = sorted(sums.items(), key=lambda item: (-item[1], item[0]))
    return tuple(WaterBelief(water=key, confidence=value) for key, value in ordered)


def group_beliefs(knowledge: Knowledge, causes: Iterable[CauseBelief]) -> tuple[GroupBelief, ...]:
    """Every group that some cause belongs to."""
    sums = dict.fromkeys((c.group for c in knowledge.causes.values()), 0.0)
    for cause in causes:
        sums[cause.group] += cause.confidence
    ordered = sorted(sums.items(), key=lambda item: (-item[1], item[0]))
    return tuple(GroupBelief(group=key, confidence=value) for key, value in ordered)


def settled_on(
    knowledge: Knowledge, causes: tuple[CauseBelief, ...], groups: tuple[GroupBelief, ...]
) -> Literal["cause", "group"] | None:
    """`cause`, `group`, or None: clear enough to act on, not confirmed."""
    weights, leader = knowledge.weights, causes[0]
    following = causes[1].confidence if len(causes) > 1 else 0.0
    if (
        leader.cause != NOT_IN_THIS_LIST
        and leader.confidence >= weights.settled_cause
        and leader.confidence >= weights.settled_times_next * following
    ):
        return "cause"
    unlisted = knowledge.causes[NOT_IN_THIS_LIST].group
    if groups[0].group != unlisted and groups[0].confidence >= weights.settled_group:
        return "group"
    return None
