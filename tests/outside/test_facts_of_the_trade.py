"""What the trade has printed, as checks on the shipped knowledge.

Each test names where the sentence comes from. Rankings are tested, not decimals: nobody has
published how likely a sign is under a cause.
"""

import textwrap

import numpy as np
import pytest

from advisor import Callout, assess, open_knowledge
from advisor.assessment import LeakResult

KNOWLEDGE = open_knowledge()
CAUSES = list(KNOWLEDGE.causes)


def answer(findings: str = "", *, structure: str = "", danger: str = "") -> LeakResult:
    """The answer for one wet place in a basement. findings, structure: lines of a callout file."""
    text = "callout: invented\nstructure:\n  kind: basement\n"
    text += textwrap.indent(structure, "  ") + "\n"
    text += f"visits: [{{date: 2031-04-16, danger-signs: [{danger}]}}]\nleaks:\n  - leak: L1\n"
    if findings:
        text += "    findings:\n" + textwrap.indent(findings, " " * 6)
    callout = Callout.parse(text, "invented.yaml", KNOWLEDGE.attributes)
    return assess(callout, KNOWLEDGE).leaks[0]


def belief(result: LeakResult, cause: str) -> float:
    return next(c.confidence for c in result.causes if c.cause == cause)


def times(result: LeakResult, cause: str, attribute: str) -> float:
    """What a finding did to a cause; 1 where it says nothing."""
    line = next(c for c in result.causes if c.cause == cause)
    return next((e.times for e in (*line.for_, *line.against) if e.attribute == attribute), 1.0)


# When cracks form. Source: the Concrete Society, table of non-structural cracks: early thermal
# contraction one day to two or three weeks, long-term drying several weeks or months.

FORMED = "crack-visible: yes\ncrack-first-seen: {} d\ncould-be-seen-before: yes"
NOTICED = "crack-visible: yes\ncrack-first-seen: {} d"


@pytest.mark.parametrize("days", [1, 3, 10, 20])
def test_a_crack_formed_in_the_first_weeks_speaks_for_heat(days: int) -> None:
    result = answer(FORMED.format(days))
    assert times(result, "early-thermal-crack", "crack-formed") > 3
    assert times(result, "drying-shrinkage-crack", "crack-formed") < 1 / 3


@pytest.mark.parametrize("days", [30, 80, 200, 600])
def test_a_crack_formed_after_weeks_or_months_speaks_for_drying(days: int) -> None:
    result = answer(FORMED.format(days))
    assert times(result, "drying-shrinkage-crack", "crack-formed") > 2
    assert times(result, "early-thermal-crack", "crack-formed") < 1 / 3


def test_a_crack_of_the_first_hours_is_neither_heat_nor_drying() -> None:
    result = answer(NOTICED.format("0.1"))
    for cause in ("early-thermal-crack", "drying-shrinkage-crack"):
        assert times(result, cause, "crack-formed") < 1 / 3


@pytest.mark.parametrize("days", [30, 120, 900])
def test_first_noticed_is_weaker_than_formed(days: int) -> None:
    noticed, formed = answer(NOTICED.format(days)), answer(FORMED.format(days))
    assert belief(noticed, "early-thermal-crack") > 2 * belief(formed, "early-thermal-crack")
    assert times(noticed, "early-thermal-crack", "crack-formed") >= 1


def test_noticed_after_years_says_nothing_about_when_it_formed() -> None:
    result = answer(NOTICED.format(3000))
    for cause in CAUSES:
        assert times(result, cause, "crack-formed") == 1


# Walls held by their base. Source: ACI Structural Journal 123(2), 2026: above a length of eight
# heights full-height cracks are to be expected. The lower end (free at the top up to two
# heights): EN 1992-3 annex L, from memory.


def long_wall(ratio: float) -> LeakResult:
    length = f"bay-length: {3 * ratio} m\nwall-height: 3 m"
    return answer(f"member: wall\ncrack-visible: yes\n{length}")


def test_a_long_low_wall_cracks_over_its_full_height() -> None:
    assert times(long_wall(8.5), "early-thermal-crack", "length-to-height") > 1


def test_a_short_high_wall_is_free_at_its_top() -> None:
    assert times(long_wall(1.5), "early-thermal-crack", "length-to-height") < 1


def test_the_longer_the_wall_the_likelier_the_thermal_crack() -> None:
    beliefs = [belief(long_wall(ratio), "early-thermal-crack") for ratio in (1.5, 3, 6, 8.5)]
    assert beliefs == sorted(beliefs)
    assert beliefs[-1] > beliefs[0]


# Slab cracks. Source: theconcreteproducer.com, plastic against drying shrinkage cracks, and
# engineeringlectures.com, cracks in concrete.


@pytest.mark.parametrize("other", ["plastic-shrinkage-crack", "not-in-this-list"])
def test_a_slab_crack_that_reaches_the_edge_speaks_for_drying(other: str) -> None:
    slab = "member: floor\ncrack-visible: yes\ncrack-to-edge: "
    open_end, edge, short = (answer(slab + end) for end in ("unknown", "yes", "no"))
    drying = "drying-shrinkage-crack"

    def odds(result: LeakResult) -> float:
        return belief(result, drying) / belief(result, other)

    assert odds(edge) > 1.5 * odds(open_end)
    assert odds(short) < odds(open_end) / 1.5


# Condensation. Physics: air drops water only on a face at or under its dew point; in air of
# 20 °C and 60 % that is 12.0 °C.


def sweating(surface: float) -> LeakResult:
    room = "air-temperature: 20 °C\nair-humidity: '60 %'"
    return answer(f"{room}\nsurface-temperature: {surface} °C")


@pytest.mark.parametrize("surface", [8.0, 11.5, 11.8])
def test_a_face_under_the_dew_point_speaks_for_condensation(surface: float) -> None:
    assert times(sweating(surface), "surface-condensation", "dew-margin") > 5


@pytest.mark.parametrize("surface", [14.5, 16.0, 19.0])
def test_a_face_well_above_the_dew_point_speaks_against_it(surface: float) -> None:
    assert times(sweating(surface), "surface-condensation", "dew-margin") < 1 / 5


# Foil test. Source: basementhealth.org, condensation or penetration; that a dry sheet proves
# little: texts on ASTM D4263.


def test_foil_wet_on_the_room_side() -> None:
    before, after = answer(), answer("foil-test: wet-room-side")
    assert belief(after, "surface-condensation") > 3 * belief(before, "surface-condensation")
    assert after.through.yes < before.through.yes


def test_foil_wet_on_the_wall_side() -> None:
    before, after = answer(), answer("foil-test: wet-wall-side")
    assert belief(after, "surface-condensation") < belief(before, "surface-condensation") / 3
    assert after.through.yes > before.through.yes


def test_a_dry_foil_proves_little() -> None:
    result = answer("foil-test: dry")
    for cause in CAUSES:
        assert 1 / 2 < times(result, cause, "foil-test") < 2


# Water chemistry. Source: edtengineers.com, where did the water come from (chlorine leaves
# standing water; ground with fluorspar matches the tap); facilitiesnet.com, leak investigation
# (chlorine found marks the mains).


def test_chlorine_found_speaks_for_a_pipe_and_its_absence_says_little() -> None:
    found, absent = answer("chlorine: found"), answer("chlorine: not-found")
    assert times(found, "supply-pipe-leak", "chlorine") > 5
    assert 1 / 2 < times(absent, "supply-pipe-leak", "chlorine") < 1


def test_fluoride_marks_the_tap_where_the_ground_has_none() -> None:
    result = answer("fluoride: like-the-tap", structure="fluoride-in-ground: no")
    assert times(result, "supply-pipe-leak", "fluoride") > 1.5


def test_fluoride_tells_nothing_where_the_ground_carries_it() -> None:
    without = answer(structure="fluoride-in-ground: yes")
    result = answer("fluoride: like-the-tap", structure="fluoride-in-ground: yes")
    assert belief(result, "supply-pipe-leak") == belief(without, "supply-pipe-leak")


# What the flow follows. Source: facilitiesnet.com, leak investigation: a leak that runs the same
# whatever the weather points to plumbing.


def test_a_constant_flow_without_weather_link_speaks_for_a_pipe() -> None:
    before = answer()
    after = answer("flow-over-time: constant\nwet-after-rain: no")
    assert belief(after, "supply-pipe-leak") > 2 * belief(before, "supply-pipe-leak")


@pytest.mark.parametrize("link", ["wet-after-rain: yes", "stops-in-dry-weather: yes"])
def test_a_weather_link_speaks_against_a_pipe(link: str) -> None:
    before, after = answer(), answer(link)
    assert belief(after, "supply-pipe-leak") < belief(before, "supply-pipe-leak") / 3


# Gut bacteria. Source: facilitiesnet.com, leak investigation: they raise the sewer.


def test_gut_bacteria_raise_the_sewer_and_speak_against_pipe_and_air() -> None:
    before, after = answer(), answer("e-coli: found")
    assert belief(after, "waste-water-leak") > 3 * belief(before, "waste-water-leak")
    assert after.causes[0].cause == "waste-water-leak"
    for cause in ("supply-pipe-leak", "heating-pipe-leak", "fire-main-leak"):
        assert belief(after, cause) < belief(before, cause) / 3
    assert belief(after, "surface-condensation") < belief(before, "surface-condensation") / 3


# White lime. Source: the Concrete Society, lime leaching (it marks the way through concrete), and
# highlandpropertyinspections.ca, wet basements (not whether the leak is live, nor how bad it is).


def test_lime_speaks_for_a_way_through_the_concrete() -> None:
    before, after = answer(), answer("deposits: {has: [lime]}")
    assert belief(after, "surface-condensation") < belief(before, "surface-condensation") / 3
    assert after.through.yes > before.through.yes


@pytest.mark.parametrize("crack", ["width-trend: stable", "width-trend: seasonal", ""])
def test_lime_leaves_moving_or_not_and_the_stops_alone(crack: str) -> None:
    cracked = "crack-visible: yes\n" + crack
    before, after = answer(cracked), answer(f"{cracked}\ndeposits: {{has: [lime]}}")
    assert [c for c in after.contributors if c.contributor == "it-moves"] == [
        c for c in before.contributors if c.contributor == "it-moves"
    ]
    assert after.stops == before.stops


# Round spots. Source: stepbystep.com and thisoldhouse.com on rod holes; that they lie on the grid
# of the formwork is common practice, no source.


def test_round_spots_on_a_regular_grid_are_tie_holes_before_penetrations() -> None:
    spots = "".join(
        f"  - leak: S{i}\n    findings:\n      wet-shape: round-spot\n"
        f"      along-metres: {1.0 + 1.35 * i:.2f} m\n      up-metres: 0.5 m\n"
        for i in range(3)
    )
    text = "callout: invented\nstructure: {kind: basement}\nvisits: [{date: 2031-04-16}]\nleaks:\n"
    callout = Callout.parse(text + spots, "invented.yaml", KNOWLEDGE.attributes)
    for result in assess(callout, KNOWLEDGE).leaks:
        assert result.causes[0].cause == "formwork-tie-hole"
        assert belief(result, "formwork-tie-hole") > 5 * belief(result, "service-penetration")


def test_round_spots_off_the_grid_are_hardly_tie_holes() -> None:
    """Common practice, no source."""
    before = answer("wet-shape: round-spot")
    after = answer("wet-shape: round-spot\non-tie-grid: off-grid")
    assert belief(after, "formwork-tie-hole") < belief(before, "formwork-tie-hole") / 2


# Waterstops. Source: aecinfo.com, waterstop quality list, and constructionspecifier.com,
# understanding waterstops: most of them fail at welds.


@pytest.mark.parametrize("detail", ["lap-or-end", "crossing", "corner"])
def test_a_leak_at_a_lap_tee_or_corner_raises_the_waterstop(detail: str) -> None:
    before = answer("relation-to-joint: at the joint")
    after = answer(f"relation-to-joint: at the joint\njoint-detail: {detail}")
    assert belief(after, "waterstop-fault") > 2 * belief(before, "waterstop-fault")
    for joint in ("wall-foot-joint", "vertical-construction-joint"):
        assert belief(after, joint) < belief(before, joint)


# Wetness. Source: the German tunnel classes (ZTV-ING) in Tunnel Engineering, table 5-14: paper
# that stays dry is a damp patch, paper that colours without drops is a wet patch. The test is
# kept, not the word of a scheme.


def test_wetness_is_kept_by_its_test() -> None:
    labels = {c.key: c.label for c in KNOWLEDGE.attributes["wetness"].choices}
    assert "paper stay dry" in labels["hand-dry"]
    assert "paper colours" in labels["paper-colours"]
    assert "no drops" in labels["paper-colours"]
    words = " ".join([*labels, *labels.values()]).replace("-", " ").split()
    assert not {"damp", "seep", "seepage", "weep", "moist", "patch"} & set(words)


# Signs for an engineer. Common practice, no source; safety.


@pytest.mark.parametrize(
    ("findings", "danger", "stop"),
    [
        ("crack-visible: yes\ncrack-form: slanting-at-support", "", "slanting-crack-at-support"),
        ("crack-visible: yes\ncrack-form: horizontal-mid-height", "", "crack-at-half-height"),
        ("crack-visible: yes\ncrack-form: round-a-column", "", "cracks-round-a-column"),
        ("crack-visible: yes\nstep-grows: yes", "", "growing-crack"),
        ("crack-visible: yes\nstep-across-crack: step", "", "step-at-a-crack"),
        ("member: floor", "heave", "heaving-floor"),
        ("member: ceiling", "sag", "sagging-slab"),
        ("member: wall", "fresh-step", "fresh-step"),
    ],
)
def test_signs_for_an_engineer_come_first(findings: str, danger: str, stop: str) -> None:
    first = answer(findings, danger=danger).stops[0]
    assert (first.stop, first.state) == (stop, "raised")
    assert "engineer" in first.do + first.released_by
    assert {"inject", "rigid-fill", "seal", "all-work"} & set(first.bars)


# Pairs that one observation tells apart. Common practice, no source.


@pytest.mark.parametrize(
    ("one", "other", "attribute"),
    [
        ("early-thermal-crack", "drying-shrinkage-crack", "crack-formed"),
        ("early-thermal-crack", "drying-shrinkage-crack", "wall-thickness"),
        ("early-thermal-crack", "drying-shrinkage-crack", "member"),
        ("early-thermal-crack", "drying-shrinkage-crack", "width-trend"),
        ("early-thermal-crack", "settlement-crack", "crack-form"),
        ("early-thermal-crack", "settlement-crack", "crack-spacing"),
        ("early-thermal-crack", "settlement-crack", "step-across-crack"),
        ("wall-foot-joint", "surface-condensation", "dew-margin"),
        ("wall-foot-joint", "surface-condensation", "deposits.lime"),
        ("waterstop-fault", "honeycomb", "relation-to-joint"),
        ("waterstop-fault", "honeycomb", "sounding"),
        ("service-penetration", "supply-pipe-leak", "pipe-shut-off"),
    ],
)
def test_one_observation_tells_a_pair_apart(one: str, other: str, attribute: str) -> None:
    """Some reading is five times as likely under the one as under the other, before slips."""
    table = next(
        entry.family.likelihood
        for entry in KNOWLEDGE.families.values()
        if entry.family.variable == attribute
    )
    ratio = table[:, CAUSES.index(one)] / table[:, CAUSES.index(other)]
    assert np.maximum(ratio, 1 / ratio).max() >= 5
