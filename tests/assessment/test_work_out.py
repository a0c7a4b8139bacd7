"""Subjects worked out by hand: every shipped example, what is missing, what cannot be."""

import json
from math import isfinite
from typing import Any

import pytest

from advisor.assessment import missing, to_json, work_out
from advisor.knowledge import Sum, open_knowledge
from advisor.terms import Faulty

KNOWLEDGE = open_knowledge()
SUBJECTS = [s for s in KNOWLEDGE.sums.values() if not s.loads]


def worked(subject: str, **given: str) -> dict[str, Any]:
    """The result as its JSON."""
    words = {key.replace("_", "-"): value for key, value in given.items()}
    found: dict[str, Any] = json.loads(to_json(work_out(KNOWLEDGE, KNOWLEDGE.sums[subject], words)))
    return found


def problems(subject: str, **given: str) -> list[str]:
    with pytest.raises(Faulty) as caught:
        worked(subject, **given)
    return [str(problem) for problem in caught.value.problems]


def test_the_subjects_that_were_asked_for_are_there() -> None:
    asked = (
        "dew-point condensation crack-flow hydraulic-width hole-flow healing evaporation uplift "
        "gradient tank-test pool-test tightness drops movement dosing chemistry"
    )
    assert set(asked.split()) <= set(KNOWLEDGE.sums)


@pytest.mark.parametrize("subject", SUBJECTS, ids=lambda s: s.key)
def test_every_example_answers_its_subject(subject: Sum) -> None:
    found = work_out(KNOWLEDGE, subject, subject.example)
    assert found.valid
    assert "cannot be judged" not in found.verdict
    assert found.inputs == subject.example
    assert found.source
    for result in found.results:
        assert result.low is not None
        assert result.high is not None
        assert isfinite(result.low)
        assert isfinite(result.high)
        assert result.low <= result.high
        if result.likely is not None:
            assert result.low <= result.likely <= result.high


@pytest.mark.parametrize("subject", SUBJECTS, ids=lambda s: s.key)
def test_what_a_subject_asks_for_is_missing_without_it(subject: Sum) -> None:
    assert missing(KNOWLEDGE, subject, subject.example) == ()
    for key in subject.asks:
        if key in subject.example:
            rest = {other: v for other, v in subject.example.items() if other != key}
            assert key in missing(KNOWLEDGE, subject, rest)


def test_the_form_of_a_result() -> None:
    found = worked("dew-point", air_temperature="20 °C", air_humidity="60 %")
    assert list(found) == [
        "subject",
        "inputs",
        "results",
        "verdict",
        "formula",
        "source",
        "valid",
        "remarks",
    ]
    (result,) = found["results"]
    assert list(result) == ["what", "low", "likely", "high", "unit"]
    # 12.0 °C: checked against PsychroLib in tests/outside.
    assert result["likely"] == pytest.approx(12.0, abs=0.02)
    assert result["unit"] == "°C"


def test_ranges_in_ranges_out() -> None:
    found = worked("dew-point", air_temperature="19-21 °C", air_humidity="55-65 %")
    (result,) = found["results"]
    ends = [
        worked("dew-point", air_temperature=t, air_humidity=h)["results"][0]["likely"]
        for t, h in (("19 °C", "55 %"), ("20 °C", "60 %"), ("21 °C", "65 %"))
    ]
    assert [result["low"], result["likely"], result["high"]] == pytest.approx(ends)


def test_what_nobody_measured_is_taken_and_told() -> None:
    given = {"crack_width": "0.2 mm", "head_here": "3 m", "wall_thickness": "300 mm"}
    unknown, known = (
        worked("crack-flow", **given),
        worked("crack-flow", water_temperature="10 °C", **given),
    )
    assert any("taken as 4-20 °C" in str(r) for r in unknown["remarks"])
    assert not any("taken as" in str(r) for r in known["remarks"])


def test_missing_inputs_are_named_with_another_way() -> None:
    told = problems("crack-flow", crack_width="0.2 mm")
    assert len(told) == 2
    assert "outside-water-level and place-level" in told[0]
    assert "wall-thickness='300 mm'" in told[1]


def test_heights_stand_in_for_the_head() -> None:
    found = worked(
        "gradient",
        kind="basement",
        outside_water_level="3.2 m",
        place_level="0.2 m",
        wall_thickness="300 mm",
    )
    assert found["results"][0]["likely"] == pytest.approx(10)


def test_water_below_the_place_is_no_bad_input() -> None:
    found = worked("gradient", head_here="-2 m", wall_thickness="300 mm")
    assert found["results"][0]["likely"] == 0
    assert found["valid"] is True


@pytest.mark.parametrize(
    ("subject", "given", "said"),
    [
        ("dew-point", {"air_temperature": "400 °C", "air_humidity": "60 %"}, "400 °C cannot be"),
        (
            "crack-flow",
            {"crack_width": "80 mm", "head_here": "3 m", "wall_thickness": "50 mm"},
            "cannot be wider than the part is thick",
        ),
        (
            "crack-flow",
            {"crack_width": "0.2 mm", "head_here": "3 m", "wall_thickness": "0 mm"},
            "wall-thickness: 0 mm cannot be; expected 20-20000 mm",
        ),
        ("dew-point", {"air_temperature": "20", "air_humidity": "60 %"}, "the unit is missing"),
        ("dew-point", {"air_temperature": "20 mm", "air_humidity": "60 %"}, "is a unit of length"),
        (
            "dew-point",
            {"air_temperature": "20 °C", "air_humidty": "60 %"},
            'did you mean "air-humidity"',
        ),
        ("dew-point", {"air_temperature": "warm", "air_humidity": "60 %"}, "does not start with"),
        ("dew-point", {"deposits": "lime", "air_humidity": "60 %"}, "nothing that can be given"),
    ],
)
def test_what_cannot_be_is_refused(subject: str, given: dict[str, str], said: str) -> None:
    (told, *_) = problems(subject, **given)
    assert said in told
    assert not told.startswith("0:")


def test_outside_its_validity_nothing_is_said_but_why() -> None:
    found = worked(
        "condensation", surface_temperature="70 °C", air_temperature="65 °C", air_humidity="50 %"
    )
    assert found["valid"] is False
    assert [r["low"] for r in found["results"]] == [None] * len(found["results"])
    assert "The formula holds from -45 to 60 °C." in found["remarks"]
    assert "cannot be judged" in str(found["verdict"])


def test_each_water_struck_out_is_told_with_the_measurement() -> None:
    found = worked("chemistry", chloride="19 g/L", free_chlorine="0 mg/L")
    # Rain is not judged by chloride: it carries road salt along.
    assert found["verdict"].endswith(
        "rain or surface water, waste water, sea or tidal water, pool water"
    )
    assert "It cannot be tap water: chloride in the water." in found["remarks"]


def test_nothing_measured_strikes_nothing_out() -> None:
    assert "cannot be judged" in str(worked("chemistry")["verdict"])


TANK = {
    "level_drop": "9 mm",
    "pan_drop": "5.5 mm",
    "test_days": "3 d",
    "water_depth": "5 m",
    "loss_rule": "share-of-volume",
    "stage": "handed-over",
}


def test_the_agreed_rule_decides_and_the_others_are_told() -> None:
    within, beyond = worked("tank-test", **TANK), worked("tank-test", **TANK | {"pan_drop": "0 mm"})
    assert "within the agreed allowance" in within["verdict"]
    assert "beyond the agreed allowance" in beyond["verdict"]
    assert any("BS 8007" in remark for remark in within["remarks"])


def test_an_acceptance_test_is_no_limit_for_a_tank_in_service() -> None:
    found = worked("tank-test", **TANK | {"stage": "in-use"})
    assert "cannot be judged" in found["verdict"]
    assert any("no limit for one in service" in remark for remark in found["remarks"])
    agreed = TANK | {"stage": "in-use", "loss_rule": "agreed-figure", "agreed_drop": "1 mm/d"}
    assert "beyond the agreed allowance" in worked("tank-test", **agreed)["verdict"]


def test_cooling_is_taken_off() -> None:
    cooled = worked("tank-test", water_at_start="20 °C", water_at_end="18 °C", **TANK)
    net = {r["what"]: r["likely"] for r in cooled["results"]}
    assert net["thermal-change"] < 0
    assert net["net-drop"] == pytest.approx((9 - 5.5 + net["thermal-change"]) / 3)


@pytest.mark.parametrize(
    ("agreed", "wetness", "said"),
    [
        ("fully-dry", "hand-dry", "beyond what was agreed"),
        ("damp-allowed", "beads-stand", "within what was agreed"),
        ("damp-allowed", "drips", "beyond what was agreed"),
        ("not-agreed", "drips", "cannot be judged"),
    ],
)
def test_wetness_against_what_was_agreed(agreed: str, wetness: str, said: str) -> None:
    assert said in worked("tightness", agreed_tightness=agreed, wetness=wetness)["verdict"]


def test_a_moving_crack_does_not_close_by_itself() -> None:
    given = {"crack_width": "0.1 mm", "highest_head": "2 m", "wall_thickness": "300 mm"}
    still = {"moving": "not-moving", "water_attacks_concrete": "neither"}
    assert "can be expected" in worked("healing", **given, **still)["verdict"]
    moving = worked("healing", **given, moving="moving")
    assert "cannot be expected" in moving["verdict"]


def test_what_would_help_is_named_where_nothing_can_be_judged() -> None:
    found = worked("hole-flow", head_here="3 m", wall_thickness="300 mm")
    assert "cannot be judged" in found["verdict"]
    assert any("hole-diameter" in remark for remark in found["remarks"])
