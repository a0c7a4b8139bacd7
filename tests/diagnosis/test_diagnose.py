"""What is said beside the causes: what it hangs on, looks and their worth, stops, conflicts."""

from dataclasses import replace

import numpy as np
import pytest

from advisor import Callout, open_knowledge
from advisor.callout import resolve
from advisor.diagnosis import Diagnosis, barring, diagnose, table_of
from advisor.diagnosis.looks import next_looks
from advisor.diagnosis.signs import Watch

KNOWLEDGE = open_knowledge()
NO_DANGER = "electrics-near: no, steel-scan: clear-spots-marked, work-cuts: []"
CALM_VISIT = (
    "ground-signs: [], smells: [], water-out-of-hand: [], space-to-enter: no, "
    "dam-or-levee: no, people-in-danger: no"
)
NOTHING_IN_THE_WALL = "kind: basement, tensioned: no, old-materials: none-found"
"""The three, with no danger sign at the visit: all that is open in a basement is answered."""


def callout(findings: str, *, structure: str = "kind: basement", visits: str = "") -> Callout:
    text = f"""
callout: invented
structure: {{{structure}}}
visits: [{{date: 2031-04-16, {visits}}}]
leaks: [{{leak: L1, findings: {{{findings}}}}}]
"""
    return Callout.parse(text, "invented.yaml", KNOWLEDGE.attributes)


def answer(findings: str, **more: str) -> Diagnosis:
    read = callout(findings, **more)
    return diagnose(KNOWLEDGE, read, read.leaks[0])


def test_nothing_known_gives_the_base_rates() -> None:
    for cause in answer("").causes:
        assert cause.confidence == pytest.approx(cause.base_rate)
        assert cause.for_ == cause.against == ()


def test_the_only_finding_carries_the_answer() -> None:
    assert answer("wet-shape: ring").hangs_on == ("wet-shape",)
    assert answer("").hangs_on == ()


def test_a_look_is_worth_the_expected_fall_in_entropy() -> None:
    """By hand for a look that answers one question, read by one family. No other is at hand."""
    one = next(k for k in KNOWLEDGE.looks.values() if k.attributes == ("stones-visible",))
    knowledge = replace(KNOWLEDGE, looks={one.key: one})
    read = callout("wet-zone: wall foot")
    table = table_of(knowledge.engine, [resolve(read, read.leaks[0], knowledge.attributes)])
    run = knowledge.engine.run(table)
    belief = run.beliefs[0]
    entry = next(f for f in KNOWLEDGE.families.values() if f.family.variable == "stones-visible")
    family, right = entry.family, KNOWLEDGE.weights.right_sure
    cells = right * family.likelihood + (1 - right) * family.shares[:, None]
    joint = cells * belief
    chance = joint.sum(axis=1)
    after = joint / chance[:, None]

    def bits(p: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> float:
        p = p[p > 0]
        return float(-(p * np.log2(p)).sum())

    fall = bits(belief) - sum(c * bits(p) for c, p in zip(chance, after, strict=True))
    (look,) = next_looks(knowledge, table, run, Watch(knowledge, run, 0))
    assert look.look == one.key
    assert look.bits == pytest.approx(fall * one.answers, rel=1e-9)


def test_looks_stand_by_bits_a_minute_and_ask_nothing_that_is_known() -> None:
    told = answer("wet-zone: wall foot, stones-visible: no, wet-shape: patch")
    assert 0 < len(told.next) <= 3
    worth = [look.bits / look.minutes for look in told.next]
    assert worth == sorted(worth, reverse=True)
    asked = [KNOWLEDGE.attributes["stones-visible"].question]
    assert not {look.question for look in told.next} & set(asked)


def test_findings_of_one_visit_that_exclude_each_other_are_told() -> None:
    told = answer("wet-shape: [{value: ring}, {value: patch, how: told}]")
    (conflict,) = told.conflicts
    assert conflict.attribute == "wet-shape"
    assert conflict.deduced is None
    both = [line.reading for c in told.causes for line in (*c.for_, *c.against)]
    assert set(both) == {"ring or patch"}


def test_a_finding_against_a_deduction_stands_and_is_told() -> None:
    told = answer("outside-water: above the place", visits="outside-water-level: -4 m")
    (conflict,) = told.conflicts
    assert (conflict.attribute, conflict.found) == ("outside-water", "above-the-place")
    assert conflict.deduced
    assert "What was found stands" in conflict.text


def test_a_finding_where_another_says_that_it_does_not_apply_is_told() -> None:
    told = answer("crack-visible: no, crack-width: 2 mm")
    (conflict,) = told.conflicts
    found = (conflict.attribute, conflict.found, conflict.deduced)
    assert found == ("crack-width", "2 mm", "does not apply")
    assert "crack at the wet place: no" in conflict.text
    assert answer("crack-visible: yes, crack-width: 2 mm").conflicts == ()
    assert answer("crack-width: 2 mm").conflicts == ()


def test_a_need_that_is_not_there_rules_out_with_its_reason() -> None:
    need = next(n for n in KNOWLEDGE.needs.values() if "through-ties" in str(n.when))
    named = {c.key for c in KNOWLEDGE.causes.values() if need.key in c.needs}
    sure = {c.cause: c for c in answer("", structure="kind: basement, through-ties: no").causes}
    told = {
        c.cause: c
        for c in answer("", structure="kind: basement, through-ties: {value: no, how: told}").causes
    }
    assert named
    for key in named:
        assert sure[key].confidence == 0
        assert need.why.because in (sure[key].ruled_out or "")
        assert told[key].ruled_out is None
        assert told[key].needs[0].times == pytest.approx(1 - KNOWLEDGE.weights.right_unsure)


def test_stops_open_at_the_door_until_answered() -> None:
    unanswered = answer("")
    assert {s.state for s in unanswered.stops} == {"open"}
    calm = {"structure": NOTHING_IN_THE_WALL}
    answered = answer(NO_DANGER, visits=f"{CALM_VISIT}, danger-signs: []", **calm)
    assert answered.stops == ()
    bulge = answer(NO_DANGER, visits=f"{CALM_VISIT}, danger-signs: [bulge]", **calm)
    assert [s.state for s in bulge.stops] == ["raised"]
    at_desk = next(k for k in KNOWLEDGE.looks.values() if not k.steps)
    on_site = next(k for k in KNOWLEDGE.looks.values() if "all-work" in k.steps)
    assert barring(KNOWLEDGE, bulge.stops, at_desk) == ()
    assert barring(KNOWLEDGE, bulge.stops, on_site) == (bulge.stops[0].stop,)


TWO_VISITS = """
callout: invented
structure: {{{structure}}}
visits:
  - {{date: 2031-01-15, danger-signs: {first}, {calm}}}
  - {{date: 2032-01-15, danger-signs: []}}
leaks: [{{leak: L1, findings: {{{answered}}}}}]
"""


def test_a_danger_once_seen_is_not_released_by_seeing_none_later() -> None:
    for first, raised in (
        ("[bulge]", 1),
        ("[]", 0),
        # misread, and put right: no sign was ever seen
        ("[{value: [bulge]}, {value: [], corrects: 1}]", 0),
    ):
        text = TWO_VISITS.format(
            first=first, calm=CALM_VISIT, structure=NOTHING_IN_THE_WALL, answered=NO_DANGER
        )
        read = Callout.parse(text, "invented.yaml", KNOWLEDGE.attributes)
        told = diagnose(KNOWLEDGE, read, read.leaks[0])
        assert [s.state for s in told.stops] == ["raised"] * raised


def test_opposite_deductions_are_told_where_nothing_was_found() -> None:
    told = answer("crack-visible: yes, width-trend: stable, step-grows: yes")
    (conflict,) = told.conflicts
    assert conflict.found == "not found, only deduced"
    assert "opposite" in conflict.text


def test_a_given_that_is_unknown_keeps_its_family_silent() -> None:
    """Fluoride tells only where the ground is known to carry none."""
    for structure, read in (
        ("kind: basement", False),
        ("kind: basement, fluoride-in-ground: no", True),
        ("kind: basement, fluoride-in-ground: yes", False),
    ):
        told = answer("fluoride: like-the-tap", structure=structure)
        lines = [line for c in told.causes for line in (*c.for_, *c.against)]
        assert any(line.attribute == "fluoride" for line in lines) == read
