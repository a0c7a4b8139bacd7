"""Numbers that were worked out, with the whole sum: what went in, how, what came out."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import isnan, nan, nextafter

import numpy as np

from advisor.diagnosis.result import SumInput, WorkedOutFact
from advisor.diagnosis.rows import Facts, table_of
from advisor.diagnosis.signs import Watch
from advisor.engine import Run
from advisor.engine.model import Floats
from advisor.knowledge import Knowledge, WorkedOutBy, choice_words, either, read_aloud
from advisor.terms import Attribute, Range, say_range
from advisor.water import FORMULAS, Check, Level


@dataclass(frozen=True, kw_only=True)
class Place:
    """One row of a run, and what was found there."""

    knowledge: Knowledge
    run: Run
    row: int
    facts: Facts
    likelies: dict[str, float] = field(default_factory=dict)

    def range(self, key: str) -> Range:
        """What a number can still be."""
        number, values = self.knowledge.engine.layout.number_row[key], self.run.settled.values
        return Range(float(values.lo[number, self.row]), float(values.hi[number, self.row]))

    def choices(self, key: str) -> tuple[str, ...]:
        """What a choice can still be; of several choices those that can still be there."""
        layout = self.knowledge.engine.layout
        attribute = self.knowledge.attributes.get(key)  # none for one of several choices
        if attribute is not None and attribute.kind == "several":
            there = (c.key for c in attribute.choices)
            return tuple(c for c in there if "yes" in self.choices(f"{key}.{c}"))
        mask = self.run.settled.values.masks[layout.choice_row[key], self.row]
        return layout.choices(key, int(mask))

    def is_known(self, key: str) -> bool:
        """Whether anything is known of a number or a choice, or of one of several."""
        layout = self.knowledge.engine.layout
        if (attribute := self.knowledge.attributes.get(key)) and attribute.kind != "number":
            return len(self.choices(key)) < len(attribute.choices)
        number, ends = layout.number_row[key], self.range(key)
        return bool(ends.lo > layout.lowest[number] or ends.hi < layout.highest[number])

    @cached_property
    def watch(self) -> Watch:
        """The truth of the conditions that are asked beside the beliefs."""
        return Watch(self.knowledge, self.run, self.row)

    @cached_property
    def ways(self) -> Mapping[str, WorkedOutBy]:
        """How each number was worked out, or would have been but for the limits of its formula."""
        watch, found = self.watch, dict[str, WorkedOutBy]()
        for number, way in enumerate(self.knowledge.worked_out):
            open_ = way.attribute not in found and way.attribute not in self.facts
            given = way.given is None or watch.is_true(f"ways {way.attribute}/{number}")
            if open_ and given and all(k in way.assumed or self.is_known(k) for k in way.inputs):
                found[way.attribute] = way
        return found


def place_of(knowledge: Knowledge, facts: Facts) -> Place:
    """What was found, run through the engine by itself."""
    run = knowledge.engine.run(table_of(knowledge.engine, [facts]))
    return Place(knowledge=knowledge, run=run, row=0, facts=facts)


def worked_out(place: Place) -> tuple[WorkedOutFact, ...]:
    """Every number that was worked out, in the order of the knowledge."""
    return tuple(_fact(place, way) for way in place.ways.values() if place.is_known(way.attribute))


def failing(place: Place, way: WorkedOutBy) -> tuple[Check, ...]:
    """The limits of a formula that the likely inputs do not keep."""
    return FORMULAS[way.formula].failing(*_likely_inputs(place, way))


def unheld(place: Place, way: WorkedOutBy) -> list[str]:
    """Why a number cannot be worked out though its inputs are known, in words; nothing where it
    can, and its formula holds for the likely inputs."""
    reasons = check_words(place.knowledge, failing(place, way), "impossible", "outside")
    if not reasons and not place.is_known(way.attribute):
        return [place.knowledge.say("limit-of-a-range")]
    return reasons


def likely(place: Place, key: str) -> float:
    """A number with the middle of everything it rests on; NaN where nothing is known of it."""
    if key not in place.likelies:
        place.likelies[key] = _likely(place, key)
    return place.likelies[key]


def said(place: Place, key: str, range_: Range | None = None) -> str:
    """A number as people read it; one that was worked out to three figures."""
    attribute, ends = place.knowledge.attributes[key], range_ or place.range(key)
    shown = say_range(
        three_figures(ends) if key in place.ways else ends,
        attribute.unit or "count",
        lowest=attribute.lowest,
        highest=attribute.highest,
    )
    return read_aloud(place.knowledge, shown)


def standing(place: Place, key: str) -> str:
    """What an attribute stands at, with its label: a number, or the choices that are left."""
    knowledge, attribute = place.knowledge, place.knowledge.attributes[key]
    if attribute.kind == "number":
        return f"{attribute.label}: {said(place, key)}"
    left = [choice_words(knowledge, key, choice) for choice in place.choices(key)]
    words = either(knowledge, left) if attribute.kind != "several" else ", ".join(left)
    return f"{attribute.label}: {words or knowledge.say('none')}"


def three_figures(ends: Range) -> Range:
    """What physics knows of a number. As it is where both ends would come out the same."""
    low, high = (float(f"{x:.3g}") for x in (ends.lo, nextafter(ends.hi, -np.inf)))
    if ends.is_point:
        return Range.point(low)
    return Range(low, nextafter(high, np.inf)) if low < high else ends


def meaning(attribute: Attribute, range_: Range) -> str | None:
    """What a number says, if all that is possible says one thing."""
    found = [says for band, says in attribute.means if range_.within(band.lo, band.hi)]
    return found[0] if found else None


def check_words(knowledge: Knowledge, checks: tuple[Check, ...], *levels: Level) -> list[str]:
    """What is said of limits that are not kept."""
    keys = dict.fromkeys(check.key for check in checks if check.level in levels)
    return [knowledge.say(f"limit-{key}") for key in keys]


def _likely(place: Place, key: str) -> float:
    ends = place.range(key)
    way = place.ways.get(key)
    if way is None:
        return _middle(place.knowledge.attributes[key], ends) if place.is_known(key) else nan
    found = float(FORMULAS[way.formula].likely(*_likely_inputs(place, way)))
    return min(max(found, ends.lo), nextafter(ends.hi, -np.inf))  # NaN stays NaN


def _likely_inputs(place: Place, way: WorkedOutBy) -> Iterator[Floats]:
    for key in way.inputs:
        taken = way.assumed.get(key)
        if taken is not None and not place.is_known(key):
            yield np.array(_middle(place.knowledge.attributes[key], taken))
        else:
            yield np.array(likely(place, key))


def _middle(attribute: Attribute, ends: Range) -> float:
    """The middle; of a range without an upper end its lower one."""
    if ends.is_point or ends.hi >= nextafter(attribute.highest, np.inf):
        return ends.lo
    return (ends.lo + nextafter(ends.hi, -np.inf)) / 2


def _fact(place: Place, way: WorkedOutBy) -> WorkedOutFact:
    attribute, ends = place.knowledge.attributes[way.attribute], place.range(way.attribute)
    engine = place.knowledge.engine
    means, middle = meaning(attribute, ends), likely(place, way.attribute)
    text = f"{attribute.label}: {said(place, way.attribute)}"
    return WorkedOutFact(
        attribute=way.attribute,
        low=ends.lo,
        likely=None if isnan(middle) else middle,
        high=nextafter(ends.hi, -np.inf),
        unit=attribute.unit or "",
        sure=bool(place.run.settled.sure[engine.layout.row[way.attribute], place.row]),
        means=means,
        inputs=tuple(_input(place, way, key) for key in way.inputs),
        formula=attribute.formula,
        valid=attribute.valid,
        source=attribute.source,
        remarks=tuple(check_words(place.knowledge, failing(place, way), "outside", "doubtful")),
        text=f"{text}. {means}" if means else text,
    )


def _input(place: Place, way: WorkedOutBy, key: str) -> SumInput:
    label = place.knowledge.attributes[key].label
    assumed = key in way.assumed and not place.is_known(key)
    number = said(place, key, way.assumed[key] if assumed else None)
    say = place.knowledge.say
    text = say("sum-assumed", what=label, number=number) if assumed else f"{label}: {number}"
    return SumInput(attribute=key, text=text, assumed=assumed)
