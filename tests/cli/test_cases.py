import json
from pathlib import Path

from tests.cli.command import BLIND, CASE, run

TRUE_TO = "truth: {causes: [wall-foot-joint], blind: false, because: Invented.}\n"
ONE = "callout: one\nstructure: {kind: basement}\nleaks: [{leak: L1}]\n"


def test_the_shipped_cases_are_checked_when_no_path_is_given() -> None:
    ended = run("cases", "check")
    assert ended.code == 0, ended.err
    assert "WRITTEN BLIND" in ended.out
    assert "TOGETHER" in ended.out


def test_json_is_one_document() -> None:
    report = json.loads(run("cases", "check", BLIND, "--json").out)
    assert report["blind"]["cases"] == len(list(BLIND.glob("*.yaml")))
    assert report["seen"] is None


def test_a_case_without_truth_is_faulty(tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(ONE)
    ended = run("cases", "check", tmp_path)
    assert ended.code == 1
    assert "one.yaml" in ended.err


def test_a_path_that_is_not_there_is_wrong_and_the_others_are_answered(tmp_path: Path) -> None:
    ended = run("cases", "check", tmp_path / "none", CASE)
    assert ended.code == 2
    assert "TOGETHER" in ended.out
    assert "there is no such file or folder" in ended.err


def test_faulty_comes_before_wrong(tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(ONE)
    assert run("cases", "check", tmp_path / "none", tmp_path / "one.yaml").code == 1


def test_below_the_recorded_floor_is_faulty(tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(ONE + TRUE_TO)
    assert run("cases", "check", tmp_path).code == 0
    (tmp_path / "floor.yaml").write_text(
        "seen: {top-1: 1, top-3: 1, log-loss: 0.01, because: Invented.}\n"
    )
    ended = run("cases", "check", tmp_path)
    assert ended.code == 1
    assert "BELOW THE RECORDED FLOOR" in ended.out
    assert run("cases", "check", tmp_path, "--json").code == 1


def test_sixty_columns() -> None:
    out = run("cases", "check", COLUMNS="60").out
    assert max(map(len, out.splitlines())) <= 60
