"""Other words for entries that stay: what they change, what they cannot change, how it is told."""

from pathlib import Path

import pytest

from advisor.knowledge import open_knowledge, shipped
from advisor.knowledge.folder import SECTIONS
from advisor.knowledge.wording import WORDS
from advisor.terms import Faulty
from tests.knowledge.laying import lay, look, sign, yes_no_family

CAUSE = """
wall-foot-joint:
  label: Fuge am Wandfuß
  also-called: [Arbeitsfuge Boden/Wand]
  confirmed-by: Auf 30 cm freilegen.
"""


def worded(folder: Path, **files: str) -> Path:
    """A folder with a file of wording for each section named."""
    for section, text in files.items():
        path = folder / "wording" / section / "worte.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def test_every_section_says_which_words_it_has() -> None:
    assert WORDS.keys() == set(SECTIONS)


def test_words_are_replaced_and_all_else_stays(tmp_path: Path) -> None:
    own, plain = open_knowledge(worded(tmp_path, causes=CAUSE)), open_knowledge()
    cause, shipped_one = own.causes["wall-foot-joint"], plain.causes["wall-foot-joint"]
    assert cause.label == "Fuge am Wandfuß"
    assert cause.also_called == ("Arbeitsfuge Boden/Wand",)
    assert cause.confirmed_by == ("Auf 30 cm freilegen.",)
    assert cause.base_rate == shipped_one.base_rate
    assert (cause.evidence, cause.why) == (shipped_one.evidence, shipped_one.why)
    assert list(own.causes) == list(plain.causes)
    assert all(own.causes[k] == plain.causes[k] for k in plain.causes if k != cause.key)


def test_the_check_names_it_and_the_fingerprint_knows_it(tmp_path: Path) -> None:
    own = open_knowledge(worded(tmp_path, causes=CAUSE))
    (told,) = own.differences
    file = tmp_path / "wording" / "causes" / "worte.yaml"
    assert str(told) == f"{file}:2:1: causes wall-foot-joint: has other words"
    assert own.changed == 1
    assert own.fingerprint != open_knowledge().fingerprint


def test_the_kept_knowledge_sees_a_change_of_words(tmp_path: Path) -> None:
    open_knowledge.cache_clear()
    before = open_knowledge(worded(tmp_path, causes=CAUSE))
    open_knowledge.cache_clear()
    after = open_knowledge(worded(tmp_path, causes=CAUSE.replace("Wandfuß", "Fuß der Wand")))
    assert after.causes["wall-foot-joint"].label == "Fuge am Fuß der Wand"
    assert after.fingerprint != before.fingerprint


def test_the_same_words_are_no_difference(tmp_path: Path) -> None:
    label = open_knowledge().causes["wall-foot-joint"].label
    own = open_knowledge(worded(tmp_path, causes=f'wall-foot-joint: {{label: "{label}"}}\n'))
    assert own.differences == ()
    assert own.fingerprint == open_knowledge().fingerprint


def test_of_a_file_with_many_the_number_is_told(tmp_path: Path) -> None:
    keys = list(open_knowledge().causes)[:6]
    few = "".join(f"{key}: {{label: {key} anders}}\n" for key in keys[:5])
    assert len(open_knowledge(worded(tmp_path / "few", causes=few)).differences) == 5
    many = "".join(f"{key}: {{label: {key} anders}}\n" for key in keys)
    own = open_knowledge(worded(tmp_path / "many", causes=many))
    (told,) = own.differences
    assert told.message == "6 entries of causes have other words"
    assert own.changed == 6


def test_choices_go_by_key_only_those_that_are_named(tmp_path: Path) -> None:
    text = "wetness:\n  label: Nässe\n  choices: {dry: trocken}\n"
    plain = {c.key: c.label for c in open_knowledge().attributes["wetness"].choices}
    key = next(iter(plain))
    own = open_knowledge(worded(tmp_path, attributes=text.replace("dry:", f"{key}:")))
    assert {c.key: c.label for c in own.attributes["wetness"].choices} == plain | {key: "trocken"}


def test_an_own_entry_may_have_its_words_apart(tmp_path: Path) -> None:
    lay(tmp_path, looks=look())
    own = open_knowledge(worded(tmp_path, looks="own-look: {label: anders, needs: [Lampe]}\n"))
    assert (own.looks["own-look"].label, own.looks["own-look"].needs) == ("anders", ("Lampe",))
    assert [p.message for p in own.differences] == ["is added", "has other words"]


def test_the_reason_of_one_number_of_a_family(tmp_path: Path) -> None:
    times = "{honeycomb: {times: 2, because: Counted.}, cold-joint: weak for}"
    lay(tmp_path, attributes=sign("own-sign"), families=yes_no_family("own", "own-sign", times))
    text = "own: {readings: {yes: {times: {honeycomb: {because: Gezählt.}}}}}\n"
    own = open_knowledge(worded(tmp_path, families=text))
    said = {name: (times, why) for name, times, why in own.families["own"].said["yes"]}
    assert said["honeycomb"] == ("2 times", "Gezählt.")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("own: {readings: {yes: {share: 0.5}}}\n", "own: readings: yes: share: this is no word"),
        (
            "own: {readings: {yes: {times: {honeycomb: {times: 9}}}}}\n",
            "own: readings: yes: times: honeycomb: times: this is no word",
        ),
        (
            "own: {readings: {yes: {times: {cold-joint: {because: Nein.}}}}}\n",
            "own: readings: yes: times: cold-joint: this is no word",
        ),
        ("own: {again: Noch einmal.}\n", "own: again: this is no word"),
        ("own: {readings: nein}\n", 'own: readings: "nein" stands here'),
        ("own: nein\n", '"nein" stands here'),
    ],
)
def test_what_decides_in_a_family_is_no_word(text: str, told: str, tmp_path: Path) -> None:
    times = "{honeycomb: {times: 2, because: Counted.}, cold-joint: weak for}"
    lay(tmp_path, attributes=sign("own-sign"), families=yes_no_family("own", "own-sign", times))
    with pytest.raises(Faulty) as caught:
        open_knowledge(worded(tmp_path, families=text))
    (problem,) = caught.value.problems
    assert told in str(problem)
    assert problem.file.endswith("worte.yaml")


def test_all_faults_at_once(tmp_path: Path) -> None:
    text = "wall-foot-joint: {group: crack, lable: Fuge}\nwall-fot-joint: {label: Fuge}\n"
    with pytest.raises(Faulty) as caught:
        open_knowledge(worded(tmp_path, causes=text))
    assert [(p.line, p.key, p.nearest) for p in caught.value.problems] == [
        (1, "wall-foot-joint: group", None),
        (1, "wall-foot-joint: lable", "label"),
        (2, "wall-fot-joint", "wall-foot-joint"),
    ]


def test_wording_of_a_torn_section_is_not_blamed(tmp_path: Path) -> None:
    lay(tmp_path, looks="own-look: [")
    with pytest.raises(Faulty) as caught:
        open_knowledge(worded(tmp_path, looks="own-look: {label: anders}\n"))
    (problem,) = caught.value.problems
    assert problem.file == str(tmp_path / "looks" / "own.yaml")


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("wording/cause/own.yaml", "this does not belong to the knowledge"),
        ("wording.yaml", "this does not belong to the knowledge"),
        ("wording/wording/causes.yaml", "this does not belong to the knowledge"),
    ],
)
def test_what_does_not_belong_is_told(name: str, told: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(CAUSE, encoding="utf-8")
    with pytest.raises(Faulty) as caught:
        open_knowledge(tmp_path)
    (problem,) = caught.value.problems
    assert problem.message == told


def test_the_shipped_folder_has_no_wording_of_its_own() -> None:
    assert not (shipped("knowledge") / "wording").exists()
