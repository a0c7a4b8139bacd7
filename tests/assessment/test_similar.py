"""Past places like one of now, in the result and on the screen. All cases are invented."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from advisor import open_knowledge
from advisor.assessment.similar_result import BothFound, SimilarPlace, SimilarRepair
from advisor.report.lines import Page
from advisor.report.similar import similar_lines
from tests.cli.command import CASE, run

KNOWLEDGE = open_knowledge()


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demonstration") / "demo.sqlite"
    assert run("library", "demo", "--library", path).code == 0
    return path


@pytest.fixture(autouse=True)
def homes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of a real user is read or made."""
    for kind in ("DATA", "CONFIG"):
        monkeypatch.setenv(f"XDG_{kind}_HOME", str(tmp_path / kind))
    monkeypatch.delenv("ADVISOR_LIBRARY", raising=False)


def result(*words: str | Path) -> dict[str, Any]:
    ended = run("assess", CASE, "--json", *words)
    assert (ended.code, ended.err) == (0, "")
    return json.loads(ended.out)  # type: ignore[no-any-return]


def test_five_past_places_stand_in_the_result(demo: Path) -> None:
    schema = json.loads(run("schema", "--result").out)
    with_them, without = result("--similar", "--library", demo), result()
    for one in (with_them, without):
        jsonschema.validate(one, schema)
    (leak,) = without["leaks"]
    assert leak["similar"] is None
    (leak,) = with_them["leaks"]
    alike = [place["alike"] for place in leak["similar"]]
    assert len(alike) == 5
    assert alike == sorted(alike, reverse=True)
    assert all(0 <= one <= 1 for one in alike)
    # All else is as without them.
    assert {**leak, "similar": None} == without["leaks"][0]


def test_the_result_says_what_was_found_here_and_there(demo: Path) -> None:
    (leak,) = result("--similar", "--library", demo)["leaks"]
    both = [one for place in leak["similar"] for one in (*place["in"], *place["differs"])]
    assert both
    for one in both:
        assert one["here"], one
        assert one["there"], one
        name, _, choice = one["attribute"].partition(".")
        known = KNOWLEDGE.attributes[name]
        if choice:
            assert {one["here"], one["there"]} <= {"yes", "no", "unknown"}
        elif known.choices:
            keys = {c.key for c in known.choices}
            assert set(one["there"].removeprefix("not ").split(" or ")) <= keys
    for place in leak["similar"]:
        differs = [one for one in place["differs"] if "." in one["attribute"]]
        assert all(one["here"] != one["there"] for one in differs)


def test_the_own_history_alone_brings_no_past_places(demo: Path) -> None:
    (leak,) = result("--with-library", "--library", demo)["leaks"]
    assert leak["similar"] is None
    assert any(cause["book"] < 1 for cause in leak["causes"])
    products = {}
    for cause in leak["causes"]:
        assert 0 <= cause["book"] <= 1
        product = cause["base_rate"]
        for part in (*cause["needs"], *cause["for"], *cause["against"]):
            product *= part["times"]
        products[cause["cause"]] = product
    for cause in leak["causes"]:
        expected = products[cause["cause"]] / sum(products.values())
        assert cause["confidence"] == pytest.approx(expected, abs=1e-9)


def test_a_callout_is_never_its_own_answer(tmp_path: Path) -> None:
    record = tmp_path / "records" / "own.yaml"
    record.parent.mkdir()
    record.write_bytes(Path(CASE).read_bytes())
    twin = record.with_name("twin.yaml")
    text = record.read_text(encoding="utf-8")
    name = next(line for line in text.splitlines() if line.startswith("callout:"))
    twin.write_text(text.replace(name, "callout: TWIN"), encoding="utf-8")
    assert run("library", "add", record).code == 0
    alone = json.loads(run("assess", record, "--json", "--similar").out)
    assert alone["leaks"][0]["similar"] == []
    assert "has none" in run("assess", record, "--similar").out
    assert run("library", "add", twin).code == 0
    (like,) = json.loads(run("assess", record, "--json", "--similar").out)["leaks"][0]["similar"]
    assert like["alike"] == pytest.approx(1)
    assert like["differs"] == []
    assert like["invented"] is False


def test_without_a_library_the_answer_stands_all_the_same(tmp_path: Path) -> None:
    """Nobody is left without an answer at night because of the library."""
    plain = result()
    (leak,) = result("--similar", "--with-library")["leaks"]
    assert leak["similar"] == []
    assert {**leak, "similar": None} == plain["leaks"][0]
    assert not list((tmp_path / "DATA").rglob("*.sqlite"))

    broken = tmp_path / "broken.sqlite"
    broken.write_bytes(b"")
    for path, code in ((tmp_path / "mistyped.sqlite", 2), (tmp_path, 3), (broken, 3)):
        ended = run("assess", CASE, "--json", "--similar", "--with-library", "--library", path)
        assert ended.code == code
        told = json.loads(ended.out)
        assert told["leaks"][0]["causes"] == plain["leaks"][0]["causes"]
        assert [problem["file"] for problem in told["problems"]] == [str(path)]
        assert ended.err.count("\n") == 1
        on_screen = run("assess", CASE, "--similar", "--library", path)
        assert on_screen.code == code
        assert on_screen.out.startswith("Wet place L1")


def test_a_faulty_key_is_told_and_the_answer_stands(tmp_path: Path, demo: Path) -> None:
    record = tmp_path / "own.yaml"
    record.write_bytes(Path(CASE).read_bytes())
    (tmp_path / "library.key").write_text("no key\n")
    ended = run("assess", record, "--json", "--similar", "--library", demo)
    assert ended.code == 2
    assert "this is no key" in ended.err
    assert json.loads(ended.out)["leaks"][0]["causes"]


def test_from_standard_input(demo: Path) -> None:
    """Also where the library fails after it was read."""
    words = ("assess", "-", "--json", "--similar", "--library")
    callout = Path(CASE).read_bytes()
    assert len(json.loads(run(*words, demo, stdin=callout).out)["leaks"][0]["similar"]) == 5
    failed = run(*words, demo.parent, stdin=callout)
    assert failed.code == 3
    assert json.loads(failed.out)["leaks"]


def a_place() -> SimilarPlace:
    attribute = KNOWLEDGE.attributes["kind"]
    several = next(a for a in KNOWLEDGE.attributes.values() if a.kind == "several")
    number = next(a for a in KNOWLEDGE.attributes.values() if a.kind == "number" and a.unit == "mm")
    choice = next(a for a in KNOWLEDGE.attributes.values() if a.kind == "choice" and a != attribute)
    one, other = (c.key for c in choice.choices[:2])
    method = next(iter(KNOWLEDGE.methods))
    return SimilarPlace(
        case="3fa94c12" * 4,
        place=2,
        alike=0.71,
        compared=4,
        in_=(BothFound(attribute=choice.key, here=one, there=one),),
        differs=(
            BothFound(attribute=number.key, here="0.2 to 0.3 mm", there="under 0.1 mm"),
            BothFound(attribute=f"{several.key}.{several.choices[0].key}", here="yes", there="no"),
            BothFound(attribute=choice.key, here=f"not {one} or {other}", there=one),
        ),
        kind="basement",
        quarter="2029-Q3",
        status="closed",
        cause=next(iter(KNOWLEDGE.causes)),
        confirmed_how="opened-and-seen",
        repairs=(
            SimilarRepair(method=method, held="failed", days=90),
            SimilarRepair(method=method, held="held", days=731),
            SimilarRepair(method=method, held="not-tested", days=None),
        ),
        invented=False,
    )


def test_the_screen_says_label_and_value() -> None:
    """Keys of the knowledge stay in the file; people read words."""
    place = a_place()
    text = " ".join(line.text.strip() for line in similar_lines(Page(400), KNOWLEDGE, [place]))
    choice = KNOWLEDGE.attributes[place.in_[0].attribute]
    one, other = choice.choices[:2]
    number = KNOWLEDGE.attributes[place.differs[0].attribute]
    assert f"like: {choice.label}: {one.label}" in text
    assert f"{number.label}: under 0.1 mm (here 0.2 to 0.3 mm)" in text
    assert ": no (here yes)" in text
    assert f"(here not {one.label} or {other.label})" in text
    assert "wet after 90 d: " in text
    assert "held 731 d: " in text
    assert "never tested: " in text
    assert "71 %" in text


def test_a_place_takes_few_lines(demo: Path) -> None:
    """A technician reads it on a wet site at night."""
    ended = run("library", "similar", CASE, "--library", demo, COLUMNS="80")
    lines = ended.out.split("tight, with the water up.\n", 1)[1].rstrip().splitlines()
    assert all(len(line) <= 80 for line in lines)
    heads = [number for number, line in enumerate(lines) if " % " in line[:8]]
    assert len(heads) == 5
    repairs = sum(line.startswith("        - ") for line in lines)
    # One of head, of case, of what is alike and of what is not, and one for each repair.
    goes_on = sum(line.startswith("          ") for line in lines)  # a label too long for a line
    assert len(lines) - goes_on <= 5 * 4 + repairs
    assert goes_on <= 5 + repairs
