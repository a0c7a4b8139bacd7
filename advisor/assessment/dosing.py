"""A subject worked out for every load of a file: a load is a row, so one run answers all."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from advisor.assessment.work_out import Given, SumResult, WorkedOutSum, read_given, work_out
from advisor.callout import Resolved
from advisor.callout.loads import Load, Loads
from advisor.diagnosis import Place, table_of
from advisor.knowledge import Knowledge, Sum
from advisor.terms import Faulty, Problem, Range, say_number
from advisor.water.dosing import dose_share


def work_out_loads(
    knowledge: Knowledge, subject: Sum, given: Given, file: str, read: Loads
) -> WorkedOutSum:
    """One result a pour, and every load that is not as it should be.

    Raises Faulty where something is missing, or a load does not say its cement.
    """
    loads = read.loads
    shares = _shares(loads, file)
    known = read_given(knowledge, given)
    rows = [known | {subject.loads: Resolved(value=Range.point(share))} for share in shares]
    run = knowledge.engine.run(table_of(knowledge.engine, rows))
    places = [
        Place(knowledge=knowledge, run=run, row=row, facts=facts) for row, facts in enumerate(rows)
    ]
    lowest = f"{min(shares):.17g} {knowledge.attributes[subject.loads].unit}"
    whole = work_out(knowledge, subject, {**given, subject.loads: lowest})
    odd = [
        (load, place)
        for load, place in zip(loads, places, strict=True)
        if _choice(place, subject) != _as_it_should_be(knowledge, subject)
    ]
    return replace(
        whole,
        inputs={**given, "loads": file},
        results=tuple(_of_pour(knowledge, subject, pour, loads, places) for pour in _pours(loads)),
        verdict=_verdict(knowledge, loads, [load for load, _ in odd]),
        remarks=(
            *(_told(knowledge, subject, load, place) for load, place in odd),
            *map(str, read.remarks),
        ),
    )


def _shares(loads: Sequence[Load], file: str) -> list[float]:
    """The dose of each load in % of its cement."""
    if bare := [load for load in loads if load.cement_kg_m3 is None]:
        raise Faulty(
            Problem(
                message="the dose is judged by the cement, and no column says it",
                file=file,
                line=bare[0].row,
                key="cement",
                expected="a column cement (kg/m3)",
            )
        )
    cement = [load.cement_kg_m3 * load.volume_m3 for load in loads if load.cement_kg_m3 is not None]
    doses = np.array([load.dose_kg for load in loads])
    return [float(share) for share in dose_share(doses, np.array(cement))]


def _pours(loads: Sequence[Load]) -> list[str]:
    return list(dict.fromkeys(load.pour for load in loads))


def _of_pour(
    knowledge: Knowledge, subject: Sum, pour: str, loads: Sequence[Load], places: Sequence[Place]
) -> SumResult:
    """Lowest, mean and highest of the loads of a pour."""
    key = subject.gives[0]
    found = [
        place.range(key).lo
        for load, place in zip(loads, places, strict=True)
        if load.pour == pour and place.is_known(key)
    ]
    unit = knowledge.attributes[key].unit or ""
    what = knowledge.say("sum-of-pour", what=key, pour=pour)
    mean = float(np.mean(found))
    return SumResult(what=what, low=min(found), likely=mean, high=max(found), unit=unit)


def _choice(place: Place, subject: Sum) -> str | None:
    """The one choice that the verdict comes to; None where it is open."""
    left = place.choices(subject.verdict[0])
    return left[0] if len(left) == 1 else None


def _as_it_should_be(knowledge: Knowledge, subject: Sum) -> str:
    return knowledge.attributes[subject.verdict[0]].choices[0].key


def _verdict(knowledge: Knowledge, loads: Sequence[Load], odd: Sequence[Load]) -> str:
    if not odd:
        return knowledge.say("loads-all-well", count=len(loads))
    pours = ", ".join(_pours(odd))
    return knowledge.say("loads-odd", odd=len(odd), count=len(loads), pours=pours)


def _told(knowledge: Knowledge, subject: Sum, load: Load, place: Place) -> str:
    attribute = knowledge.attributes[subject.verdict[0]]
    choice = next((c.label for c in attribute.choices if c.key == _choice(place, subject)), "")
    return knowledge.say(
        "load-odd",
        row=load.row,
        ticket=load.ticket,
        pour=load.pour,
        dose=say_number(load.dose_kg, 4),
        off=say_number(place.range(subject.gives[0]).lo, 3),
        what=choice or knowledge.say("unknown"),
    )
