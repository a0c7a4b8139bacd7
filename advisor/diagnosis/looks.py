"""The most telling open looks: expected bits x chance of an answer, a minute of work."""

from collections.abc import Iterable, Mapping
from math import prod

from advisor.diagnosis.result import NextLook
from advisor.diagnosis.whatif import (
    Value,
    judge,
    outcomes,
    telling_variables,
    ways,
    write_outcomes,
)
from advisor.engine import Run, Table
from advisor.knowledge import Knowledge, Look
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
        return sum(alone[v][0] for v in open_looks[key]) * look.answers / look.minutes

    best = sorted(open_looks, key=lambda key: (-rough(key), key))[:JOINTLY_JUDGED]
    joint = _judge_each(
        knowledge,
        table,
        {key: _narrowed(open_looks[key], {v: b for v, (b, _) in alone.items()}) for key in best},
    )
    ranked = sorted(
        (key for key in best if joint[key][0] > 1e-6),
        key=lambda key: (
            -joint[key][0] * knowledge.looks[key].answers / knowledge.looks[key].minutes,
            key,
        ),
    )
    return tuple(
        _next_look(knowledge, run, knowledge.looks[key], *joint[key]) for key in ranked[:SHOWN]
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
    telling = telling_variables(engine)
    found = {}
    for variable in _settled_by(knowledge, run, look):
        if variable in telling and (alternatives := ways(engine, run, 0, variable)):
            found[variable] = alternatives
    return found


def _settled_by(knowledge: Knowledge, run: Run, look: Look) -> Iterable[str]:
    """Variables that the look's attributes give: their own, and those worked out from them."""
    asked = set(look.attributes)
    for key in look.attributes:
        attribute = knowledge.attributes[key]
        if attribute.kind == "several":
            yield from (f"{key}.{choice.key}" for choice in attribute.choices)
        elif attribute.kind not in ("date", "text"):
            yield key
    for other in knowledge.attributes.values():
        sources = _sources(other)
        if asked & set(sources):
            yield other.key
    for worked in knowledge.worked_out:
        if asked & set(worked.inputs) and all(
            key in asked or _known(knowledge, run, key) for key in worked.inputs
        ):
            yield worked.attribute


def _sources(attribute: Attribute) -> tuple[str, ...]:
    if attribute.from_dates is not None:
        return attribute.from_dates
    return attribute.over_places[1] if attribute.over_places is not None else ()


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
) -> dict[str, tuple[float, bool]]:
    """Bits and whether the leader changes, for each set of alternatives: one run for all."""
    engine = knowledge.engine
    found = {key: outcomes(alternatives) for key, alternatives in each.items()}
    rows = table.repeated(1 + sum(map(len, found.values())))
    first, ranges = 1, {}
    for key, ends in found.items():
        write_outcomes(engine, rows, first, ends)
        ranges[key] = range(first, first + len(ends))
        first += len(ends)
    verdict = judge(engine, engine.run(rows), 0)
    worths = {key: verdict.worth(part) for key, part in ranges.items()}
    return {key: (worth.bits, worth.changes_leader) for key, worth in worths.items()}


def _next_look(
    knowledge: Knowledge, run: Run, look: Look, bits: float, changes_leader: bool
) -> NextLook:
    first = next(
        (
            knowledge.attributes[key]
            for key in look.attributes
            if knowledge.attributes[key].kind != "text"
        ),
        knowledge.attributes[look.attributes[0]],
    )
    return NextLook(
        look=look.key,
        attributes=look.attributes,
        question=first.question,
        answers=_answers(knowledge, run, first),
        minutes=look.minutes,
        wait_hours=look.wait_hours,
        bits=bits,
        changes_leader=changes_leader,
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
