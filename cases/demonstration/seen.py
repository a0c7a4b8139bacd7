"""What is found at an invented wet place: readings drawn from the tables of the invented world."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf
from zlib import crc32

import numpy as np

from advisor.callout import Resolved
from advisor.diagnosis import table_of
from advisor.engine import Family, tests_of
from advisor.engine.model import Bools, Floats
from advisor.knowledge import Knowledge
from advisor.library.alike.findings import KEPT_KINDS
from advisor.library.scrub.banding import banded
from advisor.terms import Range
from cases.demonstration.world import Findings, World, table_here

Facts = dict[str, Resolved]


@dataclass(frozen=True, slots=True)
class Spot:
    """A wet place to be looked at. case: its number; old: written up years later."""

    case: int
    kind: str
    cause: str
    old: bool


def found_at(world: World, knowledge: Knowledge, spots: Sequence[Spot]) -> list[Facts]:
    """What was noted of each at the first visit; places of one case share their structure."""
    of_each: list[Facts] = [{"kind": _kind(knowledge, spot.kind)} for spot in spots]
    told: dict[str, Floats] = {}
    drawn: dict[str, list[Resolved]] = {}
    noted: dict[str, Bools] = {}
    for variable, values in _needed(world, knowledge, spots).items():
        chance = _draws(_stream(world, f"noted {variable}"), spots, by_case=True)[1]
        drawn[variable] = values
        noted[variable] = chance < _noted(world.findings, knowledge, variable, spots)
    for family in knowledge.model.families:
        if family.variable in drawn or not _is_seen(knowledge, family.variable):
            continue
        random = _stream(world, family.key)
        by_case = _is_of_structure(knowledge, family.variable)
        quantile, chance, digit, doubt = _draws(random, spots, by_case)
        if family.story is not None:
            first = told.setdefault(family.story, quantile)
            copies = random.random(len(spots)) < world.findings.copying
            quantile = np.where(copies, first, quantile)
        table = table_here(world.findings, knowledge, family, random)
        read = _values(knowledge, family, table, spots, (quantile, digit))
        sure = doubt >= world.findings.unsure
        drawn[family.variable] = [
            Resolved(value, sure=bool(s)) for value, s in zip(read, sure, strict=True)
        ]
        noted[family.variable] = chance < _noted(world.findings, knowledge, family.variable, spots)
    _settle(knowledge, of_each, drawn)
    for row, facts in enumerate(of_each):
        for key in drawn:
            if not noted[key][row]:
                facts.pop(key, None)
    _strike_conflicts(knowledge, of_each)
    return [banded(knowledge, facts)[0] for facts in of_each]


def _needed(world: World, knowledge: Knowledge, spots: Sequence[Spot]) -> dict[str, list[Resolved]]:
    """What causes need: there where one of the case needs it, else as often as it is at large."""
    of_case: dict[int, set[str]] = {}
    for spot in spots:
        of_case.setdefault(spot.case, set()).update(knowledge.causes[spot.cause].needs)
    found: dict[str, list[Resolved]] = {}
    for key, need in knowledge.needs.items():
        there = _draws(_stream(world, key), spots, by_case=True)[0] < need.share
        for first, test in enumerate(tests_of(need.when)):
            attribute = knowledge.attributes[test.variable.partition(".")[0]]
            choices = ["yes", "no"] if "." in test.variable else [c.key for c in attribute.choices]
            passes = [choice in test.passing for choice in choices]
            found[test.variable] = [
                Resolved(1 << passes.index((key in of_case[spot.case] or bool(here)) and not first))
                for spot, here in zip(spots, there, strict=True)
            ]
    return found


def _stream(world: World, name: str) -> np.random.Generator:
    """One for each family and need: a change of one leaves the draws of the others alone."""
    return np.random.default_rng([world.seed, crc32(name.encode())])


def _draws(
    random: np.random.Generator, spots: Sequence[Spot], by_case: bool
) -> tuple[Floats, Floats, Floats, Floats]:
    """Four numbers from 0 to 1 for each place; by_case: the same for all places of a case."""
    drawn = random.random((4, len(spots)))
    if by_case:
        first: dict[int, int] = {}
        rows = [first.setdefault(spot.case, row) for row, spot in enumerate(spots)]
        drawn = drawn[:, rows]
    return drawn[0], drawn[1], drawn[2], drawn[3]


def _values(
    knowledge: Knowledge,
    family: Family,
    table: Floats,
    spots: Sequence[Spot],
    drawn: tuple[Floats, Floats],
) -> list[int | Range]:
    """The readings at the quantiles, those first that speak most for the cause of the place.

    drawn: quantiles, and where in its band a number lies, 0 to 1.
    """
    column = {key: i for i, key in enumerate(knowledge.causes)}
    order = np.argsort(-table / family.shares[:, None], axis=0, kind="stable")
    steps = np.take_along_axis(table, order, axis=0).cumsum(axis=0)
    found: list[int | Range] = []
    for spot, quantile, digit in zip(spots, *drawn, strict=True):
        cause = column[spot.cause]
        step = int(np.searchsorted(steps[:, cause], quantile, side="right"))
        reading = int(order[min(step, len(order) - 1), cause])
        found.append(_number(knowledge, family, reading, digit) if family.edges else 1 << reading)
    return found


def _number(knowledge: Knowledge, family: Family, band: int, digit: float) -> Range:
    """A number of the band; the outer bands are cut where they would have no end."""
    attribute = knowledge.attributes[family.variable]
    inner = family.edges
    low = inner[band - 1] if band else max(attribute.lowest, inner[0] / 4)
    high = inner[band] if band < len(inner) else min(attribute.highest, inner[-1] * 3)
    return Range.point(_short(low + digit * (high - low), low, high))


def _short(value: float, low: float, high: float) -> float:
    """In two figures, as people write it, where that does not leave the band."""
    short = float(f"{value:.2g}")
    return short if low <= short < high else float(f"{low:.6g}")


def _settle(
    knowledge: Knowledge, of_each: list[Facts], drawn: Mapping[str, list[Resolved]]
) -> None:
    """Add what applies: what a reading is about must be there, and so on from one to the next."""
    engine = knowledge.engine
    conditions = dict(
        zip(
            (knowledge.model.families[i].variable for i in engine.reader.with_given),
            engine.reader.given.tolist(),
            strict=True,
        )
    )
    needs, n = len(engine.model.needs), len(of_each)
    for key, values in drawn.items():
        if _is_of_structure(knowledge, key):
            for facts, value in zip(of_each, values, strict=True):
                facts[key] = value
    while True:
        settled = engine.settler.settle(table_of(engine, of_each))
        answers = engine.questions.evaluate(settled.both).rows(slice(0, n))
        new = 0
        for key, values in drawn.items():
            read = settled.values.applies[engine.layout.row[key]]
            if (condition := conditions.get(key)) is not None:
                read = read & answers.true[needs + condition]
            for row in np.flatnonzero(read):
                if key not in of_each[row]:
                    of_each[row][key] = values[row]
                    new += 1
        if not new:
            return


def _strike_conflicts(knowledge: Knowledge, of_each: list[Facts]) -> None:
    """Leave out what stands against what follows from the rest."""
    engine = knowledge.engine
    choices = {row: key for key, row in engine.layout.choice_row.items()}
    while True:
        conflict = engine.settler.settle(table_of(engine, of_each)).conflict
        out = [
            (row, choices[choice])
            for choice, row in np.argwhere(conflict)
            if choices[choice] in of_each[row] and choices[choice] != "kind"
        ]
        if not out:
            return
        for row, key in out:
            del of_each[row][key]


def _noted(
    findings: Findings, knowledge: Knowledge, variable: str, spots: Sequence[Spot]
) -> Floats:
    """How likely a reading is noted, by the quickest look for it."""
    name = variable.partition(".")[0]
    minutes = min(
        (
            look.minutes + 60 * look.wait_hours
            for look in knowledge.looks.values()
            if name in look.attributes and not look.damages
        ),
        default=inf,
    )
    speed = (
        "at-once"
        if minutes <= findings.at_once
        else "quick"
        if minutes <= findings.quick
        else "slow"
    )
    old = np.array([spot.old for spot in spots])
    return np.asarray(findings.noted[speed] * np.where(old, findings.noted_of_old_cases, 1.0))


def _is_seen(knowledge: Knowledge, variable: str) -> bool:
    """Somebody finds it; it is neither worked out nor told of all wet places together."""
    attribute = knowledge.attributes[variable.partition(".")[0]]
    kept = replace(attribute, kind="yes-no") if "." in variable else attribute
    return (
        kept.kind in KEPT_KINDS
        and not attribute.formula
        and attribute.over_places is None
        and "worked-out" not in attribute.who
    )


def _is_of_structure(knowledge: Knowledge, variable: str) -> bool:
    return knowledge.attributes[variable.partition(".")[0]].of == "structure"


def _kind(knowledge: Knowledge, kind: str) -> Resolved:
    keys = [choice.key for choice in knowledge.attributes["kind"].choices]
    return Resolved(1 << keys.index(kind))
