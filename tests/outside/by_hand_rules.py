"""The design's rules on conditions, deductions and beliefs, for one wet place, in plain Python.

Two runs settle every variable: on all findings, and on the sure ones alone.
"""

import math
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np

from advisor.water import FORMULAS
from tests.outside.by_hand import (
    SPECIAL,
    YES_NO,
    Value,
    WetPlace,
    after,
    before,
    choices_of,
    knowledge,
    limits,
    number,
    overlap,
    some_of,
)

TOP = Path(__file__).parents[2]
PARTS = knowledge(TOP / "knowledge")
ALL, SURE = "all", "sure"
Truth = bool | None


class Reading:
    """One wet place read by the design: what is settled, in the two runs, and the beliefs."""

    def __init__(self, place: WetPlace) -> None:
        self.place = place
        self.memo: dict[tuple[str, str], tuple[Value, Truth]] = {}

    # Facts

    def fact(self, variable: str, run: str) -> tuple[Value, Truth]:
        """What it can still be, and whether it applies."""
        if (variable, run) not in self.memo:
            self.memo[variable, run] = self.settled(variable, run)
        return self.memo[variable, run]

    def settled(self, variable: str, run: str) -> tuple[Value, Truth]:
        key, _, part = variable.partition(".")
        attribute = PARTS["attributes"][key]
        if part in SPECIAL:
            return self.of_days(key, part, run), self.fact(key, run)[1]
        every: Value = frozenset(["yes", "no"]) if part else self.place.every(attribute)
        found = self.place.found.get(variable)
        if found and found.value == every:
            found = None  # Findings of one day that leave everything possible: unknown.
        if found and run == SURE and not (found.sure and not self.is_doubtful(attribute)):
            found = None
        applies: Truth = True
        if found:
            applies = found.value is not None
        elif "applies" in attribute:
            applies = self.holds(attribute["applies"], run)
        value = found.value if found and found.value is not None else every
        if not found and "worked-out" in attribute:
            value = self.worked_out(attribute, run)
        return self.struck(variable, value, run), applies

    def is_doubtful(self, attribute: dict[str, Any]) -> bool:
        return "unsure-when" in attribute and self.holds(attribute["unsure-when"], ALL) is True

    def struck(self, variable: str, value: Value, run: str) -> Value:
        """All strikes together; if they would leave nothing, none."""
        left: Value | None = value
        for rule in PARTS["deductions"].values():
            if variable in rule["then"] and self.holds(rule["when"], run) is True:
                kept = some_of(rule["then"][variable], choices_of(attribute_of(variable), {}))
                left = overlap(left, kept) if left is not None else None
        return value if left is None else left

    def of_days(self, key: str, part: str, run: str) -> Value:
        attribute = attribute_of(key)
        found, days = self.place.found.get(key), []
        if found and not (run == SURE and self.is_doubtful(attribute)):
            days = [d for d in found.days if d.value is not None]
        unknown = (-math.inf, math.inf) if part == "change" else self.place.every(attribute)
        if not days or (part == "change" and len(days) < 2):
            return unknown
        first, last = days[0], days[-1]
        if part == "first":
            return unknown if run == SURE and not first.sure else first.value  # type: ignore[return-value]
        assert part == "change", "no condition of the shipped knowledge asks for others"
        if run == SURE and not (first.sure and last.sure):
            return unknown
        (a, b), (c, d) = first.value, last.value  # type: ignore[misc]
        top, bottom = math.nextafter(d, -math.inf), math.nextafter(b, -math.inf)  # type: ignore[arg-type]
        return round(c - bottom, 9), after(round(top - a, 9))  # type: ignore[operator]

    def worked_out(self, attribute: dict[str, Any], run: str) -> Value:
        """The first way that gives something: the ends among all corners of its inputs.

        The formulas themselves are checked elsewhere; here, that corners give the ends.
        """
        every = self.place.every(attribute)
        ways = attribute["worked-out"]
        for way in ways if isinstance(ways, list) else [ways]:
            if "when" in way and self.holds(way["when"], run) is not True:
                continue
            known = [self.input(way, key, run) for key in way["from"]]
            if None in known:
                continue
            formula = FORMULAS[way["by"]]
            ends = [(lo, before(hi)) for lo, hi in known]  # type: ignore[misc]
            ends += [(band.low, band.high) for band in formula.bands]
            with np.errstate(over="ignore"):
                if formula.span is None:
                    found = [float(formula.point(*corner)) for corner in product(*ends)]
                else:
                    found = [float(end) for end in formula.span(*map(np.array, ends))]
            left = overlap(every, (min(found), after(max(found))))
            if left is not None and not any(map(math.isnan, found)):
                return left
        return every

    def input(self, way: dict[str, Any], key: str, run: str) -> Value | None:
        """What is known of it, or what it is taken to be; None where that is nothing."""
        value, applies = self.fact(key, run)
        attribute = attribute_of(key)
        if applies is not True:
            return None
        if value != self.place.every(attribute):
            return value
        taken = way.get("where-unknown", {}).get(key) if run == ALL else None
        return None if taken is None else number(taken, *limits(attribute))

    def is_sure(self, variable: str) -> bool:
        return self.fact(variable, ALL)[0] == self.fact(variable, SURE)[0]

    # Conditions

    def holds(self, condition: dict[str, Any], run: str) -> Truth:
        return every_one([self.part(key, test, run) for key, test in condition.items()])

    def part(self, key: str, test: Any, run: str) -> Truth:
        if key == "all":
            return every_one([self.holds(c, run) for c in test])
        if key == "any":
            return inverse(every_one([inverse(self.holds(c, run)) for c in test]))
        if key == "not":
            return inverse(self.holds(test, run))
        value, applies = self.fact(key, run)
        passes = passing(key, test)
        common = overlap(value, passes)
        if applies is False or common is None:
            return False
        return True if common == value and applies else None

    # Beliefs

    def read_families(self) -> dict[str, tuple[list[str], float]]:
        """By family the readings still possible and how often its finding is right."""
        right = {k: float(v) for k, v in PARTS["weights"]["right"].items()}
        read: dict[str, tuple[list[str], float]] = {}
        for key, family in PARTS["families"].items():
            value, applies = self.fact(family["reads"], ALL)
            given = self.holds(family["given"], ALL) if "given" in family else True
            readings = in_order(family["reads"], family["readings"])
            left = [r for r in readings if overlap(value, passing(family["reads"], r))]
            if applies is True and given is True and len(left) < len(family["readings"]):
                read[key] = left, right["sure" if self.is_sure(family["reads"]) else "unsure"]
        return read

    def factors(self) -> dict[str, dict[str, float]]:
        """By cause: base rate, each need and each family read that is not 1."""
        families = self.read_families()
        weights = {key: self.weight(key, families) for key in families}
        return {cause: self.of_cause(cause, families, weights) for cause in PARTS["causes"]}

    def of_cause(
        self, cause: str, families: dict[str, tuple[list[str], float]], weights: dict[str, float]
    ) -> dict[str, float]:
        said = PARTS["causes"][cause]
        (kind,) = map(str, self.fact("kind", ALL)[0])
        rate = said["base-rate"]
        factors = {"base-rate": float(rate if isinstance(rate, str) else rate.get(kind, 0))}
        for need in said["needs"]:
            factors[f"need {need}"] = self.need(need)
        for key, (left, right) in families.items():
            chance, shares = likelihood(key, cause), shares_of(key)
            share = sum(shares[r] for r in left)
            given_cause = sum(chance[r] for r in left)
            times = (right * given_cause + (1 - right) * share) / share
            factors[f"{PARTS['families'][key]['reads']}: {' or '.join(left)}"] = (
                times ** weights[key]
            )
        return factors

    def need(self, key: str) -> float:
        need = PARTS["needs"][key]
        share, right = float(need["share"]), float(PARTS["weights"]["right"]["unsure"])
        now, sure = self.holds(need["when"], ALL), self.holds(need["when"], SURE)
        if now is None:
            return 1.0
        if now == sure:
            return 1 / share if now else 0.0
        return (right + (1 - right) * share) / share if now else 1 - right

    def weight(self, key: str, families: dict[str, tuple[list[str], float]]) -> float:
        """What one family of a story counts, in log."""
        story = PARTS["families"][key].get("story")
        if story is None:
            return 1.0
        k = 0.0
        for other, (left, _) in families.items():
            if PARTS["families"][other].get("story") == story:
                shares = shares_of(other)
                struck = sum(shares[r] for r in shares if r not in left)
                k += struck / (1 - max(shares[r] for r in left))
        return 1 / (1 + 0.5 * (max(k, 1.0) - 1))

    def beliefs(self) -> dict[str, float]:
        weights = {cause: math.prod(f.values()) for cause, f in self.factors().items()}
        total = sum(weights.values())
        return {cause: weight / total for cause, weight in weights.items()}


def attribute_of(variable: str) -> dict[str, Any]:
    attribute: dict[str, Any] = PARTS["attributes"][variable.partition(".")[0]]
    return attribute


@cache
def passing_text(variable: str, test: str) -> Value:
    key, _, part = variable.partition(".")
    attribute = PARTS["attributes"][key]
    if attribute["kind"] == "number":
        unit, lowest, highest = limits(attribute)
        return number(
            test, unit, *((-math.inf, math.inf) if part == "change" else (lowest, highest))
        )
    if attribute["kind"] == "several":
        return some_of(test, ("yes", "no"))
    return some_of(test, choices_of(attribute, PARTS["structures"]))


def passing(variable: str, test: Any) -> Value:
    """The values that pass a test, or that a reading of a family names."""
    if isinstance(test, str):
        return passing_text(variable, test)
    return some_of(test, choices_of(attribute_of(variable), PARTS["structures"]))


def in_order(variable: str, readings: Any) -> list[str]:
    """The readings of a family as its attribute lists them; bands from the lowest up."""
    attribute = attribute_of(variable)
    if attribute["kind"] == "number":
        return sorted(readings, key=lambda band: passing(variable, band)[0])  # type: ignore[index]
    several = attribute["kind"] == "several"
    choices = YES_NO if several else choices_of(attribute, PARTS["structures"])
    return sorted(readings, key=choices.index)


def every_one(truths: list[Truth]) -> Truth:
    if False in truths:
        return False
    return None if None in truths else True


def inverse(truth: Truth) -> Truth:
    return None if truth is None else not truth


def shares_of(family: str) -> dict[str, float]:
    return {r: float(said["share"]) for r, said in PARTS["families"][family]["readings"].items()}


@cache
def likelihood(family: str, cause: str) -> dict[str, float]:
    """P(reading | cause): words under their ceilings, what is left by share."""
    shares, said = shares_of(family), {}
    for reading, entry in PARTS["families"][family]["readings"].items():
        times = entry.get("times", {})
        word = times.get(cause, times.get(PARTS["causes"][cause]["group"]))
        if isinstance(word, dict):
            said[reading] = shares[reading] * float(word["times"])
        elif word is not None:
            strength, side = word.split()
            weight = {k: float(v) for k, v in PARTS["weights"]["words"][strength].items()}
            up = min(shares[reading] * weight["times"], weight["at-most"])
            said[reading] = up if side == "for" else shares[reading] / weight["times"]
    rest = sum(share for reading, share in shares.items() if reading not in said)
    left = 1 - sum(said.values())
    assert left >= 0.02 - 1e-12 or (not rest and abs(left) < 1e-3), (family, cause)
    return {r: said.get(r, share * left / rest if rest else 0) for r, share in shares.items()}


# What the result says, in the same words


def leader(beliefs: dict[str, float]) -> str:
    return min(beliefs, key=lambda cause: (-beliefs[cause], cause))


def settled_on(beliefs: dict[str, float]) -> str | None:
    limit = {k: float(v) for k, v in PARTS["weights"]["settled"].items()}
    first = leader(beliefs)
    second = max(b for cause, b in beliefs.items() if cause != first)
    clear = beliefs[first] >= limit["cause"] and beliefs[first] >= limit["times-the-next"] * second
    if clear and first != "not-in-this-list":
        return "cause"
    groups: dict[str, float] = {}
    for cause, belief in beliefs.items():
        group = PARTS["causes"][cause]["group"]
        groups[group] = groups.get(group, 0.0) + belief
    del groups["unlisted"]
    return "group" if max(groups.values()) >= limit["group"] else None


def hangs_on(callout: Any, leak: Any) -> set[str]:
    place = WetPlace(callout, leak, PARTS)
    beliefs = Reading(place).beliefs()
    first, hanging = leader(beliefs), set()
    for key in place.keys - {"kind"}:
        without = Reading(WetPlace(callout, leak, PARTS, taken=key)).beliefs()
        part = float(PARTS["weights"]["marks"]["hangs-on"])
        if leader(without) != first or without[first] < part * beliefs[first]:
            hanging.add(key)
    return hanging


def unexplained(factors: dict[str, float]) -> set[str]:
    """The attributes that speak clearly against a cause."""
    limit = float(PARTS["weights"]["marks"]["unexplained"])
    return {k.partition(": ")[0] for k, times in factors.items() if ": " in k and times <= limit}


def contributors(reading: Reading) -> set[tuple[str, str]]:
    """Shown, or not shown yet while something points to it."""
    states = set()
    for key, said in PARTS["contributors"].items():
        shown = reading.holds(said["shown"], ALL)
        if shown is True:
            states.add((key, "shown"))
        elif shown is None and "possible" in said and reading.holds(said["possible"], ALL) is True:
            states.add((key, "possible"))
    return states
