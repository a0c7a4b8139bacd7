"""The design's rules on facts, written down a second time, in plain Python.

Nothing here comes from the engine or from the reader of the knowledge. YAML is read by PyYAML
with every scalar a text. A value is what it can still be: a set of choices, or a range
lo <= x < hi. Two runs settle every variable: on all findings, and on the sure ones alone.
"""

import math
import re
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from advisor.callout import PLACE_FACTS
from advisor.callout import Resolved as Place
from advisor.terms import Range

Value = frozenset[str] | tuple[float, float]
YES_NO = ("yes", "no")
SPECIAL = ("first", "highest", "lowest", "change")
TIMES_TO_UNIT = {
    ("mil", "mm"): (0.0254, 0.0254),
    ("in", "mm"): (25.4, 25.4),
    ("cm", "mm"): (10.0, 10.0),
    ("m", "mm"): (1000.0, 1000.0),
    ("mm", "m"): (0.001, 0.001),
    ("weeks", "d"): (7.0, 7.0),
    ("years", "d"): (365.25, 365.25),
    # A drop is 0.05 to 0.25 mL.
    ("drops/min", "L/h"): (0.05 * 60 / 1000, 0.25 * 60 / 1000),
}


def read(path: Path) -> Any:
    return yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)


def knowledge(folder: Path) -> dict[str, dict[str, Any]]:
    """By part, all its entries by key."""
    parts: dict[str, dict[str, Any]] = {}
    for path in sorted(folder.rglob("*.yaml")):
        name = path.relative_to(folder).parts[0].removesuffix(".yaml")
        parts.setdefault(name, {}).update(read(path))
    return parts


def after(x: float) -> float:
    return math.nextafter(x, math.inf)


def before(x: float) -> float:
    return math.nextafter(x, -math.inf)


# Numbers


def converted(text: str, unit: str, to: str) -> tuple[float, float]:
    x = float(text.replace(",", "."))
    if unit in (to, ""):
        return x, x
    if (unit, to) == ("°F", "°C"):
        return ((x - 32) / 1.8,) * 2
    low, high = TIMES_TO_UNIT[unit, to]
    return x * low, x * high


def number(text: str, unit: str, lowest: float, highest: float) -> tuple[float, float]:
    """A quantity or a test of one, as lo <= x < hi."""
    word, rest = re.fullmatch(r"(under|over|at least|at most)? ?(.*)", text).groups()  # type: ignore[union-attr]
    if rest == "unknown":
        return lowest, after(highest)
    found = re.fullmatch(r"(-?[\d.,]+)(?:(?:-| to )(-?[\d.,]+))? ?(.*)", rest)
    assert found, text
    low, high = converted(found[1], found[3], unit)
    if found[2]:
        return low, converted(found[2], found[3], unit)[1]
    return {
        None: (low, high if high > low else after(high)),
        "under": (lowest, high),
        "at most": (lowest, after(high)),
        "over": (after(low), after(highest)),
        "at least": (low, after(highest)),
    }[word]


def limits(attribute: dict[str, Any]) -> tuple[str, float, float]:
    return attribute["unit"], float(attribute["lowest"]), float(attribute["highest"])


def overlap(a: Value, b: Value) -> Value | None:
    if isinstance(a, frozenset) or isinstance(b, frozenset):
        assert isinstance(a, frozenset)
        assert isinstance(b, frozenset)
        return (a & b) or None
    lo, hi = max(a[0], b[0]), min(a[1], b[1])
    return (lo, hi) if lo < hi else None


def hull(values: list[Value]) -> Value:
    sets = [v for v in values if isinstance(v, frozenset)]
    ranges = [v for v in values if isinstance(v, tuple)]
    if sets:
        return sets[0].union(*sets)
    return min(r[0] for r in ranges), max(r[1] for r in ranges)


# Findings


@dataclass(frozen=True)
class Told:
    """One answer. A value of None says: not applicable."""

    day: date
    value: Value | None
    sure: bool


def choices_of(attribute: dict[str, Any], structures: dict[str, Any]) -> tuple[str, ...]:
    if attribute["kind"] == "yes-no":
        return YES_NO
    return tuple(attribute.get("choices", structures))


def some_of(written: Any, choices: tuple[str, ...]) -> frozenset[str]:
    """`a`, `a or b`, `{not: a}`, `{not: [a, b]}`, `unknown`."""
    if isinstance(written, dict):
        out = written["not"]
        return frozenset(choices) - frozenset([out] if isinstance(out, str) else out)
    if written == "unknown":
        return frozenset(choices)
    named = frozenset(word.strip().replace(" ", "-") for word in written.split(" or "))
    assert named <= frozenset(choices), written
    return named


@dataclass(frozen=True)
class Found:
    """What the readings of one variable say: the latest answer, and of numbers the dated ones."""

    value: Value | None
    sure: bool
    days: tuple["Found", ...] = ()


def settled_days(told: list[Told]) -> list[Found]:
    """Readings of one day are one answer: what they share, or, if nothing, all, unsure."""
    days = []
    for day in sorted({t.day for t in told}):
        of_day = [t for t in told if t.day == day]
        values = [t.value for t in of_day if t.value is not None]
        if not values:
            days.append(Found(None, any(t.sure for t in of_day)))
            continue
        common, sure = shared(values), [t.value for t in of_day if t.sure and t.value is not None]
        if common is None or len(values) < len(of_day):
            days.append(Found(hull(values), False))
        else:
            days.append(Found(common, bool(sure) and shared(sure) == common))
    return days


def shared(values: list[Value]) -> Value | None:
    common: Value | None = values[0]
    for value in values[1:]:
        common = overlap(common, value) if common is not None else None
    return common


@dataclass
class WetPlace:
    """One wet place of a callout file. taken: a finding that is taken as unknown."""

    callout: dict[str, Any]
    leak: dict[str, Any]
    parts: dict[str, dict[str, Any]]
    taken: str | None = None
    dates: dict[str, tuple[date, bool]] = field(default_factory=dict)
    found: dict[str, Found] = field(default_factory=dict)
    keys: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.days = [date.fromisoformat(v["date"]) for v in self.callout.get("visits", [])]
        for key, raws in self.raws().items():
            self.keys.add(key)
            if key != self.taken:
                self.settle(key, raws)
        self.add_ages()
        self.add_places()

    def raws(self) -> dict[str, list[tuple[Any, date | None]]]:
        """By attribute what is written of it, with the day of the visit it stands under."""
        raws: dict[str, list[tuple[Any, date | None]]] = {}
        for key, raw in self.callout["structure"].items():
            raws.setdefault(key, []).append((raw, None))
        for visit, day in zip(self.callout.get("visits", []), self.days, strict=True):
            for key, raw in visit.items():
                if key != "date":
                    raws.setdefault(key, []).append((raw, day))
        own = self.leak.get("findings") or {}
        for key, raw in own.items():
            raws.setdefault(key, []).append((raw, None))
        for other in self.same_water():
            for key, raw in (other.get("findings") or {}).items():
                if self.parts["attributes"][key].get("of-the-water") == "yes" and key not in own:
                    raws.setdefault(key, []).append((raw, None))
        return raws

    def same_water(self) -> list[dict[str, Any]]:
        leaks, reached = self.callout["leaks"], {self.leak["leak"]}
        for _ in leaks:
            for leak in leaks:
                pair = {leak["leak"], leak.get("same-water", leak["leak"])}
                reached |= pair if pair & reached else set()
        return [k for k in leaks if k["leak"] in reached and k["leak"] != self.leak["leak"]]

    def told(self, raw: Any, day: date | None) -> list[tuple[Any, date, bool]]:
        """The readings that stand: what is written, the day, whether it is sure."""
        dated = isinstance(raw, list) and any(isinstance(item, dict) for item in raw)
        readings = [
            r if isinstance(r, dict) and {"value", "missing"} & set(r) else {"value": r}
            for r in (raw if dated else [raw])
        ]
        gone = {int(r["corrects"]) for r in readings if "corrects" in r}
        told = []
        for n, r in enumerate(readings, 1):
            on = day or max(self.days, default=date.min)
            if "corrects" in r and "visit" not in r:
                on = told_day(readings[int(r["corrects"]) - 1], self.days, on)
            on = told_day(r, self.days, on)
            sure = r.get("how") not in ("told", "assumed")
            if "sure" in r:
                sure = r["sure"] in ("yes", "true")
            if n not in gone:
                told.append((r.get("value", {"missing": r.get("missing")}), on, sure))
        return told

    def settle(self, key: str, raws: list[tuple[Any, date | None]]) -> None:
        attribute = self.parts["attributes"][key]
        kind = attribute["kind"]
        told = [t for raw, day in raws for t in self.told(raw, day)]
        if kind == "date":
            known = [(d, v, sure) for v, d, sure in told if isinstance(v, str)]
            if known:
                _, written, sure = max(known)
                self.dates[key] = (date.fromisoformat(written), sure)
            return
        if kind == "text":
            return
        if kind == "several":
            for choice in attribute["choices"]:
                answers = [Told(d, yes_or_no(v, choice), s) for v, d, s in told if says(v, choice)]
                if days := settled_days(answers):
                    self.found[f"{key}.{choice}"] = days[-1]
            return
        answers = []
        for written, day, sure in told:
            if isinstance(written, dict) and "missing" in written:
                if written["missing"] == "not-applicable":
                    answers.append(Told(day, None, sure))
                continue
            value, every = self.value_of(attribute, written), self.every(attribute)
            if overlap(every, value) != every:
                answers.append(Told(day, value, sure))
        if days := settled_days(answers):
            self.found[key] = Found(days[-1].value, days[-1].sure, tuple(days))

    def value_of(self, attribute: dict[str, Any], written: Any) -> Value:
        if attribute["kind"] == "number":
            return number(written, *limits(attribute))
        return some_of(written, choices_of(attribute, self.parts["structures"]))

    def every(self, attribute: dict[str, Any]) -> Value:
        if attribute["kind"] == "number":
            return limits(attribute)[1], after(limits(attribute)[2])
        return frozenset(choices_of(attribute, self.parts["structures"]))

    def add_ages(self) -> None:
        for key, attribute in self.parts["attributes"].items():
            if "from-dates" in attribute and key not in self.found:
                visit = (max(self.days), True) if self.days else None
                start = self.dates.get(attribute["from-dates"]["from"])
                to = attribute["from-dates"]["to"]
                end = visit if to == "visit" else self.dates.get(to)
                if start and end:
                    age = float((end[0] - start[0]).days)
                    self.found[key] = Found((age, after(age)), start[1] and end[1])

    def add_places(self) -> None:
        for key, attribute in self.parts["attributes"].items():
            if "over-places" in attribute and key not in self.found:
                over = attribute["over-places"]
                axes = over.get("from", [])
                places = [
                    tuple(self.position(leak, axis) for axis in axes)
                    for leak in self.callout["leaks"]
                ]
                fact = PLACE_FACTS[over["by"]](places)
                if isinstance(fact.value, Range):
                    self.found[key] = Found((fact.value.lo, fact.value.hi), fact.sure)
                elif fact.value is not None:
                    assert isinstance(fact.value, int)
                    self.found[key] = Found(frozenset([YES_NO[fact.value - 1]]), fact.sure)

    def position(self, leak: dict[str, Any], axis: str) -> Place:
        raw = (leak.get("findings") or {}).get(axis)
        if raw is None or (leak is self.leak and axis == self.taken):
            return Place(sure=False)
        alone = WetPlace.__new__(WetPlace)
        alone.parts, alone.days, alone.found = self.parts, self.days, {}
        alone.settle(axis, [(raw, None)])
        known = alone.found.get(axis)
        if known is None or not isinstance(known.value, tuple):
            return Place(sure=False)
        return Place(Range(*known.value), sure=known.sure)


def told_day(reading: dict[str, Any], days: list[date], otherwise: date) -> date:
    if "date" in reading:
        return date.fromisoformat(reading["date"])
    return days[int(reading["visit"]) - 1] if "visit" in reading else otherwise


def says(written: Any, choice: str) -> bool:
    if isinstance(written, list):
        return True
    if isinstance(written, dict) and "missing" in written:
        return bool(written["missing"] == "not-applicable")
    if isinstance(written, dict):
        return choice in (*written.get("has", []), *written.get("has-not", []))
    return bool(written != "unknown")


def yes_or_no(written: Any, choice: str) -> Value | None:
    if isinstance(written, dict) and "missing" in written:
        return None
    yes = written.get("has", []) if isinstance(written, dict) else written
    return frozenset(["yes" if choice in yes else "no"])
