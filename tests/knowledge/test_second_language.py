"""The example of a second language, run by the real command: its words, our figures."""

import json
import re
from pathlib import Path
from string import Formatter

import pytest

from advisor.knowledge import Knowledge, open_knowledge, shipped
from advisor.terms import mapping, read
from tests.cli.command import run

FOLDER = Path(__file__).parent / "second-language"
CASE = shipped("cases") / "worked" / "seen" / "plant-room-cold-pipe-entry.yaml"
TRANSLATED = ("screen", "looks", "brief", "reasons", "sums", "repair", "figures")


def keys(path: Path) -> tuple[str, ...]:
    return mapping(read(path)).keys()


def plain(text: str) -> str:
    """All words in small letters with single spaces, so that wrapping does not matter."""
    return " ".join(text.casefold().split())


@pytest.fixture(scope="module")
def german() -> Knowledge:
    return open_knowledge(FOLDER)


def literal_parts(knowledge: Knowledge, key: str) -> list[str]:
    """What stands between the braces of a phrase, where it is long enough to be told by."""
    parts = [plain(literal) for literal, *_ in Formatter().parse(knowledge.phrases[key])]
    return [p for p in parts if len(p.split()) > 1 or len(re.sub(r"\W", "", p)) > 8]


def labels(knowledge: Knowledge) -> list[str]:
    """What entries say in ours where the example has no wording, the longest first."""
    sections = (
        *(knowledge.causes, knowledge.families, knowledge.needs, knowledge.contributors),
        *(knowledge.methods, knowledge.limits, knowledge.looks, knowledge.stops),
        *(knowledge.quantities, knowledge.materials, knowledge.proofs),
    )
    found = {plain(entry.label) for section in sections for entry in section.values()}
    for method in knowledge.methods.values():
        said = (method.fails, method.accept, method.curing, method.wet_again, method.shuts_off)
        found |= {plain(text) for text in (*said, *(step.do for step in method.steps))}
    found |= {plain(look.do) for look in knowledge.looks.values()}
    for caution in knowledge.cautions.values():
        found |= {plain(caution.do), *(plain(figure.what) for figure in caution.limits)}
    found |= {plain(entry.why.because) for entry in knowledge.contributors.values()}
    found |= {plain(c.label) for a in knowledge.attributes.values() for c in a.choices}
    found |= {plain(a.label) for a in knowledge.attributes.values()}
    return sorted((text for text in found if " " in text), key=len, reverse=True)


@pytest.mark.parametrize("name", TRANSLATED)
def test_every_phrase_of_a_file_has_its_own_words(name: str, german: Knowledge) -> None:
    ours = shipped("knowledge") / "phrases" / f"{name}.yaml"
    assert set(keys(FOLDER / "phrases" / f"{name}.yaml")) == set(keys(ours))
    same = {k for k in keys(ours) if german.phrases[k] == open_knowledge().phrases[k]}
    assert same <= {"percent", "finding-unsure", "look-takes", "sum-is"}


FORMS = {
    "screen": ["assess"],
    "brief": ["assess", "--brief"],
    "all": ["assess", "--reasons"],
    "plan": ["plan"],
}


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_no_phrase_of_ours_is_left(form: list[str]) -> None:
    done = run(*form, str(CASE), "--knowledge", str(FOLDER))
    assert done.code == 0
    shown = plain(done.out)
    for text in labels(open_knowledge()):
        shown = shown.replace(text, "…")
    ours, found = open_knowledge(), set()
    for name in TRANSLATED:
        for key in keys(shipped("knowledge") / "phrases" / f"{name}.yaml"):
            if any(
                re.search(rf"(?<!\w){re.escape(p)}(?!\w)", shown) for p in literal_parts(ours, key)
            ):
                found.add(key)
    assert found <= {"percent"}
    assert ours.say("which-cause") in plain(run("assess", str(CASE)).out)


def test_its_words_are_there() -> None:
    screen = plain(run("assess", str(CASE), "--knowledge", str(FOLDER)).out)
    for said in (
        "welche ursache?",
        "klar genug zum handeln, nicht bestätigt: rohr, kabel oder leerrohr durch die wand.",
        "10-mal so häufig",
        "rohr abwischen und beobachten",
        "15 minuten, ohne wartezeit; durch den eigenen techniker",
        "gesperrt bis zur antwort oder freigabe: 8 der haltpunkte oben",
        "offen: sind steckdosen, kabel, ein verteiler oder aufzugtechnik",
        "was würde halten? 44 % ",
        "ring um rohr, kabel oder leerrohr neu geschlossen - nur wenn der spalt um das rohr",
        "heute nacht: strom, sachen und menschen aus dem weg des wassers und wanne,",
        "leerrohr neu geschlossen (zeitpunkt: sofort). noch nicht frei",
        "einträge aus dem eigenen ordner",
    ):
        assert said in screen
    brief = plain(run("assess", str(CASE), "--brief", "--knowledge", str(FOLDER)).out)
    assert "nicht tun, bis beantwortet: alle arbeiten, betreten," in brief


def test_its_figures_are_ours() -> None:
    ours = json.loads(run("assess", str(CASE), "--json").out)["leaks"]
    theirs = json.loads(run("assess", str(CASE), "--json", "--knowledge", str(FOLDER)).out)["leaks"]
    assert without_texts(theirs) == without_texts(ours)
    assert theirs != ours


def without_texts(part: object) -> object:
    """The result without what is said in words."""
    if isinstance(part, dict):
        words = {"text", "ruled_out", "question", "do", "released_by"}
        words |= {"means", "formula", "valid", "remarks"}
        words |= {"withheld", "when", "tight", "from"}
        words |= {"only_if"} if "confidence" in part else set()  # that of a step is a look's key
        return {key: without_texts(value) for key, value in part.items() if key not in words}
    return [without_texts(item) for item in part] if isinstance(part, list) else part


def test_the_check_counts_what_it_says_anew(german: Knowledge) -> None:
    causes = [str(p) for p in german.differences if "causes" in p.file]
    file = FOLDER / "wording" / "causes" / "causes.yaml"
    assert causes == [f"{file}: 10 entries of causes have other words"]
    assert german.changed > 250
    assert german.model.hypotheses == open_knowledge().model.hypotheses
