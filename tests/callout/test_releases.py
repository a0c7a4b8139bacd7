"""Releases of stops: how they are read, what they lift, and that the name stays in the file."""

import json
from pathlib import Path

import pytest

from advisor import Callout, assess
from advisor.assessment import Assessment
from advisor.terms import Faulty
from tests.cli.command import run
from tests.repair.crack import CRACK

NAME = "Xaver Zimt"
BULGE = CRACK.replace("danger-signs: []", "danger-signs: [bulge]")
AGAIN = """  - {date: 2031-05-20, danger-signs: [bulge]}
leaks:
"""
PARTS = {
    "stop": "bulging-wall",
    "role": "structural engineer",
    "name": NAME,
    "date": "2031-04-17",
    "words": "propped to my design",
}


def released(callout: str | None = None, /, **parts: str | None) -> str:
    """The callout with one release at its end; None: without that part. On one line, the last."""
    written = {k: v for k, v in {**PARTS, **parts}.items() if v is not None}
    line = ", ".join(f"{key}: {value}" for key, value in written.items())
    return f"{callout or BULGE}releases:\n  - {{{line}}}\n"


def result(text: str) -> Assessment:
    return assess(Callout.parse(text, "invented.yaml"))


def stops(text: str) -> dict[str, str]:
    return {s.stop: s.state for s in result(text).leaks[0].stops}


def faults(text: str) -> list[str]:
    with pytest.raises(Faulty) as caught:
        Callout.parse(text, "f.yaml")
    return [str(problem) for problem in caught.value.problems]


def remarks(text: str) -> list[str]:
    return [str(r) for r in result(text).remarks if r.key == "releases"]


def last_line(text: str) -> int:
    return len(text.splitlines())


def test_without_a_release_it_is_raised_and_bars() -> None:
    assert stops(BULGE) == {"bulging-wall": "raised"}
    assert result(BULGE).leaks[0].plan.withheld is not None


def test_the_right_role_releases_it_and_the_name_stays_out() -> None:
    leak = result(released()).leaks[0]
    assert leak.stops == ()
    (found,) = leak.releases
    assert (found.stop, found.role, found.date, found.words) == (
        "bulging-wall",
        "structural engineer",
        "2031-04-17",
        "propped to my design",
    )
    assert not hasattr(found, "name")
    assert leak.plan.withheld is None
    assert remarks(released()) == []


@pytest.mark.parametrize("role", ["Structural Engineer", "structural-engineer"])
def test_a_role_may_be_written_with_capitals_or_hyphens(role: str) -> None:
    assert stops(released(role=role)) == {}


def test_a_release_on_the_day_of_the_visit_lifts_what_was_found_there() -> None:
    assert stops(released(date="2031-04-16")) == {}


def test_a_release_from_before_the_sign_lifts_nothing() -> None:
    assert stops(released(date="2031-04-15")) == {"bulging-wall": "raised"}


def test_a_sign_found_anew_after_the_release_is_raised_again() -> None:
    text = BULGE.replace("leaks:\n", AGAIN)
    assert stops(released(text))["bulging-wall"] == "raised"
    assert result(released(text)).leaks[0].releases == ()
    assert "bulging-wall" not in stops(released(text, date="2031-05-21"))


def test_a_sign_looked_for_after_the_release_and_not_there_stays_released() -> None:
    text = BULGE.replace("leaks:\n", AGAIN.replace("[bulge]", "[]"))
    assert stops(text)["bulging-wall"] == "raised", "seeing none later is no release"
    assert "bulging-wall" not in stops(released(text))


def test_the_second_release_counts_where_the_first_is_out_of_date() -> None:
    first = released(BULGE.replace("leaks:\n", AGAIN))
    parts = ", ".join(f"{k}: {v}" for k, v in {**PARTS, "date": "2031-05-21"}.items())
    assert "bulging-wall" not in stops(first + f"  - {{{parts}}}\n")


def test_a_stop_that_is_open_can_be_released() -> None:
    text = BULGE.replace("    dam-or-levee: no\n", "").replace("[bulge]", "[]")
    assert stops(text) == {"dam-or-levee": "open"}
    assert stops(released(text, stop="dam-or-levee", role="dam or levee authority")) == {}


def test_no_release_makes_repair_advice_for_a_dam() -> None:
    text = CRACK.replace("dam-or-levee: no", "dam-or-levee: yes")
    leak = result(released(text, stop="dam-or-levee", role="dam or levee authority")).leaks[0]
    assert leak.stops == ()
    assert leak.plan.method is None
    assert all(m.ruled_out for m in leak.methods)


@pytest.mark.parametrize("part", ["stop", "role", "name", "date", "words"])
def test_a_part_that_is_missing_is_a_fault_with_its_line(part: str) -> None:
    text = released(**{part: None})
    (fault,) = faults(text)
    assert fault.startswith(f"f.yaml:{last_line(text)}:5: {part}: this key is missing")


@pytest.mark.parametrize(
    ("part", "written", "said"),
    [
        ("name", '""', "nothing is written here"),
        ("words", '" "', "nothing is written here"),
        ("name", f"[{NAME}]", "a list stands here"),
        ("date", "17.4.2031", 'did you mean "2031-04-17"?'),
        ("leak", "L2", 'there is no wet place "L2"; expected L1'),
    ],
)
def test_a_part_that_cannot_be_read_is_a_fault_with_its_line(
    part: str, written: str, said: str
) -> None:
    text = released(**{part: written})
    (fault,) = faults(text)
    assert fault.startswith(f"f.yaml:{last_line(text)}:")
    assert said in fault
    assert NAME not in fault


def test_a_misspelt_part_is_told_with_the_nearest_and_without_what_it_says() -> None:
    told = " ".join(faults(released(name=None, nmae=NAME)))
    assert "nmae: this key is not known here" in told
    assert 'did you mean "name"?' in told
    assert NAME not in told


def test_every_fault_of_every_release_is_told_at_once() -> None:
    parts = "{stop: bulging-wall, role: plumber}"
    assert len(faults(released(name=None, date=None) + f"  - {parts}\n")) == 5


@pytest.mark.parametrize("text", [BULGE, CRACK], ids=["raised", "calm"])
def test_another_role_releases_nothing_and_the_right_one_is_named(text: str) -> None:
    written = released(text, role="plumber")
    assert stops(written) == stops(text)
    (remark,) = remarks(written)
    assert f"invented.yaml:{last_line(written)}:5" in remark
    assert "a wall bulges or leans: not released by this role" in remark
    assert "role: structural engineer" in remark


@pytest.mark.parametrize("text", [BULGE, CRACK], ids=["raised", "calm"])
def test_an_unknown_stop_is_remarked_with_the_nearest(text: str) -> None:
    written = released(text, stop="bulgin-wall")
    assert stops(written) == stops(text)
    (remark,) = remarks(written)
    assert 'did you mean "bulging-wall"?' in remark


def test_at_one_wet_place_it_lifts_there_only() -> None:
    two = BULGE + "  - leak: L2\n    findings: {member: wall}\n"
    here, there = result(released(two, leak="L1")).leaks
    assert "bulging-wall" not in {s.stop for s in here.stops}
    assert "bulging-wall" in {s.stop for s in there.stops}
    for leak in result(released(two)).leaks:
        assert "bulging-wall" not in {s.stop for s in leak.stops}


@pytest.mark.parametrize(
    "parts",
    [
        {},
        {"role": "plumber"},
        {"stop": "bulgin-wall"},
        {"date": "2031-04-15"},
        {"words": None},
        {"date": "17.4.2031"},
        {"leak": "L2"},
        {"name": f"{{of: {NAME}}}"},
        {"name": f"[{NAME}]"},
        {"name": None, "nmae": NAME},
    ],
    ids=str,
)
def test_the_name_is_in_no_output(tmp_path: Path, parts: dict[str, str | None]) -> None:
    path = tmp_path / "callout.yaml"
    path.write_text(released(**parts), encoding="utf-8")
    many: list[list[str | Path]] = [
        ["assess", path],
        ["assess", path, "--json"],
        ["assess", path, "--brief"],
        ["assess", path, "--reasons"],
        ["plan", path],
        ["plan", path, "--json"],
    ]
    for words in many:
        ended = run(*words)
        said = ended.out + ended.err
        assert "Zimt" not in said
        assert "Traceback" not in said
        assert "a fault of the program" not in said


@pytest.mark.parametrize("parts", [{"role": "plumber"}, {"stop": "bulgin-wall"}], ids=str)
def test_the_sheet_tells_a_release_that_lifts_nothing(
    tmp_path: Path, parts: dict[str, str | None]
) -> None:
    path = tmp_path / "callout.yaml"
    path.write_text(released(**parts), encoding="utf-8")
    ended = run("plan", path)
    assert ended.code == 0, "a remark is no fault"
    assert "releases: " in ended.err
    assert json.loads(run("plan", path, "--json").out)["problems"] == []
