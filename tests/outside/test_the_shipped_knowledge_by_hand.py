"""The whole answer against a second, independent reading of the design.

The shipped knowledge is read by PyYAML, the rules are plain Python over one wet place at a
time (`by_hand.py`: findings, `by_hand_rules.py`: rules and beliefs). Nothing is shared with
the engine, the knowledge or the diagnosis but the fact of an equal pitch. All worked cases,
and invented callouts with random findings.
"""

import json
import random
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from advisor import Callout, assess
from tests.outside.by_hand import WetPlace, limits, read
from tests.outside.by_hand_rules import (
    PARTS,
    TOP,
    Reading,
    contributors,
    hangs_on,
    leader,
    settled_on,
    unexplained,
)

CASES = sorted(p for p in (TOP / "cases" / "worked").rglob("*.yaml") if p.name != "floor.yaml")
FIRST_DAY = date(2020, 1, 1)
Dice = random.Random
EDGES: dict[str, list[float]] = {
    "crack-width": [0.1, 0.3],
    "crack-first-seen": [0.25, 21, 90, 730],
    "outside-water-level": [-1, 0],
    "surface-temperature": [8, 14, 20],
    "air-temperature": [8, 14, 20],
    "air-humidity": [50, 80, 100],
    "bay-length": [4, 12, 30],
    "wall-height": [2, 3, 6],
    "along-metres": [1, 2, 3, 4],
    "up-metres": [0.5, 1.5],
    "joint-gap": [20, 20.5],
    "turns-after-dosing": [70],
}
"""Near which numbers decide, beside the bands of families."""


def readings(raw: dict[str, Any]) -> list[Reading]:
    return [Reading(WetPlace(raw, leak, PARTS)) for leak in raw["leaks"]]


def told_factors(cause: Any) -> dict[str, float]:
    """What the result names for a cause, in the words of `Reading.factors`."""
    told = {f"{e.attribute}: {e.reading}": e.times for e in (*cause.for_, *cause.against)}
    return told | {f"need {need.need}": need.times for need in cause.needs}


def differences(raw: dict[str, Any], result: Any) -> list[str]:
    """Every belief, factor and conclusion that the two readings differ in."""
    wrong = []
    for reading, got in zip(readings(raw), result.leaks, strict=True):
        beliefs, factors = reading.beliefs(), reading.factors()
        assert {c.cause for c in got.causes} == set(beliefs)
        said = {
            "settled on": (settled_on(beliefs), got.settled_on),
            "unexplained": (unexplained(factors[leader(beliefs)]), set(got.unexplained)),
            "contributors": (
                contributors(reading),
                {(c.contributor, c.state) for c in got.contributors},
            ),
        }
        wrong += [
            f"{got.leak} {what}: {ours} here, {theirs} there"
            for what, (ours, theirs) in said.items()
            if ours != theirs
        ]
        for cause in got.causes:
            mine = factors[cause.cause]
            pairs = {"belief": (beliefs[cause.cause], cause.confidence)}
            pairs["base-rate"] = mine.pop("base-rate"), cause.base_rate
            told = told_factors(cause)
            for key in {*mine, *told}:
                pairs[key] = mine.get(key, 1.0), told.get(key, 1.0)
            wrong += [
                f"{got.leak} {cause.cause} {key}: {ours} here, {theirs} there"
                for key, (ours, theirs) in sorted(pairs.items())
                if abs(ours - theirs) > 1e-9 * max(1, ours)
            ]
    return wrong


# Invented callouts


def threshold(key: str, dice: Dice) -> float:
    """A number near the bands and tests of an attribute, or anywhere it can be."""
    attribute = PARTS["attributes"][key]
    _, lowest, highest = limits(attribute)
    edges = EDGES.get(key, [])
    for family in PARTS["families"].values():
        if family["reads"] == key:
            edges = [float(w) for band in family["readings"] for w in numbers_in(band)]
    x = dice.choice(edges) if edges and dice.random() < 0.8 else dice.uniform(lowest, highest)
    x = x if dice.random() < 0.5 else x * dice.uniform(0.8, 1.25)
    return round(min(max(x, lowest), highest), 3)


def numbers_in(band: str) -> list[str]:
    return [part for word in band.split() for part in word.split("-") if part[:1].isdigit()]


def plain(x: float) -> str:
    return f"{x:.3f}".rstrip("0").rstrip(".")


def quantity(key: str, dice: Dice) -> str:
    unit, lowest, highest = limits(PARTS["attributes"][key])
    said = "" if unit in ("ratio", "count", "pH") else f" {unit}"
    low, high = sorted((threshold(key, dice), threshold(key, dice)))
    form = dice.choice(["point", "point", "between", "under", "over"])
    if form == "between" and low < high:
        return f"{plain(low)} to {plain(high)}{said}"
    if form == "under" and low > lowest:
        return f"under {plain(low)}{said}"
    if form == "over" and low < highest:
        return f"over {plain(low)}{said}"
    return f"{plain(low)}{said}"


def value(key: str, dice: Dice) -> Any:
    attribute = PARTS["attributes"][key]
    if attribute["kind"] == "number":
        return quantity(key, dice)
    if attribute["kind"] == "text":
        return "seen from afar"
    if attribute["kind"] == "yes-no":
        return dice.choice(["yes", "no"])
    choices = sorted(attribute.get("choices", PARTS["structures"]))
    some: list[str] = dice.sample(choices, dice.randint(0, len(choices) - 1))
    if attribute["kind"] == "several":
        cut = dice.randint(0, len(some))
        return some if dice.random() < 0.5 else {"has": some[:cut], "has-not": some[cut:]}
    if not some or dice.random() < 0.5:
        return dice.choice(choices)
    forms: list[Any] = [" or ".join(some), {"not": some}, {"not": some[0]}, "unknown"]
    return dice.choice(forms)


def one_reading(key: str, visits: int, dice: Dice) -> dict[str, Any]:
    missing = dice.choice(["not-asked", "nobody-knows", "no-access", "not-applicable"])
    reading = {"missing": missing} if dice.random() < 0.08 else {"value": value(key, dice)}
    if dice.random() < 0.4:
        reading["how"] = dice.choice(["seen", "measured", "told", "document", "assumed"])
    if dice.random() < 0.2:
        reading["sure"] = dice.choice(["yes", "no"])
    if dice.random() < 0.4:
        reading["visit"] = str(dice.randint(1, visits))
    return reading


def finding(key: str, visits: int, dice: Dice, *, in_visit: bool = False) -> Any:
    attribute = PARTS["attributes"][key]
    if attribute["kind"] == "date":
        day = FIRST_DAY + timedelta(days=dice.randint(0, 2000))
        return {"value": day.isoformat(), "how": dice.choice(["seen", "told"])}
    several = 1 if dice.random() < 0.75 else dice.randint(2, 3)
    listed = [one_reading(key, visits, dice) for _ in range(several)]
    if in_visit:
        for reading in listed:
            reading.pop("visit", None)
    if several == 1 and list(listed[0]) == ["value"] and dice.random() < 0.5:
        return listed[0]["value"]
    return listed if several > 1 else listed[0]


def invented(seed: int) -> dict[str, Any]:
    """A callout with random findings over all attributes: few or many, told or seen."""
    dice = Dice(seed)
    attributes, chance = PARTS["attributes"], dice.choice([0.1, 0.3, 0.6, 0.95])

    def some(of: str, visits: int) -> dict[str, Any]:
        return {
            key: finding(key, visits, dice, in_visit=of == "visit")
            for key, said in attributes.items()
            if said["of"] == of and key not in ("kind", "pour-date") and dice.random() < chance
        }

    visits = dice.randint(1, 3)
    structure = some("structure", visits) | {"kind": dice.choice(sorted(PARTS["structures"]))}
    if dice.random() < chance:
        structure["pour-date"] = FIRST_DAY.isoformat()
    leaks: list[dict[str, Any]] = []
    for n in range(1, dice.choice([1, 1, 2, 4]) + 1):
        leak = {"leak": f"L{n}", "findings": some("leak", visits)}
        if leaks and dice.random() < 0.3:
            leak["same-water"] = dice.choice(leaks)["leak"]
        leaks.append(leak)
    days = [FIRST_DAY + timedelta(days=2000 + 100 * n) for n in range(visits)]
    dice.shuffle(days)
    return {
        "callout": f"invented-{seed}",
        "structure": structure,
        "visits": [{"date": day.isoformat()} | some("visit", visits) for day in days],
        "leaks": leaks,
    }


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_worked_cases(path: Path) -> None:
    raw, result = read(path), assess(Callout.read(path))
    assert differences(raw, result) == []
    for leak, got in zip(raw["leaks"], result.leaks, strict=True):
        assert set(got.hangs_on) == hangs_on(raw, leak), got.leak


FIRST = range(0, 100, 20)
MORE = [pytest.param(first, marks=pytest.mark.long) for first in range(100, 200, 20)]


@pytest.mark.parametrize("first", [*FIRST, *MORE])
def test_invented_callouts(first: int) -> None:
    for seed in range(first, first + 20):
        raw = invented(seed)
        text = json.dumps(raw, ensure_ascii=False)  # A form of YAML.
        assert differences(raw, assess(Callout.parse(text, raw["callout"]))) == [], seed
