"""The most telling open looks: expected bits x chance of an answer, a minute of work."""

from collections.abc import Iterable, Mapping
from functools import lru_cache
from itertools import accumulate
from math import prod

from advisor.diagnosis.result import NextLook
from advisor.diagnosis.signs import Watch
from advisor.diagnosis.whatif import (
    Value,
    Worth,
    outcomes,
    telling_variables,
    ways,
    worths,
    write_outcomes,
)
from advisor.engine import Run, Table
from advisor.knowledge import READINGS_OF, Knowledge, Look
from advisor.terms import Attribute

SHOWN = 3
NOTHING = 1e-6
"""Bits: a look that tells less is not offered."""

JOINTLY_JUDGED = 8
"""Looks whose answers are judged together; the others are too far behind to matter."""

MOST_OUTCOMES = 96
"""A look with more combined outcomes is judged by its most telling answers."""

Alternatives = Mapping[str, tuple[Value, ...]]


def next_looks(knowledge: Knowledge, table: Table, run: Run, watch: Watch) -> tuple[NextLook, ...]:
    """The three best looks for the first row of a run. What is known is not asked again."""
    looks = knowledge.looks
    open_ways = {
        v: found for v in _asked_for(knowledge) if (found := ways(knowledge.engine, run, 0, v))
    }
    open_looks = {
        look.key: yields
        for look in looks.values()
        if not watch.is_false(f"looks {look.key}")
        and (yields := _yields(knowledge, run, look, open_ways))
    }
    alone = _judge_each(knowledge, table, {v: {v: found} for v, found in open_ways.items()})

    def worth_a_minute(key: str, bits: float) -> tuple[float, str]:
        return -bits * looks[key].answers / looks[key].minutes, key

    best = sorted(
        open_looks, key=lambda k: worth_a_minute(k, sum(alone[v].bits for v in open_looks[k]))
    )[:JOINTLY_JUDGED]
    joint = _judge_each(knowledge, table, {key: _narrowed(open_looks[key], alone) for key in best})
    ranked = sorted(
        (key for key in best if joint[key].bits > NOTHING),
        key=lambda k: worth_a_minute(k, joint[k].bits),
    )
    return tuple(
        _next_look(knowledge, run, looks[key], joint[key], tuple(open_looks[key]))
        for key in ranked[:SHOWN]
    )


def _yields(
    knowledge: Knowledge, run: Run, look: Look, open_ways: Alternatives
) -> dict[str, tuple[Value, ...]]:
    """The open variables that the look settles and that tell something, with their ways."""
    return {v: open_ways[v] for v in _settled_by(knowledge, run, look) if v in open_ways}


@lru_cache(maxsize=4)
def _gives(knowledge: Knowledge) -> dict[str, tuple[str, ...]]:
    """For each attribute, the telling variables it gives: its own, and ages and facts over
    places that rest on it."""
    telling = telling_variables(knowledge.engine)
    found = {}
    for key, attribute in knowledge.attributes.items():
        own = (
            [f"{key}.{choice.key}" for choice in attribute.choices]
            if attribute.kind == "several"
            else [key]
        )
        own += [v.key for v in knowledge.model.variables if key in v.origins and v.key != key]
        found[key] = tuple(
            v for v in own if v in telling and v.partition(".")[2] not in READINGS_OF
        )
    return found


@lru_cache(maxsize=4)
def _asked_for(knowledge: Knowledge) -> tuple[str, ...]:
    """Every telling variable that some look can settle."""
    gives = _gives(knowledge)
    asked = [v for look in knowledge.looks.values() for key in look.attributes for v in gives[key]]
    telling = telling_variables(knowledge.engine)
    worked = [w.attribute for w in knowledge.worked_out if w.attribute in telling]
    return tuple(dict.fromkeys([*asked, *worked]))


def _settled_by(knowledge: Knowledge, run: Run, look: Look) -> Iterable[str]:
    """Variables that the look settles, with the numbers it completes."""
    gives = _gives(knowledge)
    yield from dict.fromkeys(v for key in look.attributes for v in gives[key])
    for worked in knowledge.worked_out:
        if set(look.attributes) & set(worked.inputs) and all(
            key in look.attributes or _known(knowledge, run, key) for key in worked.inputs
        ):
            yield worked.attribute


def _known(knowledge: Knowledge, run: Run, key: str) -> bool:
    layout = knowledge.engine.layout
    number = layout.number_row[key]
    values = run.settled.values
    return bool(
        values.lo[number, 0] > layout.lowest[number]
        or values.hi[number, 0] < layout.highest[number]
    )


def _narrowed(yields: Alternatives, alone: Mapping[str, Worth]) -> Alternatives:
    """The most telling answers whose combinations are not too many."""
    kept: dict[str, tuple[Value, ...]] = {}
    for key in sorted(yields, key=lambda v: (-alone[v].bits, v)):
        if prod(map(len, kept.values())) * len(yields[key]) <= MOST_OUTCOMES:
            kept[key] = yields[key]
    return kept


def _judge_each(
    knowledge: Knowledge, table: Table, each: Mapping[str, Alternatives]
) -> dict[str, Worth]:
    """What each set of alternatives is worth: one run for all."""
    engine = knowledge.engine
    found = [outcomes(alternatives) for alternatives in each.values()]
    ends = list(accumulate(map(len, found), initial=1))
    rows = table.repeated(ends[-1])
    for first, outcome in zip(ends, found, strict=False):
        write_outcomes(engine, rows, first, outcome)
    return dict(zip(each, worths(engine, engine.run(rows), ends[1:]), strict=True))


def _next_look(
    knowledge: Knowledge, run: Run, look: Look, worth: Worth, settles: tuple[str, ...]
) -> NextLook:
    still_open = [v.partition(".")[0] for v in settles]
    first = next((key for key in look.attributes if key in still_open), look.attributes[0])
    attribute = knowledge.attributes[first]
    return NextLook(
        look=look.key,
        attributes=look.attributes,
        question=attribute.question,
        answers=_answers(knowledge, run, attribute),
        minutes=look.minutes,
        wait_hours=look.wait_hours,
        bits=worth.bits * look.answers,
        changes_leader=worth.changes_leader,
    )


def _answers(knowledge: Knowledge, run: Run, attribute: Attribute) -> tuple[str, ...]:
    """What the first attribute can still be: choices, or the unit of a number."""
    layout = knowledge.engine.layout
    if attribute.key in layout.choice_row:
        mask = int(run.settled.values.masks[layout.choice_row[attribute.key], 0])
        return layout.choices(attribute.key, mask)
    if attribute.kind == "several":
        return tuple(choice.key for choice in attribute.choices)
    if attribute.kind == "number":
        return (knowledge.say("number-in", unit=attribute.unit),)
    return (knowledge.say("a-date"),)
