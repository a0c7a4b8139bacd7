"""A diagnosis: the rows of a callout run through the engine, and explained."""

from collections.abc import Mapping

from advisor.callout import Callout, Leak, resolve, without_each
from advisor.diagnosis.causes import (
    cause_beliefs,
    group_beliefs,
    settled_on,
    through_belief,
    water_beliefs,
)
from advisor.diagnosis.conflicts import conflicts
from advisor.diagnosis.looks import next_looks
from advisor.diagnosis.result import CauseBelief, Diagnosis
from advisor.diagnosis.rows import Facts, table_of, table_of_changes
from advisor.diagnosis.signs import Watch, contributors, other_side, stops
from advisor.knowledge import Knowledge


def diagnose(knowledge: Knowledge, callout: Callout, leak: Leak) -> Diagnosis:
    """What the findings of one wet place say. Pure: the callout stays as it is."""
    facts = resolve(callout, leak, knowledge.attributes)
    bare = without_each(callout, leak, knowledge.attributes)
    engine = knowledge.engine
    table = table_of(engine, [facts])
    run = engine.run(table)
    causes = cause_beliefs(knowledge, run, 0)
    groups = group_beliefs(knowledge, causes)
    settled = settled_on(knowledge, causes, groups)
    watch = Watch(knowledge, run, 0)
    return Diagnosis(
        settled=settled is not None,
        settled_on=settled,
        through=through_belief(knowledge, causes),
        waters=water_beliefs(knowledge, causes),
        other_side=other_side(knowledge, watch),
        groups=groups,
        causes=causes,
        contributors=contributors(knowledge, watch),
        conflicts=conflicts(knowledge, run, 0, facts),
        hangs_on=hangs_on(knowledge, facts, bare),
        unexplained=_unexplained(knowledge, causes[0]),
        next=next_looks(knowledge, table, run, watch),
        stops=stops(knowledge, watch, _after_earlier_visits(knowledge, callout, leak)),
    )


def _after_earlier_visits(knowledge: Knowledge, callout: Callout, leak: Leak) -> list[Watch]:
    """What was known after each visit but the last."""
    days = sorted({visit.day for visit in callout.visits})[:-1]
    rows = []
    for day in days:
        then = callout.as_of(day)
        place = then.leak(leak.key)
        assert place is not None
        rows.append(resolve(then, place, knowledge.attributes))
    run = knowledge.engine.run(table_of(knowledge.engine, rows)) if rows else None
    return [] if run is None else [Watch(knowledge, run, row) for row in range(len(rows))]


def hangs_on(knowledge: Knowledge, facts: Facts, bare: Mapping[str, Facts]) -> tuple[str, ...]:
    """Findings without which the leader changes or falls under two thirds, worst first.

    bare: for each finding, what is known without it. The kind of structure is required,
    so it is not taken as unknown.
    """
    engine = knowledge.engine
    tried = [key for key in bare if bare[key] != facts and key != knowledge.model.base_by]
    beliefs = engine.run(table_of_changes(engine, facts, [bare[key] for key in tried])).beliefs
    leader = int(beliefs[0].argmax())
    falls = {
        key: beliefs[row, leader] / beliefs[0, leader]
        for row, key in enumerate(tried, 1)
        if int(beliefs[row].argmax()) != leader
        or beliefs[row, leader] < knowledge.weights.hangs_on * beliefs[0, leader]
    }
    return tuple(sorted(falls, key=lambda key: (falls[key], key)))


def _unexplained(knowledge: Knowledge, leader: CauseBelief) -> tuple[str, ...]:
    """What was read and is met a third as often, or less, with the leader as at large."""
    return tuple(
        line.attribute
        for line in leader.against
        if line.times <= knowledge.weights.unexplained + 1e-9
    )
