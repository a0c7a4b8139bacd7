"""`advisor due` end to end: where records stand, which looks are due, and what is wrong."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.callout.logs import entry
from tests.cli.command import Ended, run
from tests.repair.crack import CRACK, RESIN

ANSWER = entry(
    "proposed: {advisor: 1, knowledge: x, causes: {early-thermal-crack: 1}}", day="2031-04-16"
)
DONE = entry(f"done: {RESIN}", day="2031-05-20")
DRY = entry("looked: tight\n    water-up: no\n    proof: coldest-weeks", day="2032-01-10")
CLOSED = entry("closed: refused", day="2032-01-11")
STATE = {"leak", "status", "since", "reopened", "due", "before_closing", "dates"}
LOOK = {"proof", "look", "first", "last", "water_up", "state"}


@pytest.fixture
def record(tmp_path: Path) -> Path:
    return write(tmp_path / "watched.yaml", ANSWER, DONE, DRY)


def write(path: Path, *log: str) -> Path:
    whole = f"{CRACK}log:\n{''.join(log)}" if log else CRACK
    path.write_text(whole, encoding="utf-8")
    return path


def due(*words: str | Path) -> list[dict[str, Any]]:
    ended = run("due", *words, "--json")
    assert (ended.code, ended.err) == (0, "")
    found = json.loads(ended.out)["records"]
    assert isinstance(found, list)
    return found


def flat(ended: Ended) -> str:
    assert (ended.code, ended.err) == (0, "")
    return " ".join(ended.out.split())


def test_a_record_its_looks_and_its_dates(record: Path) -> None:
    said = flat(run("due", record))
    # A long path is broken at the edge of the page.
    assert "".join(said.split()).startswith(f"X({record})L1:watchingsince2032-01-10")
    assert "2031-05-21 to 2031-05-23: look again once it has cured, with the water up (not" in said
    assert "(not tested: dry, and the water was not up)" in said
    assert "Before it is closed as held:" in said
    assert "the owner was told" in said
    dates = "proposed 2031-04-16; visit 2031-04-16; done 2031-05-20; looked 2032-01-10"
    assert f"Dates: {dates}" in said
    assert said.endswith("No deadline is worked out here: check policy and contract at once.")


def test_json_says_the_same(record: Path) -> None:
    (found,) = due(record)
    assert (found["callout"], found["file"]) == ("X", str(record))
    (leak,) = found["leaks"]
    assert leak.keys() == STATE
    assert (leak["status"], leak["since"], leak["reopened"]) == ("watching", "2032-01-10", False)
    assert all(look.keys() == LOOK for look in leak["due"])
    states = {look["proof"]: look["state"] for look in leak["due"]}
    assert states == {
        "dry-after-cure": "open",
        "first-high-water": "open",
        "one-wet-season": "open",
        "coldest-weeks": "not-tested",
    }
    assert (leak["due"][0]["first"], leak["due"][0]["last"]) == ("2031-05-21", "2031-05-23")
    assert len(leak["before_closing"]) == 5
    assert leak["dates"][-1] == {"date": "2032-01-10", "what": "looked"}


def test_by_a_day_only_what_is_due_by_then(record: Path) -> None:
    for day, count in (("2031-05-20", 3), ("2031-05-21", 4)):
        (found,) = due(record, "--by", day)
        assert len(found["leaks"][0]["due"]) == count
        said = flat(run("due", record, "--by", day))
        assert ("2031-05-21 to 2031-05-23" in said) is (count == 4)


@pytest.mark.parametrize("day", ["30.6.2031", "soon", "2031-02-30", "2031-13-01", ""])
def test_a_day_that_is_none_is_told(record: Path, day: str) -> None:
    ended = run("due", record, "--by", day)
    assert (ended.code, ended.out) == (2, "")
    assert ended.err == f'--by: "{day}" is no day; expected YYYY-MM-DD\n'


def test_nothing_is_due_before_a_repair_and_after_the_end(tmp_path: Path) -> None:
    for name, log, status in (
        ("new", (), "looked at"),
        ("asked", (ANSWER,), "cause proposed"),
        ("over", (ANSWER, DONE, CLOSED), "closed"),
    ):
        said = flat(run("due", write(tmp_path / f"{name}.yaml", *log)))
        assert f"L1: {status}" in said
        assert "no look is due" in said
        assert "Before it is closed" not in said


def test_folders_are_looked_through_and_each_record_is_shown_once(tmp_path: Path) -> None:
    below = tmp_path / "2031" / "may"
    below.mkdir(parents=True)
    first, second = write(tmp_path / "b.yaml", DONE), write(below / "a.yaml")
    (tmp_path / "notes.txt").write_text("no record", encoding="utf-8")
    found = [one["file"] for one in due(tmp_path, first)]
    assert sorted(found) == sorted([str(first), str(second)])


def test_a_folder_without_records_is_told(tmp_path: Path) -> None:
    ended = run("due", tmp_path)
    assert (ended.code, ended.out) == (2, "")
    assert ended.err == (
        f"{tmp_path}: there is no record in this folder; expected callout files *.yaml\n"
    )


def test_what_cannot_be_read_is_told_and_the_others_are_shown(record: Path) -> None:
    bad = record.with_name("bad.yaml")
    bad.write_text(f"{CRACK}log:\n{entry('done: Gel!')}{entry('told: owner', day='x')}", "utf-8")
    ended = run("due", record.parent, record.parent / "none.yaml", "--json")
    assert ended.code == 2
    assert [one["file"] for one in json.loads(ended.out)["records"]] == [str(record)]
    told = ended.err.splitlines()
    assert [line.startswith(str(bad)) for line in told] == [True, True, False]
    assert "there is no such file" in told[-1]


def test_keys_that_the_knowledge_does_not_have_are_told(tmp_path: Path) -> None:
    path = write(tmp_path / "own.yaml", entry("done: gel-injektion", day="2031-05-20"))
    ended = run("due", path)
    assert ended.code == 2
    assert "L1: repaired since 2031-05-20" in ended.out
    assert ended.err.startswith(f'{path}:34:5: log: there is no method "gel-injektion"')


def test_dates_of_the_papers_stand_beside_those_of_the_work(tmp_path: Path) -> None:
    told = "handover-date: [{value: 2029-05-01, visit: 1}, {value: 2029-05-02, corrects: 1}]"
    structure = f"structure: {{kind: basement, pour-date: 2028-09-14, {told}}}"
    path = tmp_path / "own.yaml"
    path.write_text(
        f"callout: X\n{structure}\nvisits:\n  - {{date: 2031-11-03}}\n"
        "leaks:\n  - {leak: L1, findings: {first-wet: 2031-10-30}}\n",
        encoding="utf-8",
    )
    said = flat(run("due", path))
    assert "date of the pour 2028-09-14; date of handover 2029-05-02; day it was first seen" in said
    assert "2029-05-01" not in said
