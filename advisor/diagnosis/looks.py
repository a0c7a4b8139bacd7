"""The most telling open looks: expected bits x chance of an answer, a minute of work."""

from collections.abc import Iterable, Mapping
from functools import lru_cache
from itertools import accumulate
from math import prod

from advisor.diagnosis.result import NextLook
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
JOINTLY_JUDGED = 8
"""Looks whose answers are judged together; the others are too far behind to matter."""

MOST_OUTCOMES = 96
"""A look with more combined outcomes is judged by its most telling answers."""

Alternatives = Mapping[str, tuple[Value, ...]]


def next_looks(knowledge: Knowledge, table: Table, run: Run) -> tuple[NextLook, ...]:
    """The three best looks for the first row of a run. Asks nothing twice."""
    open_looks = {
        look.key: yields
        for look in knowledge.looks.values()
        if _sensible(knowledge, run, look) and (yields := _yields(knowledge, run, look))
    }
    single = {v: w for yields in open_looks.values() for v, w in yields.items()}
    alone = _judge_each(knowledge, table, {v: {v: w} for v, w in single.items()})

    def rough(key: str) -> float:
        look = knowledge.looks[key]
        return sum(alone[v].bits for v in open_looks[key]) * look.answers / look.minutes

    best = sorted(open_looks, key=lambda key: (-rough(key), key))[:JOINTLY_JUDGED]
    joint = _judge_each(
        knowledge,
        table,
        {
            key: _narrowed(open_looks[key], {v: worth.bits for v, worth in alone.items()})
            for key in best
        },
    )
    ranked = sorted(
        (key for key in best if joint[key].bits > 1e-6),
        key=lambda key: (
            -joint[key].bits * knowledge.looks[key].answers / knowledge.looks[key].minutes,
            key,
        ),
    )
    return tuple(
        _next_look(knowledge, run, knowledge.looks[key], joint[key]) for key in ranked[:SHOWN]
    )


def _sensible(knowledge: Knowledge, run: Run, look: Look) -> bool:
    """Not when its condition is known false."""
    if look.only_when is None:
        return True
    place = list(knowledge.model.watched).index(f"looks {look.key}")
    return not run.watched.false[place, 0]


def _yields(knowledge: Knowledge, run: Run, look: Look) -> dict[str, tuple[Value, ...]]:
    """The open variables that the look settles and that tell something, with their ways."""
    engine = knowledge.engine
    found = {}
    for variable in _settled_by(knowledge, run, look):
        if alternatives := ways(engine, run, 0, variable):
            found[variable] = alternatives
    return found


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


def _settled_by(knowledge: Knowledge, run: Run, look: Look) -> Iterable[str]:
    """Variables that the look settles, with the numbers it completes."""
    given = _gives(knowledge)
    yield from dict.fromkeys(v for key in look.attributes for v in given[key])
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


def _narrowed(yields: Alternatives, bits: Mapping[str, float]) -> Alternatives:
    """The most telling answers whose combinations are not too many."""
    kept: dict[str, tuple[Value, ...]] = {}
    for key in sorted(yields, key=lambda v: (-bits[v], v)):
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


def _next_look(knowledge: Knowledge, run: Run, look: Look, worth: Worth) -> NextLook:
    still_open = [key.partition(".")[0] for key in _yields(knowledge, run, look)]
    first = next(
        (knowledge.attributes[key] for key in look.attributes if key in still_open),
        knowledge.attributes[look.attributes[0]],
    )
    return NextLook(
        look=look.key,
        attributes=look.attributes,
        question=first.question,
        answers=_answers(knowledge, run, first),
        minutes=look.minutes,
        wait_hours=look.wait_hours,
        bits=worth.bits,
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
    return (f"a number in {attribute.unit}" if attribute.kind == "number" else "a date",)
