"""The mapping file: checked as a whole, told with the nearest spelling, drafted to fill in."""

from pathlib import Path

import pytest

from advisor.library.moves.csv_rows import read_sheet
from advisor.library.moves.mapping import parse_mapping, read_mapping
from advisor.library.moves.mapping_draft import mapping_draft
from advisor.terms import Faulty
from tests.library.firm_table import (
    FIRST,
    HEADER,
    KNOWLEDGE,
    MAPPING,
    TABLE,
    THIRD,
    mapping,
    read,
)

SHEET = read_sheet(f"{TABLE}{THIRD}\n".encode(), "firm.csv")


def faults(text: str) -> list[str]:
    with pytest.raises(Faulty) as caught:
        mapping(text)
    return [str(problem) for problem in caught.value.problems]


def test_a_mapping_is_read_from_a_file(tmp_path: Path) -> None:
    path = tmp_path / "firm.yaml"
    path.write_text(MAPPING, encoding="utf-8")
    found = read_mapping(path, KNOWLEDGE)
    assert found.columns["Bauwerk"] == "kind"
    assert found.words["confirmed-how"] == {"geöffnet": "opened and seen"}
    assert found.leave == {"Notiz"}
    assert found.units == {"finding.crack-width": "mm"}
    assert found.dates == "DD.MM.YYYY"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("Bauwerk: kind", "Bauwerk: knid", "firm.yaml:6:12: knid: "),
        ("Bauwerk: kind", "Bauwerk: knid", 'did you mean "kind"?'),
        ("Riss: finding.crack-width", "Riss: finding.crack-widht", '"finding.crack-width"?'),
        ("Riss: finding.crack-width", "Riss: crack-width", '"finding.crack-width"?'),
        ("Riss: finding.crack-width", "Riss: finding.deposits.lim", '"finding.deposits.lime"?'),
        ("Riss: finding.crack-width", "Riss: finding.pour-date", "a date is not kept"),
        ("Riss: finding.crack-width", "Riss: finding.not-seen", "a text is not kept"),
        ("Riss: finding.crack-width", "Riss: finding.place-level", "this is never kept"),
        ("Riss: finding.crack-width", "Riss: kind", "this is told on line 6 too"),
        ("Riss: finding.crack-width", 'Riss: ""', "nothing is written here"),
        ("Riss: finding.crack-width", "Riss: [kind]", "a list stands here"),
        ("Riss: finding.crack-width", "Riss: findings", "there is no such column of ours"),
        ("Riss: finding.crack-width", "Riss: looks-after", "there is no such column of ours"),
        ("Keller: basement", "Keller: basemnt", 'did you mean "basement"?'),
        ("Keller: basement", 'Keller: ""', "Keller: nothing is written here"),
        ("Regen: risen-water", "Regen: risen-watr", 'did you mean "risen-water"?'),
        ("dicht: tight", "dicht: tigth", 'did you mean "tight"?'),
        ("unter 0.2 mm: under 0.2 mm", "weit: 3 kg", "finding.crack-width: "),
        ("  kind: {Keller", "  kidn: {Keller", 'did you mean "kind"?'),
        ("{finding.crack-width: mm}", "{finding.crack-width: kg}", 'no unit of it: "kg"'),
        ("{finding.crack-width: mm}", "{finding.crack-widht: mm}", '"finding.crack-width"?'),
        ("dates: DD.MM.YYYY", "dates: DD.MM.YY", 'did you mean "DD.MM.YYYY"?'),
        ("dates: DD.MM.YYYY", "dates: [a]", "a list stands here"),
        ("leave: [Notiz]", "leave: [Notiz, Tag]", "this column is mapped and left out"),
        ("leave: [Notiz]", "leave: Notiz", '"Notiz" stands here'),
        ("leave: [Notiz]", "leaves: [Notiz]", 'did you mean "leave"?'),
        ("leave: [Notiz]", "fixed: {kind: basement}", "this has a column and is fixed"),
        ("leave: [Notiz]", "fixed: {origin: ours}", "origin: "),
        ("leave: [Notiz]", "fixed: {origni: own}", 'did you mean "origin"?'),
        ("leave: [Notiz]", "fixed: {quarter: 2031-Q2}", "date and quarter are told"),
        ("leave: [Notiz]", "fixed: {done-day: 3}", "done and done-day are told"),
        ("  Nummer: case\n", "fixed: {}\n", "line"),
        ("leave: [Notiz]", "leave: [Notiz]\nleave: []", "this key stands here twice"),
        ("columns:", "column:", 'did you mean "columns"?'),
    ],
)
def test_what_cannot_be_is_told_with_its_place(old: str, new: str, said: str) -> None:
    assert old in MAPPING
    told = faults(MAPPING.replace(old, new, 1))
    assert all(line.startswith("firm.yaml:") for line in told)
    assert said in "\n".join(told)


def test_a_number_of_a_case_is_never_the_same_in_every_row() -> None:
    text = MAPPING.replace("  Nummer: case\n", "") + "fixed: {case: A-1}\n"
    assert "this is never the same in every row" in "\n".join(faults(text))


def test_all_faults_are_told_at_once() -> None:
    text = MAPPING.replace(": kind", ": knid").replace("tight", "tigth").replace("basement", "cave")
    text += "fixed: {origin: ours}\n"
    assert len(faults(text)) == 4


@pytest.mark.parametrize("text", ["", "[]", "columns", "a: &x [*x]", "columns: {a: !!python b}"])
def test_what_is_no_mapping_is_told(text: str) -> None:
    assert faults(text)


def test_the_first_draft_names_all_columns_with_counts() -> None:
    text = mapping_draft(SHEET, KNOWLEDGE)
    assert '  "Bauwerk": ""  # 3 of 3 rows, 2 different' in text
    assert '    # 2 x "Keller"' in text
    for column in HEADER.split(";"):
        assert f'"{column}": ""' in text
    told = faults(text)
    assert len(told) == len(HEADER.split(";")), "each is still to be filled in"
    assert all("nothing is written here" in line for line in told)


def test_a_column_with_one_of_our_names_is_filled_in() -> None:
    sheet = read_sheet(b"case;kind;what\nA;cave;x\nB;cave;\n", "f.csv")
    text = mapping_draft(sheet, KNOWLEDGE)
    assert '"case": "case"' in text
    assert '"what": ""  # 1 of 2 rows, 1 different' in text
    assert '    "cave": ""  # 2 x' in text


def test_the_second_draft_keeps_what_is_known_and_lists_the_words_that_are_not() -> None:
    text = mapping_draft(SHEET, KNOWLEDGE, mapping())
    assert '"Bauwerk": "kind"' in text
    assert '    "Keller": "basement"' in text
    assert '    "Mörtel": ""  # 1 x' in text
    filled = parse_mapping(text.replace('""', "unknown"), "draft.yaml", KNOWLEDGE)
    assert filled.words["method"] == {"Harz": "elastic-resin-injection", "Mörtel": "unknown"}
    assert filled.units == mapping().units
    assert filled.leave == mapping().leave
    assert read(f"{TABLE}{THIRD}\n", filled).unmatched == {}


def test_long_texts_are_no_words() -> None:
    row = FIRST.replace("kalte Fuge", "a story " * 30)
    sheet = read_sheet(f"{HEADER}\n{row}\n".encode(), "f.csv")
    text = mapping_draft(sheet, KNOWLEDGE, mapping())
    assert "a story" not in text
    assert "# 1 longer texts are no words: is this the right column?" in text


@pytest.mark.parametrize("word", ['a "quoted" word', "a: b # c", "back\\slash", "{x}", "*a", "no"])
def test_any_word_survives_the_draft(word: str) -> None:
    cell = '"' + word.replace('"', '""') + '"'
    sheet = read_sheet(f"case;kind\nA;{cell}\n".encode(), "f.csv")
    text = mapping_draft(sheet, KNOWLEDGE).replace('""', "unknown")
    assert parse_mapping(text, "d.yaml", KNOWLEDGE).words == {"kind": {word: "unknown"}}
