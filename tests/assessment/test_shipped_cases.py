"""The shipped worked cases: that they cover the trade, and that the answers hold their floor."""

from pathlib import Path

import pytest

from advisor import Callout, assess, open_knowledge
from advisor.assessment.cases import FLOOR
from advisor.assessment.worked import Case, below_floor, read_cases, score
from advisor.knowledge import shipped

KNOWLEDGE = open_knowledge()
WORKED = shipped("cases") / "worked"


@pytest.fixture(scope="module")
def shipped_cases() -> tuple[Case, ...]:
    cases, problems = read_cases([WORKED], KNOWLEDGE)
    assert problems == ()
    return cases


def test_there_are_enough_and_half_are_blind(shipped_cases: tuple[Case, ...]) -> None:
    assert len(shipped_cases) >= 120
    assert sum(c.truth.blind for c in shipped_cases) >= 60
    for c in shipped_cases:
        assert Path(c.callout.file).parent.name == ("blind" if c.truth.blind else "seen")


def test_every_cause_occurs(shipped_cases: tuple[Case, ...]) -> None:
    truths = {cause for c in shipped_cases for cause in c.truth.causes}
    assert KNOWLEDGE.causes.keys() - truths == set()


def test_every_kind_of_structure_occurs(shipped_cases: tuple[Case, ...]) -> None:
    kinds = [choice.key for choice in KNOWLEDGE.attributes["kind"].choices]
    masks = {c.callout.structure["kind"].readings[-1].value for c in shipped_cases}
    assert masks >= {1 << place for place in range(len(kinds))}


def test_enough_are_not_plain(shipped_cases: tuple[Case, ...]) -> None:
    """Not through the concrete, two causes, hardly a finding, a finish before the concrete."""

    def through(case: Case) -> set[str]:
        return {KNOWLEDGE.groups[KNOWLEDGE.causes[c].group].through for c in case.truth.causes}

    surfaces = [choice.key for choice in KNOWLEDGE.attributes["surface-here"].choices]
    finishes = {1 << place for place, key in enumerate(surfaces) if key != "bare-concrete"}
    places = [(c, leak.findings) for c in shipped_cases for leak in c.callout.leaks]
    finished = {
        c.callout.file
        for c, findings in places
        if "surface-here" in findings and findings["surface-here"].readings[-1].value in finishes
    }
    more = {c.callout.file for c, findings in places if len(findings) > 4}
    assert sum(through(c) == {"no"} for c in shipped_cases) >= 20
    assert sum(len(c.truth.causes) > 1 for c in shipped_cases) >= 12
    assert sum(c.callout.file not in more for c in shipped_cases) >= 15
    assert len(finished) >= 10


def test_every_case_is_marked_as_invented_and_says_why(shipped_cases: tuple[Case, ...]) -> None:
    for c in shipped_cases:
        assert Path(c.callout.file).read_text().startswith("# Invented example.")
        assert c.truth.because


def test_every_wet_place_is_answered(shipped_cases: tuple[Case, ...]) -> None:
    for c in shipped_cases:
        result = assess(c.callout, KNOWLEDGE)
        assert [leak.leak for leak in result.leaks] == [leak.key for leak in c.callout.leaks]
        for leak in result.leaks:
            assert sum(cause.confidence for cause in leak.causes) == pytest.approx(1, abs=1e-9)


def test_one_table_gives_what_one_by_one_gives(shipped_cases: tuple[Case, ...]) -> None:
    misses = {(m.file, m.leak): m for m in score(shipped_cases, KNOWLEDGE).misses}
    for c in shipped_cases:
        for leak in assess(c.callout, KNOWLEDGE).leaks:
            led = leak.causes[0]
            miss = misses.get((leak.file, leak.leak))
            assert (miss is None) == (led.cause in c.truth.causes)
            if miss is not None:
                assert (miss.led, miss.led_confidence) == (led.cause, pytest.approx(led.confidence))


def test_the_floor_holds(shipped_cases: tuple[Case, ...]) -> None:
    assert below_floor(score(shipped_cases, KNOWLEDGE), WORKED / FLOOR) == ()


# What the seen cases are there to show.


@pytest.mark.parametrize(
    ("file", "leak", "stops"),
    [
        ("cellar-foot-with-perched-water", 0, ["soil-in-the-water"]),
        ("dam-gallery-block-face", 0, ["dam"]),
        (
            "retaining-wall-beside-the-new-cellar",
            0,
            ["fresh-step", "step-at-a-crack", "growing-crack", "works-nearby-before-it"],
        ),
    ],
)
def test_raised_stops(file: str, leak: int, stops: list[str]) -> None:
    result = assess(Callout.read(WORKED / "seen" / f"{file}.yaml"), KNOWLEDGE).leaks[leak]
    assert [s.stop for s in result.stops if s.state == "raised"] == stops


@pytest.mark.parametrize(
    ("file", "conflict"),
    [
        (
            "cellar-foot-with-perched-water",
            ("outside-water", "above-the-place", "moist-ground or below-the-place"),
        ),
        ("car-park-corner-with-a-grout-skin", ("sounding", "solid, hollow", None)),
    ],
)
def test_contradictions_are_shown(file: str, conflict: tuple[str, str, str | None]) -> None:
    result = assess(Callout.read(WORKED / "seen" / f"{file}.yaml"), KNOWLEDGE).leaks[0]
    assert [(c.attribute, c.found, c.deduced) for c in result.conflicts] == [conflict]


@pytest.mark.parametrize(
    ("file", "times"),
    [
        ("basement-anchor-in-a-one-sided-wall", 0),
        ("terrace-wall-spots-in-two-rows", pytest.approx(0.3)),
    ],
)
def test_a_need_that_is_not_there(file: str, times: float) -> None:
    """Known not there: out. Only told so: much less likely."""
    result = assess(Callout.read(WORKED / "seen" / f"{file}.yaml"), KNOWLEDGE).leaks[0]
    tie_hole = next(c for c in result.causes if c.cause == "formwork-tie-hole")
    assert [(n.need, n.times) for n in tie_hole.needs] == [("ties-through-the-wall", times)]
    assert (tie_hole.confidence == 0) == (tie_hole.ruled_out is not None) == (times == 0)


def test_a_family_whose_condition_stays_unknown_is_silent() -> None:
    """Behind the render nobody knows of a crack, so the thickness of the wall says nothing."""
    file = WORKED / "seen" / "plastered-hall-narrow-upright-stain.yaml"
    result = assess(Callout.read(file), KNOWLEDGE).leaks[0]
    read = {e.attribute for c in result.causes for e in (*c.for_, *c.against)}
    assert {"wall-thickness", "length-to-height", "hot-pour"} & read == set()
    assert "wet-shape" in read
