import json
from math import isclose, prod
from pathlib import Path

import jsonschema
import pytest

from advisor.assessment import result_schema
from tests.cli.command import BLIND, CASE, run

SEVERAL = str(BLIND / "knee-high-round-spots-plant-room.yaml")


@pytest.fixture(scope="module")
def document() -> dict[str, object]:
    """The result of all blind cases in one go."""
    ended = run("assess", *sorted(BLIND.glob("*.yaml")), "--json")
    assert (ended.code, ended.err) == (0, "")
    found: dict[str, object] = json.loads(ended.out)
    return found


def test_json_is_as_the_schema_says(document: dict[str, object]) -> None:
    printed = json.loads(run("schema", "--result").out)
    assert printed == result_schema()
    jsonschema.validate(document, printed)


def test_beliefs_sum_to_one_are_sorted_and_multiply_up(document: dict) -> None:  # type: ignore[type-arg]
    assert len(document["leaks"]) >= 20
    for leak in document["leaks"]:
        assert isclose(sum(leak["through"].values()), 1, abs_tol=1e-9)
        for part, name in (("waters", "water"), ("groups", "group"), ("causes", "cause")):
            beliefs = [(-entry["confidence"], entry[name]) for entry in leak[part]]
            assert beliefs == sorted(beliefs)
            assert isclose(sum(-belief for belief, _ in beliefs), 1, abs_tol=1e-9)
        weights = [
            cause["base_rate"]
            * prod(line["times"] for k in ("needs", "for", "against") for line in cause[k])
            for cause in leak["causes"]
        ]
        total = sum(weights)
        for cause, weight in zip(leak["causes"], weights, strict=True):
            assert isclose(weight / total, cause["confidence"], rel_tol=0, abs_tol=1e-9)


def test_one_leak_of_several() -> None:
    one = json.loads(run("assess", SEVERAL, "--json", "--leak", "L2").out)
    assert [leak["leak"] for leak in one["leaks"]] == ["L2"]


def test_a_leak_that_is_not_there_is_answered_with_the_nearest() -> None:
    ended = run("assess", SEVERAL, "--leak", "l2x")
    assert ended.code == 2
    assert ended.out == ""
    assert 'no wet place "l2x"' in ended.err
    assert 'did you mean "L2"?' in ended.err


def test_standard_input_is_a_file_called_dash() -> None:
    data = Path(CASE).read_bytes()
    ended = run("assess", "-", "--json", stdin=data)
    assert ended.code == 0
    from_file = json.loads(run("assess", CASE, "--json").out)["leaks"][0]
    assert json.loads(ended.out)["leaks"][0] == {**from_file, "file": "-"}


def test_standard_input_is_there_once() -> None:
    ended = run("assess", "-", "-", stdin=Path(CASE).read_bytes())
    assert ended.code == 2
    assert "-: standard input is read once" in ended.err


def test_empty_standard_input() -> None:
    ended = run("assess", "-")
    assert (ended.code, ended.out) == (2, "")
    assert "-: the file is empty" in ended.err


def test_files_with_problems_yield_no_leaks_the_others_do(tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("callout: x\nstructure: {kind: basment}\nleaks: [{leak: L1}, {leak: L2}]\n")
    ended = run("assess", bad, CASE, tmp_path / "none.yaml", tmp_path, "--json")
    assert ended.code == 2
    document = json.loads(ended.out)
    jsonschema.validate(document, result_schema())
    assert {leak["file"] for leak in document["leaks"]} == {CASE}
    assert {p["file"] for p in document["problems"]} == {
        str(bad),
        str(tmp_path / "none.yaml"),
        str(tmp_path),
    }
    (kind,) = [p for p in document["problems"] if p["file"] == str(bad)]
    assert (kind["line"], kind["nearest"]) == (2, "basement")
    assert f"{bad}:2:" in ended.err


def test_messages_go_to_standard_error_and_results_to_standard_output(tmp_path: Path) -> None:
    ended = run("assess", tmp_path / "none.yaml", CASE)
    assert ended.code == 2
    assert "Wet place L1" in ended.out
    assert "none.yaml" not in ended.out
    assert "there is no such file" in ended.err
    assert "1 of 2 files answered." in ended.err


@pytest.mark.parametrize("form", [(), ("--reasons",)])
def test_sixty_columns_and_no_escape_codes(form: tuple[str, ...]) -> None:
    ended = run("assess", SEVERAL, *form, COLUMNS="60")
    assert ended.code == 0
    assert "\x1b" not in ended.out
    widths = [len(line) for line in ended.out.splitlines()]
    assert 50 < max(widths) <= 60


def test_reasons_say_more_and_brief_says_five_lines() -> None:
    usual = run("assess", CASE).out
    assert len(run("assess", CASE, "--reasons").out) > 2 * len(usual)
    assert len(run("assess", CASE, "--brief").out.splitlines()) == 5


def test_only_one_form_at_a_time() -> None:
    ended = run("assess", CASE, "--json", "--brief")
    assert (ended.code, ended.out) == (2, "")
    assert "choose one of --json and --brief" in ended.err


def test_a_file_name_of_broken_letters(tmp_path: Path) -> None:
    ended = run("assess", f"{tmp_path}/bad\udcff.yaml", "--json")
    assert ended.code == 2
    assert json.loads(ended.out)["problems"][0]["message"].startswith("the name of this file")
