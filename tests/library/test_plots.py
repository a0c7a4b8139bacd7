"""Pictures and lines of what the library tells: readable files, with their words and numbers."""

import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from advisor.library.facts.survival import MONTHS, Holding, kaplan_meier
from advisor.library.plots.bars import WORDS as LINE_WORDS
from advisor.library.plots.bars import causes_lines, reliability_lines, survival_lines
from advisor.library.plots.plots import (
    WORDS,
    Bin,
    causes_picture,
    ordered_causes,
    reliability_picture,
    survival_picture,
)
from advisor.terms import Faulty

SVG = "{http://www.w3.org/2000/svg}"
PHRASES = {key: f"<{key}>" for keys in WORDS.values() for key in keys}
SAID = {
    "after-months": "{number} months",
    "percent": "{number} %",
    "percent-range": "{low} to {high} %",
    "number-watched": "{number} watched",
    "few": "few",
    "said-right": "said {said} %, right {right} % ({low} to {high} %) of {cases}",
}
TITLE = "Wie lange hielt's? <& é>"
BINS = [Bin(0.2, 0.15, 0.05, 0.3, 41), Bin(0.9, 0.95, 0.8, 0.99, 137)]
COUNTS = {"cellar": {"joint": 17, "crack": 4}, "tank": {"crack": 9, "sleeve": 1}}
MARKS = ("#", ".")
PICTURES = ["survival", "reliability", "causes"]


def curve(count: int, seed: int, days: range | list[int] = range(731)) -> tuple[Holding, ...]:
    rng = np.random.default_rng(seed)
    held = rng.integers(1, 800, count).astype(float)
    failed = np.where(rng.random(count) < 0.5, held + 30, np.inf)
    return kaplan_meier(held, failed, list(days))


def draw(kind: str, path: Path, *, invented: bool = False, curves: int = 2) -> None:
    if kind == "survival":
        shown = {f"method {n}": curve(20 + n, n) for n in range(curves)}
        survival_picture(shown, TITLE, path, PHRASES, note="a note", invented=invented)
    elif kind == "reliability":
        reliability_picture(BINS, TITLE, path, PHRASES, note="a note", invented=invented)
    else:
        causes_picture(COUNTS, TITLE, path, PHRASES, note="a note", invented=invented)


def texts(path: Path) -> list[str]:
    """What stands in it, line by line."""
    return [("".join(node.itertext())).strip() for node in ET.parse(path).iter(f"{SVG}text")]


@pytest.mark.parametrize("kind", PICTURES)
def test_an_svg_is_one_with_its_title_and_words(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "picture.svg"
    draw(kind, path)
    root = ET.parse(path).getroot()
    assert root.tag == f"{SVG}svg"
    assert root.findtext(f"{SVG}title") == TITLE
    shown = " ".join(texts(path))
    assert TITLE in shown
    assert "a note" in shown
    wanted = {*WORDS[kind]} - {"invented-cases", "barred-interval"}
    assert [key for key in sorted(wanted) if PHRASES[key] not in shown] == []


@pytest.mark.parametrize("kind", PICTURES)
def test_a_png_is_one(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "picture.PNG"
    draw(kind, path)
    with Image.open(path) as image:
        image.load()
        assert image.format == "PNG"
        assert min(image.size) > 300
        assert image.info["Title"] == TITLE
        assert image.convert("L").getextrema() == (0, 255)


@pytest.mark.parametrize("ending", ["svg", "png"])
@pytest.mark.parametrize("kind", PICTURES)
def test_the_same_makes_the_same_bytes(tmp_path: Path, kind: str, ending: str) -> None:
    first, second = tmp_path / f"a.{ending}", tmp_path / f"b.{ending}"
    draw(kind, first)
    draw(kind, second)
    assert first.read_bytes() == second.read_bytes()
    assert b"dc:date" not in first.read_bytes()


@pytest.mark.parametrize("curves", [1, 2, 6])
def test_the_numbers_still_watched_stand_under_the_curves(tmp_path: Path, curves: int) -> None:
    path = tmp_path / "picture.svg"
    draw("survival", path, curves=curves)
    shown = texts(path)
    for number in range(curves):
        held = curve(20 + number, number)
        wanted = [str(held[day].at_risk) for day in (0, 91, 365, 730)]
        named = [at for at, text in enumerate(shown) if text == f"method {number}"]
        assert wanted in [shown[at + 1 : at + 5] for at in named]


def test_many_curves_have_bars_and_say_so(tmp_path: Path) -> None:
    draw("survival", tmp_path / "p.svg", curves=6)
    shown = " ".join(texts(tmp_path / "p.svg"))
    assert PHRASES["barred-interval"] in shown
    assert PHRASES["shaded-interval"] not in shown


@pytest.mark.parametrize("kind", PICTURES)
def test_invented_cases_are_marked(tmp_path: Path, kind: str) -> None:
    for invented in (True, False):
        path = tmp_path / f"{invented}.svg"
        draw(kind, path, invented=invented)
        assert (PHRASES["invented-cases"] in texts(path)) is invented


def test_counts_and_numbers_of_cases_are_shown(tmp_path: Path) -> None:
    draw("causes", tmp_path / "c.svg")
    shown = texts(tmp_path / "c.svg")
    for text in ("cellar (21)", "tank (10)", "joint", "crack", "sleeve", "17", "4", "9", "1"):
        assert text in shown
    draw("reliability", tmp_path / "r.svg")
    assert {"41", "137"} <= {*texts(tmp_path / "r.svg")}


@pytest.mark.parametrize("name", ["picture.pdf", "picture", "picture.svg.txt"])
@pytest.mark.parametrize("kind", PICTURES)
def test_another_ending_is_refused(tmp_path: Path, kind: str, name: str) -> None:
    with pytest.raises(Faulty, match=r"\.svg or \.png"):
        draw(kind, tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(Faulty, match="cannot be written") as caught:
        draw("causes", tmp_path / "none" / "picture.svg")
    assert caught.value.problems[0].file.endswith("picture.svg")


def test_a_curve_needs_the_days_of_the_table(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="day 91"):
        survival_picture({"a": curve(9, 1, [0, 365, 730])}, TITLE, tmp_path / "p.svg", PHRASES)


def test_nothing_to_show_is_drawn_too(tmp_path: Path) -> None:
    none = kaplan_meier(np.array([]), np.array([]), range(731))
    survival_picture({"a": none}, TITLE, tmp_path / "a.svg", PHRASES)
    survival_picture({}, TITLE, tmp_path / "b.svg", PHRASES)
    reliability_picture([], TITLE, tmp_path / "c.svg", PHRASES)
    causes_picture({}, TITLE, tmp_path / "d.svg", PHRASES)
    for name in "abcd":
        assert TITLE in texts(tmp_path / f"{name}.svg")


def test_what_a_user_set_for_his_own_pictures_does_not_show(tmp_path: Path) -> None:
    import matplotlib  # noqa: PLC0415

    draw("survival", tmp_path / "a.svg")
    with matplotlib.rc_context({"font.size": 30, "axes.facecolor": "red"}):
        draw("survival", tmp_path / "b.svg")
        assert matplotlib.rcParams["font.size"] == 30
    assert (tmp_path / "a.svg").read_bytes() == (tmp_path / "b.svg").read_bytes()


def test_causes_stand_in_the_order_of_all_kinds_together() -> None:
    assert ordered_causes(COUNTS) == ["joint", "crack", "sleeve"]


def test_lines_tell_share_interval_and_number() -> None:
    found = [Holding(91, 0.9, 0.7, 0.97, 12, False), Holding(730, 0.5, 0.2, 0.8, 3, True)]
    assert survival_lines({"resin": found}, 80, MARKS, SAID) == [
        "resin",
        "   3 months  ##################..   90 %  70 to 97 %  12 watched",
        "  24 months  ##########..........   50 %  20 to 80 %  3 watched  few",
    ]


def test_lines_of_belief_and_of_causes() -> None:
    assert reliability_lines(BINS[:1], 80, MARKS, SAID) == [
        "said 20 %, right 15 % (5 to 30 %) of 41",
        "  ####................",
        "  ###.................",
    ]
    assert causes_lines({"cellar": COUNTS["cellar"]}, 80, MARKS) == [
        "cellar (21)",
        "  17  ####################  joint",
        "   4  #####...............  crack",
    ]


@pytest.mark.parametrize("width", [40, 60, 80, 100])
def test_no_line_is_wider_than_the_screen(width: int) -> None:
    name = "resin through packers at the joint between wall and slab"
    held = {name: curve(30, 3, list(MONTHS.values()))}
    lines = survival_lines(held, width, MARKS, SAID)
    lines += reliability_lines(BINS, width, MARKS, SAID)
    lines += causes_lines({name: {name: 12345, "crack": 1}}, width, MARKS)
    assert max(len(line) for line in lines) <= width
    said = " ".join(" ".join(lines).split())
    assert all(str(h.at_risk) + " watched" in said for h in held[name])


def test_the_heavy_libraries_wait_until_they_are_needed() -> None:
    heavy = ("matplotlib", "scipy", "pandas")
    code = (
        "import sys, advisor.library.plots.bars, advisor.library.plots.plots;"
        "import advisor.library.facts.survival;"
        f"print([m for m in {heavy} if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


def test_all_words_of_the_lines_are_named() -> None:
    assert set(LINE_WORDS) == set(SAID)
