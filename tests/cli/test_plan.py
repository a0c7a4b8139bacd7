"""`advisor plan` end to end: the sheet, its JSON, a method that somebody wants, wrong words."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.command import CASE, run
from tests.repair.crack import CRACK, RESIN, knowledge

PLAN = {"method", "withheld", "horizons", "proof"}
HORIZON = {"horizon", "steps"}
STEP = {"step", "kind", "do", "needs", "barred_by", "only_if", "cautions", "quantities"}
AMOUNT = {"what", "low", "likely", "high", "unit", "from"}
"""The names of design.md, section 6."""


@pytest.fixture
def crack(tmp_path: Path) -> Path:
    path = tmp_path / "callout.yaml"
    path.write_text(CRACK, encoding="utf-8")
    return path


def sheet(*words: str | Path) -> dict[str, Any]:
    ended = run("plan", *words, "--json")
    assert (ended.code, ended.err) == (0, "")
    (found,) = json.loads(ended.out)["sheets"]
    assert isinstance(found, dict)
    return found


def flat(text: str) -> str:
    """Without the line breaks of the page."""
    return " ".join(text.split())


def test_it_prints_all_that_a_repair_needs_and_what_it_is_not(crack: Path) -> None:
    ended = run("plan", crack)
    assert (ended.code, ended.err) == (0, "")
    heads = [
        "THE LASTING REPAIR",
        "TONIGHT",
        "UNTIL THE LASTING REPAIR",
        "\nLASTING REPAIR",
        "TO LOAD",
        "\nMIND\n",
        "WHAT PROVES IT",
        "ABOUT THE METHOD",
        "WHAT WOULD HOLD?",
        "WHAT IS RULED OUT, AND WHY",
    ]
    places = [ended.out.find(head) for head in heads]
    assert -1 not in places
    assert places == sorted(places)
    out = flat(ended.out)
    assert "no method statement, no permit to work and no proof" in out
    assert "packers: 8-15, likely 8" in out
    assert "It counts only with the water up." in out
    assert "Belief says what is consistent with what was found. It is no proof." in out


def test_stops_stand_before_the_plan_and_what_they_bar_is_withheld() -> None:
    ended, plan = run("plan", CASE), sheet(CASE)["leak"]["plan"]
    assert ended.code == 0
    said = flat(ended.out)
    first, _, _ = said.partition("THE LASTING REPAIR")
    assert "STOPS NOT ANSWERED YET" in first
    for asked in ("2 m of the water?", "gas alarm sound?", "Must anyone go into a tank"):
        assert asked in first
    assert "WITHHELD: WHAT WAITS FOR A RELEASE OR AN ANSWER" in said
    barred = [step for part in plan["waiting"] for step in part["steps"] if step["barred_by"]]
    assert barred
    free = [step for part in plan["horizons"] for step in part["steps"]]
    assert not any(step["barred_by"] for step in free)
    for stop in {key for step in barred for key in step["barred_by"]}:
        assert knowledge().stops[stop].label in plan["withheld"]


def test_json_is_one_document_of_the_published_names(crack: Path) -> None:
    plan = sheet(crack)["leak"]["plan"]
    assert plan.keys() >= PLAN
    assert (plan["method"], plan["withheld"]) == (RESIN, None)
    assert [part["horizon"] for part in plan["horizons"]] == ["tonight", "until", "lasting"]
    amounts = 0
    for part in plan["horizons"]:
        assert part.keys() >= HORIZON
        for step in part["steps"]:
            assert step.keys() >= STEP
            for amount in step["quantities"]:
                assert amount.keys() == AMOUNT
                amounts += amount["low"] is not None
    assert amounts > 5
    assert plan["proof"]
    for proof in plan["proof"]:
        assert proof.keys() >= {"look", "when", "water_up"}


def test_each_step_needs_only_steps_that_are_there(crack: Path) -> None:
    for file in (crack, CASE):
        plan = sheet(file)["leak"]["plan"]
        parts = [*plan["horizons"], *plan["waiting"]]
        there = {step["step"] for part in parts for step in part["steps"]}
        assert {need for part in parts for step in part["steps"] for need in step["needs"]} <= there


def test_each_caution_of_a_step_is_told(crack: Path) -> None:
    out = flat(run("plan", crack).out)
    parts = sheet(crack)["leak"]["plan"]["horizons"]
    cautions = {key for part in parts for step in part["steps"] for key in step["cautions"]}
    assert cautions
    for key in cautions:
        assert flat(knowledge().cautions[key].label) in out


@pytest.mark.parametrize("json_too", [False, True])
def test_an_unknown_method_is_told_with_the_nearest(crack: Path, json_too: bool) -> None:
    words = ["--json"] if json_too else []
    ended = run("plan", crack, "--method", "elastic-resin-injektion", *words)
    assert ended.code == 2
    assert '--method: "elastic-resin-injektion" is no method' in ended.err
    assert 'did you mean "elastic-resin-injection"?' in ended.err
    if json_too:
        found = json.loads(ended.out)
        assert found["sheets"] == []
        assert found["problems"][0]["nearest"] == RESIN
    else:
        assert ended.out == ""


def test_a_method_may_be_written_with_spaces(crack: Path) -> None:
    assert sheet(crack, "--method", "gel injection")["leak"]["plan"]["method"] == "gel-injection"


def test_a_method_that_is_ruled_out_is_shown_with_the_reason_and_hides_nothing(crack: Path) -> None:
    wanted = "epoxy-injection"
    ended, found = run("plan", crack, "--method", wanted), sheet(crack, "--method", wanted)
    assert (ended.code, ended.err) == (0, "")
    out, method = flat(ended.out), knowledge().methods[wanted]
    why = {m["method"]: m["ruled_out"] for m in found["leak"]["methods"]}[wanted]
    assert "the crack is dry inside" in why
    assert f"CHOSEN AGAINST THE ADVICE This method is ruled out. {flat(why)}" in out
    assert f"Advised was: {knowledge().methods[RESIN].label}." in out
    assert (found["leak"]["plan"]["method"], found["advised"]) == (wanted, RESIN)
    for step in method.steps:
        assert flat(step.do) in out
    freely = sheet(crack)
    assert found["leak"]["methods"] == freely["leak"]["methods"], "no belief bends to a wish"
    for key in ("causes", "stops"):
        assert found["leak"][key] == freely["leak"][key]


def test_a_likelier_one_is_named_where_another_is_chosen(crack: Path) -> None:
    out = flat(run("plan", crack, "--method", "gel-injection").out)
    assert f"Advised was: {knowledge().methods[RESIN].label}." in out
    assert "This method is ruled out" not in out
    assert "CHOSEN AGAINST THE ADVICE" not in flat(run("plan", crack, "--method", RESIN).out)


def test_what_is_chosen_passes_no_stop(tmp_path: Path) -> None:
    path = tmp_path / "bulge.yaml"
    path.write_text(CRACK.replace("danger-signs: []", "danger-signs: [bulge]"), encoding="utf-8")
    plan = sheet(path, "--method", "epoxy-injection")["leak"]["plan"]
    assert "a wall bulges or leans" in plan["withheld"]
    free = [step for part in plan["horizons"] for step in part["steps"]]
    assert not any(step["method"] == "epoxy-injection" for step in free)


def test_only_the_wet_place_that_is_asked_for(tmp_path: Path) -> None:
    path = tmp_path / "two.yaml"
    path.write_text(CRACK + "  - leak: L2\n    findings: {member: floor}\n", encoding="utf-8")
    assert sheet(path, "--leak", "L2")["leak"]["leak"] == "L2"
    assert len(json.loads(run("plan", path, "--json").out)["sheets"]) == 2


def test_an_unknown_wet_place_is_told(crack: Path) -> None:
    ended = run("plan", crack, "--leak", "L7")
    assert ended.code == 2
    assert '--leak: there is no wet place "L7"; expected L1' in ended.err
    found = json.loads(run("plan", crack, "--leak", "L7", "--json").out)
    assert (found["sheets"], len(found["problems"])) == ([], 1)


def test_a_file_that_cannot_be_read_is_told(crack: Path) -> None:
    ended = run("plan", crack.parent / "none.yaml", "--json")
    assert ended.code == 2
    assert "none.yaml" in ended.err
    assert json.loads(ended.out)["sheets"] == []


def test_standard_input() -> None:
    ended = run("plan", "-", stdin=CRACK.encode())
    assert (ended.code, ended.err) == (0, "")
    assert ended.out.startswith("Repair sheet of wet place L1")
