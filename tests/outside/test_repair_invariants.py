"""Rules that every plan keeps, on wet places drawn at random.

From the project's sheet on repairs; the source of each rule stands beside its check.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

import pytest

from advisor import Callout, open_knowledge
from advisor.diagnosis import Diagnosis, Place, diagnose, examine, place_of
from advisor.diagnosis.causes import group_beliefs, settled_on
from advisor.diagnosis.signs import stops
from advisor.engine import compile_circuit
from advisor.repair import MethodBelief, Plan, PlanStep, repair
from tests.outside.random_leaks import random_callouts, random_facts

KNOWLEDGE = open_knowledge()
METHODS = KNOWLEDGE.methods
LAYOUT = KNOWLEDGE.engine.layout
CONDITIONS = compile_circuit([limit.must for limit in KNOWLEDGE.limits.values()], LAYOUT)
AT = {key: i for i, key in enumerate(KNOWLEDGE.limits)}
EXAMINED, QUICK, LONG = 250, 1_750, 20_000
"""Two thousand in all. A whole diagnosis takes 0.16 s, so 400 of them are for the long run."""
LONG_EXAMINED = 400
HOLDING = {key for key, method in METHODS.items() if method.role == "hold"}
LEADS_AWAY = {"secure", "relieve", "slow"}
NOT_THE_CONCRETE = {"slow", "mend", "manage", "hand-over", "watch"}
"""Roles that stop the water, lead it away, or live with it."""
NEVER_FIRST = {"epoxy-injection", "crystalline-slurry", "flexible-coating", "patch-mortar"}
NEVER_FIRST |= {"gravity-fed-resin", "rout-and-seal", "sealant-renewal", "break-out-and-recast"}
NEVER_FIRST |= {"bonded-strip", "fine-cement-injection"}


@dataclass(frozen=True)
class Drawn:
    place: Place
    diagnosis: Diagnosis
    methods: tuple[MethodBelief, ...]
    plan: Plan

    def stands(self, key: str, *values: str) -> bool:
        """Whether a choice surely is one of these."""
        row = LAYOUT.choice_row[key]
        both, rows = self.place.run.settled.both, self.place.run.settled.values.rows
        left = LAYOUT.choices(key, int(both.masks[row, rows]))
        applies = bool(both.applies[LAYOUT.row[key], rows])
        return applies and set(left) <= set(values)

    def under(self, key: str, most: float) -> bool:
        number, both = LAYOUT.number_row[key], self.place.run.settled.both
        rows = self.place.run.settled.values.rows
        applies = bool(both.applies[LAYOUT.row[key], rows])
        return applies and bool(both.hi[number, rows] <= most)

    @property
    def free(self) -> set[str]:
        return {m.method for m in self.methods if m.ruled_out is None}


def drawn(count: int, seed: int) -> Iterator[Drawn]:
    blank = Callout.parse(
        "callout: c\nstructure: {kind: basement}\nleaks: [{leak: L}]\n", "c", KNOWLEDGE.attributes
    )
    told = diagnose(KNOWLEDGE, blank, blank.leaks[0])
    for facts in random_facts(KNOWLEDGE, count, seed):
        place = place_of(KNOWLEDGE, facts)
        yield _planned(place, told)


def _planned(place: Place, told: Diagnosis) -> Drawn:
    """The plan of a place, with its own stops and beliefs, and no looks that part the causes.

    The evidence of the causes is left out: no plan reads it, and it takes half the time.
    """
    beliefs = dict(zip(KNOWLEDGE.causes, place.run.beliefs[0], strict=True))
    weighed = (replace(c, confidence=float(beliefs[c.cause])) for c in told.causes)
    causes = tuple(sorted(weighed, key=lambda c: (-c.confidence, c.cause)))
    groups = group_beliefs(KNOWLEDGE, causes)
    settled = settled_on(KNOWLEDGE, causes, groups)
    diagnosis = replace(
        told,
        causes=causes,
        groups=groups,
        settled_on=settled,
        settled=settled is not None,
        stops=stops(KNOWLEDGE, place.watch),
        next=(),
    )
    return Drawn(place, diagnosis, *repair(place, diagnosis))


def examined(count: int, seed: int) -> Iterator[Drawn]:
    """Whole callouts through the whole diagnosis."""
    for callout in random_callouts(KNOWLEDGE, count, seed):
        diagnosis, place = examine(KNOWLEDGE, callout, callout.leaks[0])
        yield Drawn(place, diagnosis, *repair(place, diagnosis))


@cache
def quick() -> tuple[Drawn, ...]:
    return tuple(drawn(QUICK, seed=5))


def check(one: Drawn) -> None:
    _no_step_that_a_stop_bars(one)
    _each_need_is_met(one)
    _no_limit_passed_on_unknown(one)
    _explains_itself(one)
    _rules_of_the_sheet(one)


def _no_step_that_a_stop_bars(one: Drawn) -> None:
    """Reckoned anew from the stops and from what the steps of the methods take."""
    for horizon in one.plan.horizons:
        for step in horizon.steps:
            assert step.barred_by == ()
            if step.kind == "look" and step.method is None:
                _look_is_free(one, step)
            if step.method is None:
                continue
            name = step.step.rpartition("/")[2]
            takes = next(s.takes for s in METHODS[step.method].steps if s.key == name)
            for stop in one.diagnosis.stops:
                door = KNOWLEDGE.stops[stop.stop].asked == "at-the-door" and stop.state == "open"
                holding = step.method in HOLDING
                assert not (door and not holding), (stop.stop, step.step)
                if not door:
                    assert holding or "all-work" not in stop.bars, (stop.stop, step.step)
                    assert not {*takes} & {*stop.bars}, (stop.stop, step.step)


def _look_is_free(one: Drawn, step: PlanStep) -> None:
    """A raised stop bars looks as it bars work; an open one may be what the look answers."""
    takes = {*KNOWLEDGE.looks[step.step.rpartition("/")[2]].steps}
    for stop in one.diagnosis.stops:
        if stop.state == "raised":
            assert "all-work" not in stop.bars, (stop.stop, step.step)
            assert not takes & {*stop.bars}, (stop.stop, step.step)


def _each_need_is_met(one: Drawn) -> None:
    for horizon in one.plan.horizons:
        before: set[str] = set()
        for step in horizon.steps:
            assert {*step.needs} <= before
            before.add(step.step)


def _no_limit_passed_on_unknown(one: Drawn) -> None:
    """A limit counts as met only where the sure findings alone say so."""
    rows = one.place.run.settled.values.rows
    truth = CONDITIONS.evaluate(one.place.run.settled.both)
    for method in one.methods:
        for state in method.limits:
            surely = bool(truth.true[AT[state.limit], rows])
            possible = not (truth.false[AT[state.limit], 0] or truth.false[AT[state.limit], rows])
            assert (state.state == "met") <= surely
            assert (state.state in ("made", "not-met")) <= (not possible)
            assert (state.state == "unknown") <= (state.look is not None)
        if method.ruled_out is None:
            assert all(state.state != "not-met" for state in method.limits)
            unknown = any(state.state == "unknown" for state in method.limits)
            assert (method.only_if is not None) == unknown
    doubtful = {m.method for m in one.methods if m.only_if is not None}
    for part in (*one.plan.horizons, *one.plan.waiting):
        for step in part.steps:
            assert step.method not in doubtful or step.only_if is not None


def _explains_itself(one: Drawn) -> None:
    assert len(one.methods) == len(METHODS)
    assert all(m.confidence == 0 and m.ruled_out for m in one.methods if m.ruled_out is not None)
    assert all(state.text for m in one.methods for state in m.limits)
    assert all(0 <= m.confidence < 1 for m in one.methods)
    assert one.plan.tight
    assert one.plan.method is None or one.plan.proof
    assert one.plan.method is None or one.plan.method in one.free
    may_last = {key for key in one.free if "lasting" in METHODS[key].horizons}
    assert (one.plan.method is not None) == bool(may_last)
    assert bool(one.plan.waiting) <= (one.plan.withheld is not None)
    for part in one.plan.waiting:
        for step in part.steps:
            assert step.do
            assert step.barred_by
            assert {*step.barred_by} <= {stop.stop for stop in one.diagnosis.stops}
            assert one.plan.withheld is not None
            assert step.step.rpartition("/")[2].replace("-", " ") in one.plan.withheld
    assert one.plan.method is not None or one.plan.withheld


def _rules_of_the_sheet(one: Drawn) -> None:
    free, plan = one.free, one.plan
    # A stop for a while never closes the job: EN 1504-5 scope (verified), common practice.
    assert plan.method is None or METHODS[plan.method].role not in ("slow", "hold")
    # Live crack: no stiff fill, no coat alone. Handbooks after ACI 224.1R, UFC 4-150-07, GSA
    # (verified).
    if one.stands("moving", "moving"):
        stiff = {"epoxy-injection", "fine-cement-injection", "chase-and-plug"}
        assert not free & {*stiff, "crystalline-slurry", "gravity-fed-resin"}
    # Fine cement from 0.20 mm: German injection table (verified). Under 0.10 mm no resin but with a
    # low chance: common practice.
    if one.stands("crack-visible", "yes") and one.under("crack-width", 0.2):
        assert "fine-cement-injection" not in free
    if one.stands("crack-visible", "yes") and one.under("crack-width", 0.1):
        assert "elastic-resin-injection" not in free
    # A drained lining never with uncontrolled inflow: BS 8102:2009 (verified).
    if one.stands("wetness", "runs"):
        assert "cavity-drainage" not in free
    for method in one.methods:
        if method.method == "cavity-drainage" and method.ruled_out is None:
            upkeep = next(s for s in method.limits if s.limit == "outlet-kept-up")
            assert upkeep.state == "met" or (upkeep.state == "unknown" and method.only_if)
    # Joint with movement: nothing rigid on the face across it. Construction waterproofing handbook
    # (verified).
    if one.stands("joint-kind", "movement-joint"):
        assert not free & {"crystalline-slurry", "flexible-coating"}
    if one.stands("wetness", "runs", "drips"):
        for part in (*plan.horizons, *plan.waiting):
            water_is_led_away_first([s for s in part.steps if s.method is not None])
    _rules_of_water_and_dams(one)


def water_is_led_away_first(work: list[PlanStep]) -> None:
    """Running water is stopped, led away or relieved first: DAfStb, and a handbook (verified).

    A method that begins by doing that itself is in order too: its first step is no preparing.
    """
    first = next((s for s in work if s.method not in HOLDING), None)
    if first is None or first.method is None:
        return
    assert first.method not in NEVER_FIRST or first.kind in LEADS_AWAY, first.step
    led_away = False
    for step in work:
        led_away |= step.kind in LEADS_AWAY or METHODS[step.method or ""].role in NOT_THE_CONCRETE
        if step.kind in ("seal", "protect", "strengthen") and step.method in NEVER_FIRST:
            assert led_away, step.step


def _rules_of_water_and_dams(one: Drawn) -> None:
    free, plan = one.free, one.plan
    # Drinking water: nothing passes without its certificate. DWI advice sheet 7 (verified).
    if one.stands("kind", "drinking-water-reservoir"):
        seen = one.stands("water-contact-certificate", "seen")
        for method in one.methods:
            asks = [s for s in method.limits if s.limit == "drinking-water-certificate"]
            assert all((s.state == "met") <= seen for s in asks)
            if asks and method.ruled_out is None and not seen:
                assert method.only_if is not None
    # A dam or a levee: no repair advice at all. FEMA 484 (verified).
    if one.stands("kind", "dam"):
        assert not free
        assert plan.method is None
        assert not any(part.steps for part in (*plan.horizons, *plan.waiting))
        assert not plan.proof
        assert not plan.load
        assert plan.withheld
    # Make it tight, then strengthen it: UFGS 03931 (verified).
    for part in (*plan.horizons, *plan.waiting):
        kinds = [s.kind for s in part.steps if s.method is not None]
        if "strengthen" in kinds:
            assert "seal" in kinds
            assert "seal" not in kinds[kinds.index("strengthen") :]


@cache
def whole() -> tuple[Drawn, ...]:
    return tuple(examined(EXAMINED, seed=7))


def test_whole_callouts() -> None:
    assert len(whole()) == EXAMINED
    for one in whole():
        check(one)


def test_random_rows() -> None:
    assert len(quick()) == QUICK
    for one in quick():
        check(one)


def test_the_rules_were_all_put_to_the_test() -> None:
    """The draw is wide enough: every rule above has met places that it speaks of."""
    many = (*whole(), *quick())
    assert sum(one.stands("moving", "moving") for one in many) > 50
    assert sum(one.stands("wetness", "runs") for one in many) > 20
    assert sum(one.stands("joint-kind", "movement-joint") for one in many) > 10
    assert sum(one.stands("kind", "dam") for one in many) > 20
    assert sum(one.stands("kind", "drinking-water-reservoir") for one in many) > 20
    for width in (0.1, 0.2):
        assert sum(one.under("crack-width", width) for one in many) > 10
    assert any("cavity-drainage" in one.free for one in many)
    assert sum(one.plan.method is not None for one in many) > len(many) / 2
    assert sum(any(p.steps for p in one.plan.horizons) for one in many) > len(many) / 4
    assert sum(one.plan.withheld is not None for one in many) > len(many) / 4
    assert any(s.state == "made" for one in many for m in one.methods for s in m.limits)
    steps = [s for one in many for p in (*one.plan.horizons, *one.plan.waiting) for s in p.steps]
    assert any(s.kind == "strengthen" for s in steps)


def test_no_limit_is_met_without_the_sure_findings() -> None:
    """Reckoned anew with every unsure finding struck out, by a run of its own."""
    for one in quick()[:200]:
        sure = {key: fact for key, fact in one.place.facts.items() if fact.sure}
        truth = CONDITIONS.evaluate(place_of(KNOWLEDGE, sure).run.settled.values)
        for state in (s for m in one.methods for s in m.limits if s.state == "met"):
            assert truth.true[AT[state.limit], 0], state.limit


AWAY_FROM_THE_WATER = {"outside-sheet-renewal", "cavity-drainage", "duct-inside-seal", "void-fill"}
"""On the dry side of the wall, or in the ground outside."""


@pytest.mark.parametrize(
    "key",
    [key for key, method in METHODS.items() if method.materials and key not in AWAY_FROM_THE_WATER],
)
def test_what_may_touch_drinking_water_asks_for_its_certificate(key: str) -> None:
    """DWI advice sheet 7 and NSF/ANSI 61 (verified): only approved products touch the water."""
    assert "drinking-water-certificate" in METHODS[key].limits


SEALANT_IN_A_TANK = """
# Invented example.
callout: sealant-in-a-tank
structure: {kind: waste-water-tank}
visits: [{date: 2026-03-02}]
leaks:
  - leak: L
    findings: {wetness: runs, stops-in-dry-weather: no, relation-to-joint: at-the-joint}
"""


def test_a_tank_that_runs_is_emptied_before_its_sealant_is_renewed() -> None:
    callout = Callout.parse(SEALANT_IN_A_TANK, "invented.yaml", KNOWLEDGE.attributes)
    diagnosis, place = examine(KNOWLEDGE, callout, callout.leaks[0])
    methods, plan = repair(place, diagnosis, "sealant-renewal")
    assert all(m.ruled_out is None for m in methods if m.method == plan.method)
    for part in (*plan.horizons, *plan.waiting):
        if part.horizon == "lasting":
            water_is_led_away_first([s for s in part.steps if s.method is not None])


@pytest.mark.long
def test_four_hundred_whole_callouts() -> None:
    for one in examined(LONG_EXAMINED, seed=8):
        check(one)


@pytest.mark.long
def test_twenty_thousand_random_places() -> None:
    for one in drawn(LONG, seed=6):
        check(one)
