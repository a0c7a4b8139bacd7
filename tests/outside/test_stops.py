"""Every stop: raised by its condition, not without it, and open where nobody has answered.

The conditions and their sources stand in stop_conditions.py. All callouts are invented.
"""

from functools import cache

import pytest

from advisor import Callout, open_knowledge
from advisor.diagnosis import Diagnosis, answered_by, diagnose
from advisor.knowledge.entries import STEPS
from tests.outside.stop_case import NEITHER, OPEN, RAISED, Answers, Case
from tests.outside.stop_conditions import BESIDES, CONDITIONS

KNOWLEDGE = open_knowledge()


@cache
def _told(structure: str, visit: str, findings: str) -> Diagnosis:
    text = f"""
callout: invented
structure: {{{structure}}}
visits: [{{date: 2031-04-16, {visit}}}]
leaks: [{{leak: L1, findings: {{{findings}}}}}]
"""
    read = Callout.parse(text, "invented.yaml", KNOWLEDGE.attributes)
    return diagnose(KNOWLEDGE, read, read.leaks[0])


def told(answers: Answers) -> Diagnosis:
    """A basement, or what the answers say. Each answer stands where its attribute belongs."""
    blocks = {"structure": "", "visit": "", "leak": ""}
    for key, value in ({"kind": "basement"} | dict(answers)).items():
        blocks[KNOWLEDGE.attributes[key].of] += f"{key}: {value}, "
    return _told(blocks["structure"], blocks["visit"], blocks["leak"])


def state(stop: str, answers: Answers) -> str:
    return next((s.state for s in told(answers).stops if s.stop == stop), NEITHER)


TOLD_OF = [
    (f"{words}: {case.stop}", case)
    for table in (CONDITIONS, BESIDES)
    for (words, _), cases in table.items()
    for case in cases
]
EVERY = [pytest.param(case, id=name) for name, case in TOLD_OF]


def test_all_conditions_of_the_sheet_and_all_stops_are_here() -> None:
    assert len(CONDITIONS) == 36
    assert {case.stop for _, case in TOLD_OF} == KNOWLEDGE.stops.keys()


@pytest.mark.parametrize("case", EVERY)
def test_it_is_raised_by_its_condition(case: Case) -> None:
    assert state(case.stop, {**case.beside, **case.finding}) == RAISED


@pytest.mark.parametrize("case", EVERY)
def test_without_its_condition_it_is_not_raised(case: Case) -> None:
    """Asked and found otherwise it is closed; with nothing said it is open or not there."""
    if case.answer:
        assert state(case.stop, {**case.beside, **case.answer}) == NEITHER
    assert state(case.stop, case.beside) == case.unanswered


# The door.

AT_THE_DOOR = [s for s in KNOWLEDGE.stops.values() if s.asked == "at-the-door"]
QUESTIONS = sorted({key for s in AT_THE_DOOR for key in answered_by(KNOWLEDGE, s.key)})
CALM = {key: "no" if KNOWLEDGE.attributes[key].kind == "yes-no" else "[]" for key in QUESTIONS}


def test_there_are_eight_questions_at_the_door_and_one_look_answers_them() -> None:
    assert len(QUESTIONS) == 8
    assert {*QUESTIONS} == {*KNOWLEDGE.looks["ask-at-the-door"].attributes}
    assert KNOWLEDGE.looks["ask-at-the-door"].steps == ()
    for key in QUESTIONS:
        assert KNOWLEDGE.attributes[key].kind in ("yes-no", "several")
        assert KNOWLEDGE.attributes[key].of in ("visit", "leak")


def test_all_are_open_in_an_empty_callout_and_none_once_they_are_answered() -> None:
    doors = {s.key for s in AT_THE_DOOR}
    assert {s.stop for s in told({}).stops if s.state == OPEN} >= doors
    assert not {s.stop for s in told(CALM).stops} & doors


@pytest.mark.parametrize("key", QUESTIONS)
def test_each_question_closes_its_own_stops_only(key: str) -> None:
    doors = {s.key for s in AT_THE_DOOR}
    own = {s for s in doors if key in answered_by(KNOWLEDGE, s)}
    assert {s.stop for s in told({key: CALM[key]}).stops} & doors == doors - own


def test_every_choice_asked_at_the_door_raises_something() -> None:
    for key in QUESTIONS:
        attribute = KNOWLEDGE.attributes[key]
        said = [f"[{c.key}]" for c in attribute.choices] if attribute.kind == "several" else ["yes"]
        for value in said:
            assert RAISED in {s.state for s in told({**CALM, key: value}).stops}


def test_where_people_must_leave_nobody_goes_in_and_nobody_works() -> None:
    for key in (
        "people-in-danger",
        "water-near-power",
        "smell-of-gas-or-fuel",
        "smell-of-sewage",
        "chlorine-fumes",
        "rising-water",
        "sunken-ground",
        "noise-or-dust",
        "bulging-wall",
        "sagging-slab",
        "heaving-floor",
        "loose-overhead",
        "cracked-support",
        "hanging-water",
    ):
        assert {"all-work", "enter"} <= {*KNOWLEDGE.stops[key].bars}


def test_a_closed_space_bars_going_in_and_gives_no_permit() -> None:
    stop = KNOWLEDGE.stops["space-to-enter"]
    assert stop.bars == ("enter",)
    assert "gas test" in stop.do
    assert "entry permit" in stop.released_by


@pytest.mark.parametrize("key", ["dam", "dam-or-levee"])
def test_a_dam_or_levee_bars_all_but_looking_and_gets_no_advice(key: str) -> None:
    stop = KNOWLEDGE.stops[key]
    assert {*stop.bars} == {*STEPS} - {"all-work", "enter"}
    assert stop.no_advice
    assert "No repair advice" in stop.do
    assert stop.do.startswith("Record and measure only.")


def test_a_dam_is_not_asked_whether_it_is_one() -> None:
    assert state("dam-or-levee", {"kind": "dam"}) == NEITHER
    assert state("dam", {"kind": "dam", "dam-or-levee": "no"}) == RAISED


# What must be known before a tool touches it.

BEFORE = {
    "tensioned-part": ("tensioned", "no"),
    "something-in-the-way": ("steel-scan", "clear-spots-marked"),
    "old-materials": ("old-materials", "none-found"),
    "cuts-the-structure": ("work-cuts", "[]"),
    "digs-beside-the-wall": ("work-cuts", "[]"),
}


def test_drilling_breaking_out_and_digging_wait_for_answers_in_an_empty_callout() -> None:
    states = {s.stop: s for s in told(CALM).stops}
    assert states.keys() == BEFORE.keys()
    assert {step for s in states.values() for step in s.bars} == {
        "drill",
        "break-out",
        "inject",
        "dig",
    }
    assert told({**CALM, **dict(BEFORE.values())}).stops == ()


def test_a_young_building_that_is_suspected_all_the_same_is_stopped() -> None:
    young = {"pour-date": "2029-05-01", "old-materials": "suspected"}
    assert state("old-materials", young) == RAISED
    assert told(young).conflicts


def test_every_stop_can_be_answered_by_a_look() -> None:
    answered = {key for look in KNOWLEDGE.looks.values() for key in look.attributes}
    for stop in KNOWLEDGE.stops.values():
        if stop.key != "dam":  # the kind of structure is always said
            assert answered_by(KNOWLEDGE, stop.key) & answered, stop.key


def test_what_is_for_now_says_who_is_called_or_what_to_leave_alone() -> None:
    for stop in KNOWLEDGE.stops.values():
        assert stop.released_by
        assert stop.do.split()[0] not in ("Consider", "Should")
        if stop.urgency in ("now", "today"):
            assert {"seal", "rigid-fill", "inject", "drill", "all-work", "enter"} & {*stop.bars}
