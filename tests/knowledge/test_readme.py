"""What knowledge/README.md teaches is what the code does: its examples, names and lists."""

import re
from pathlib import Path

import pytest

from advisor.callout.places import BY_NAME
from advisor.knowledge import STEPS, open_knowledge, shipped
from advisor.knowledge.read_attributes import KNOWERS
from advisor.knowledge.read_derived import OVER_PLACES
from advisor.knowledge.read_weights import STATUSES
from advisor.terms import Faulty
from tests.knowledge.laying import lay, sign

README = (shipped("knowledge") / "README.md").read_text(encoding="utf-8")
ROWS = dict(re.findall(r"^\| `([a-z]+)(?:/|\.yaml)` \| [^|]+ \| (.+) \|$", README, re.M))
REASONS = {"because", "source"}


def test_the_examples_make_a_folder_without_a_fault(tmp_path: Path) -> None:
    blocks = re.findall(r"```yaml\n# ([a-z/]+\.yaml)\n(.*?)```", README, re.S)
    assert len(blocks) == 11
    for name, text in blocks:
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    asked = ("rail-on-the-handover-photograph", "rails-anywhere", "rail-carries-load")
    lay(tmp_path, attributes="".join(map(sign, asked)))
    own = open_knowledge(tmp_path)
    odd = {p.message for p in own.remarks} - {p.message for p in open_knowledge().remarks}
    near = {message for message in odd if "dB apart from cast-in-rail" in message}
    assert odd - near == {"is added", "it decides something, but no look answers it"}
    assert own.causes["cast-in-rail"].needs == ("rails-cast-in",)
    assert [cut.reading for cut in own.families["rim-of-the-rail"].cuts] == []


@pytest.mark.parametrize("section", [s for s in ROWS if s not in ("weights", "phrases")])
def test_the_names_of_an_entry_are_those_of_the_code(section: str, tmp_path: Path) -> None:
    names, _, may = ROWS[section].partition(r" \| ")
    musts = set(re.findall(r"`([a-z -]+)`", names)[0].split())
    optional = set(re.findall(r"`([a-z -]+)`", may)[0].split()) if may else set()
    reasons = set() if section == "sources" else REASONS
    with pytest.raises(Faulty) as caught:
        open_knowledge(lay(tmp_path, **{section: "own:\n  zzz: nothing\n"}))
    own = [p for p in caught.value.problems if (p.key or "").startswith("own")]
    unknown, *missing = sorted(own, key=lambda p: "not known" not in p.message)
    listed = (unknown.expected or "").removeprefix("one of ").split(", ")
    assert set(listed) == musts | optional | reasons
    absent = [p.message for p in missing if p.message.endswith("is missing")]
    assert {message.split('"')[1] for message in absent} == musts | reasons


def test_the_parts_of_the_weights(tmp_path: Path) -> None:
    with pytest.raises(Faulty) as caught:
        open_knowledge(lay(tmp_path, weights="own: {}\n"))
    (problem,) = caught.value.problems
    assert (problem.expected or "").removeprefix("one of ").replace(", ", " ") in ROWS["weights"]


def test_every_section_has_its_row() -> None:
    assert ROWS.keys() == open_knowledge().sections.keys()


@pytest.mark.parametrize("words", [KNOWERS, STEPS], ids=["who", "steps"])
def test_lists_of_words_are_printed_whole(words: tuple[str, ...]) -> None:
    assert f"`{' '.join(words)}`" in README


def test_every_status_and_every_function_is_named() -> None:
    for word in (*STATUSES, *OVER_PLACES):
        assert word in README


def test_facts_over_wet_places_are_those_that_a_callout_can_work_out() -> None:
    assert OVER_PLACES.keys() == BY_NAME.keys()


def test_the_figures_of_the_words_are_those_of_the_weights() -> None:
    words = open_knowledge().weights.words
    assert [w.times for w in words.values()] == [10, 3, 2]
    assert [w.at_most for w in words.values()] == [0.9, 0.75, 0.6]
    assert 1 - open_knowledge().weights.least_left == pytest.approx(0.98)
