"""A diagnosis: the rows of a callout run through the engine, and explained."""

from collections.abc import Sequence

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
from advisor.diagnosis.releases import still_standing
from advisor.diagnosis.result import CauseBelief, Diagnosis, StopState
from advisor.diagnosis.rows import Facts, table_of_changes
from advisor.diagnosis.signs import Watch, contributors, other_side, stops
from advisor.diagnosis.sums import Place, worked_out
from advisor.engine.model import Floats
from advisor.knowledge import Knowledge


def diagnose(knowledge: Knowledge, callout: Callout, leak: Leak) -> Diagnosis:
    """What the findings of one wet place say. Pure: the callout stays as it is."""
    return examine(knowledge, callout, leak)[0]


def examine(knowledge: Knowledge, callout: Callout, leak: Leak) -> tuple[Diagnosis, Place]:
    """`diagnose`, and the row of what is known now, for who asks more of it.

    One run: row 0 is what is known now; then what was known after each earlier visit;
    then what is known without each finding in turn.
    """
    facts = resolve(callout, leak, knowledge.attributes)
    earlier = _after_earlier_visits(knowledge, callout, leak)
    bare = _without_each(knowledge, callout, leak, facts)
    table = table_of_changes(knowledge.engine, facts, [*earlier, *bare.values()])
    run = knowledge.engine.run(table)
    watch, *watches = (Watch(knowledge, run, row) for row in range(1 + len(earlier)))
    causes = cause_beliefs(knowledge, run, 0)
    groups = group_beliefs(knowledge, causes)
    settled = settled_on(knowledge, causes, groups)
    standing_stops, released = still_standing(
        stops(knowledge, watch, watches), watch, callout, leak
    )
    place = Place(knowledge=knowledge, run=run, row=0, facts=facts)
    diagnosis = Diagnosis(
        settled=settled is not None,
        settled_on=settled,
        through=through_belief(knowledge, causes),
        waters=water_beliefs(knowledge, causes),
        other_side=other_side(knowledge, watch),
        groups=groups,
        causes=causes,
        contributors=contributors(knowledge, watch),
        worked_out=worked_out(place),
        conflicts=conflicts(knowledge, run, 0, facts),
        hangs_on=hangs_on(knowledge, run.beliefs[0], run.beliefs[1 + len(earlier) :], tuple(bare)),
        unexplained=_unexplained(knowledge, causes[0]),
        next=next_looks(knowledge, table, run, watch),
        stops=standing_stops,
        releases=released,
    )
    return diagnosis, place


def stops_now(knowledge: Knowledge, callout: Callout, leak: Leak) -> tuple[StopState, ...]:
    """The stops that stand at a wet place, as `diagnose` finds them, in a twentieth of its time."""
    facts = resolve(callout, leak, knowledge.attributes)
    earlier = _after_earlier_visits(knowledge, callout, leak)
    run = knowledge.engine.run(table_of_changes(knowledge.engine, facts, earlier))
    watch, *watches = (Watch(knowledge, run, row) for row in range(1 + len(earlier)))
    return still_standing(stops(knowledge, watch, watches), watch, callout, leak)[0]


def _after_earlier_visits(knowledge: Knowledge, callout: Callout, leak: Leak) -> list[Facts]:
    """What was known after each visit but the last."""
    rows: list[Facts] = []
    for day in sorted({visit.day for visit in callout.visits})[:-1]:
        then = callout.as_of(day)
        place = then.leak(leak.key)
        assert place is not None
        rows.append(resolve(then, place, knowledge.attributes))
    return rows


def _without_each(
    knowledge: Knowledge, callout: Callout, leak: Leak, facts: Facts
) -> dict[str, Facts]:
    """What is known without each finding that is known; the kind of structure is required."""
    return {
        key: rest
        for key, rest in without_each(callout, leak, knowledge.attributes).items()
        if key != knowledge.model.base_by and rest != facts
    }


def hangs_on(
    knowledge: Knowledge, now: Floats, without: Floats, findings: Sequence[str]
) -> tuple[str, ...]:
    """Findings without which the leader changes or falls under two thirds, worst first.

    now: (hypotheses,) beliefs; without: (findings, hypotheses), without each finding.
    """
    leader = int(now.argmax())
    falls = {
        key: beliefs[leader] / now[leader]
        for key, beliefs in zip(findings, without, strict=True)
        if int(beliefs.argmax()) != leader
        or beliefs[leader] < knowledge.weights.hangs_on * now[leader]
    }
    return tuple(sorted(falls, key=lambda key: (falls[key], key)))


def _unexplained(knowledge: Knowledge, leader: CauseBelief) -> tuple[str, ...]:
    """What was read and is met a third as often, or less, with the leader as at large."""
    return tuple(
        line.attribute
        for line in leader.against
        if line.times <= knowledge.weights.unexplained + 1e-9
    )
