"""Whatever stands in a file to import: cases that are whole, or clear words; never a traceback."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.library.alike.findings import read_findings
from advisor.library.case import KeptCase
from advisor.library.moves.csv_in import Read
from advisor.library.moves.mapping import ColumnMapping
from advisor.terms import Faulty, Problem
from tests.library.firm_table import FIRM, KNOWLEDGE, MAPPING, mapping, read, told
from tests.library.malformed_tables import GOOD, NOTHING_TAKEN, PLAIN, ROW, ROWS_REFUSED

PIECES = [
    *[*",;\t'\"\n\r=+-@[]{}:&*!|#\0\x07\u2028\ufeffü²", "\r\n", '""'],
    *("unknown", "not-applicable", " (unsure)", "tight", "basement", "cold-joint", "held"),
    *("2031-02-30", "31.12.9999", "0001-01-01", "99999999999", "-1", "1e9", "0,3", "0.3 mm"),
    *("library-format", "case", "place", "finding.", "finding.deposits", "[lime]", "{has: [lime]}"),
    *("28:tight:yes", "; ", "kind=basement", "0" * 32),
]
SHORT = settings(max_examples=150, deadline=None)
LONG = settings(max_examples=20_000, deadline=None)


@st.composite
def mutated(draw: st.DrawFn) -> bytes:
    """A good table with pieces put in, taken out, doubled or moved, or in another encoding."""
    text = draw(st.sampled_from(GOOD)).decode()
    for _ in range(draw(st.integers(1, 6))):
        at, end = sorted(draw(st.tuples(*[st.integers(0, len(text))] * 2)))
        end = min(end, at + 40)
        match draw(st.sampled_from(["put", "cut", "swap", "double", "line"])):
            case "put":
                text = text[:at] + draw(st.sampled_from(PIECES)) + text[at:]
            case "cut":
                text = text[:at] + text[end:]
            case "swap":
                text = text[:at] + draw(st.sampled_from(PIECES)) + text[end:]
            case "double":
                text = text[:end] + text[at:]
            case _:
                lines = text.split("\n")
                text = "\n".join([*lines, draw(st.sampled_from(lines))])
    return text.encode(draw(st.sampled_from(["utf-8"] * 9 + ["utf-16"])), "replace")


@pytest.mark.parametrize(
    ("data", "said"), [one[1:] for one in NOTHING_TAKEN], ids=[one[0] for one in NOTHING_TAKEN]
)
def test_where_there_is_no_table_nothing_is_taken_and_it_is_said_why(
    data: bytes, said: str
) -> None:
    with pytest.raises(Faulty) as caught:
        read(data, None, "f.csv")
    assert said in str(caught.value)
    assert all(problem.file == "f.csv" for problem in caught.value.problems)


@pytest.mark.parametrize(
    ("data", "said"), [one[1:] for one in ROWS_REFUSED], ids=[one[0] for one in ROWS_REFUSED]
)
def test_a_row_that_is_wrong_is_told_and_the_others_are_taken(data: bytes, said: str) -> None:
    found = read(data, None, "f.csv")
    assert said in "\n".join(told(found))
    assert found.taken < found.rows
    check(found)


def test_the_tables_are_many_and_the_good_ones_good() -> None:
    assert len(NOTHING_TAKEN) + len(ROWS_REFUSED) >= 40
    for data in GOOD:
        found = read(data, FIRM if data is GOOD[0] else None)
        assert (told(found), found.taken) == ([], found.rows)


def test_good_rows_are_taken_beside_every_kind_of_wrong_one() -> None:
    wrong = [
        data.decode().removeprefix(PLAIN)
        for _, data, _ in ROWS_REFUSED
        if data.decode().startswith(PLAIN)
    ]
    rows = [row.replace("A,", f"W{number},") for number, row in enumerate(wrong)]
    good = [ROW.replace("A,", f"G{number},") for number in range(20)]
    found = read(PLAIN + "".join(good[:10]) + "".join(rows) + "".join(good[10:]), None)
    lines = {problem.line for problem in found.refused}
    assert found.taken == found.rows - len(lines)
    assert found.taken >= 20
    check(found)


def test_words_that_are_refused_are_cut_short() -> None:
    found = read(PLAIN + ROW.replace("basement", "x" * 3000), None)
    assert all(len(line) < 1200 for line in told(found))


def test_what_a_formula_would_run_is_kept_nowhere() -> None:
    for what, data, _ in ROWS_REFUSED:
        if "formula" in what or "link" in what or "command" in what:
            for case in read(data, None).cases:
                assert "=" not in case.model_dump_json()


def test_all_faults_of_a_row_and_of_all_rows_are_told() -> None:
    row = ROW.replace("basement", "cave").replace("2031-04-16", "2031-02-30")
    found = read(PLAIN + "".join(row.replace("A,", f"A{n},") for n in range(500)), None)
    assert len(found.refused) == 1000, "an import does not stop at a hundred faults"
    assert found.unmatched == {"kind": {"cave": 500}}


@pytest.mark.parametrize("wrong", ["Schau: look-1", "Nummer: case", "Riss: finding.crack-width"])
def test_a_mapping_without_a_column_tells_the_column(wrong: str) -> None:
    theirs = wrong.partition(":")[0]
    with pytest.raises(Faulty) as caught:
        read(how=mapping(MAPPING.replace(f"  {wrong}\n", "").replace("units: ", "# ")))
    assert f"{theirs}: this column is neither mapped nor left out" in str(caught.value)


@SHORT
@given(data=st.binary(max_size=400))
def test_any_bytes_give_cases_or_words(data: bytes) -> None:
    cases_or_words(data, None)


@SHORT
@given(text=st.text(max_size=300))
def test_any_text_below_a_good_header_gives_cases_or_words(text: str) -> None:
    cases_or_words((PLAIN + ROW + text).encode("utf-8", "replace"), None)


@SHORT
@given(data=mutated())
def test_a_table_that_was_changed_gives_cases_or_words(data: bytes) -> None:
    cases_or_words(data, None)
    cases_or_words(data, FIRM)


@pytest.mark.long
@LONG
@given(data=mutated())
def test_many_tables_that_were_changed_give_cases_or_words(data: bytes) -> None:
    cases_or_words(data, None)
    cases_or_words(data, FIRM)


@SHORT
@given(text=st.text(max_size=200) | st.sampled_from(PIECES), at=st.integers(0, len(MAPPING)))
def test_any_mapping_is_one_or_is_told(text: str, at: int) -> None:
    try:
        found = mapping(MAPPING[:at] + text + MAPPING[at:])
    except Faulty as faulty:
        assert_told(faulty.problems)
        return
    assert isinstance(found, ColumnMapping)
    cases_or_words(GOOD[0], found)


def cases_or_words(data: bytes, how: ColumnMapping | None) -> None:
    try:
        found = read(data, how)
    except Faulty as faulty:
        assert_told(faulty.problems)
        return
    check(found)


def check(found: Read) -> None:
    """Cases are whole, and all rows are accounted for."""
    assert_told(found.refused)
    assert found.taken == sum(len(case.places) for case in found.cases)
    assert found.taken + len({problem.line for problem in found.refused}) == found.rows
    assert len({case.case for case in found.cases}) == len(found.cases)
    for case in found.cases:
        assert KeptCase.model_validate_json(case.model_dump_json()) == case
        assert case.labels == {}
        assert len({place.place for place in case.places}) == len(case.places)
        for place in case.places:
            assert read_findings(KNOWLEDGE, place.findings)[1] == ()
            assert {one.method for one in place.done} <= KNOWLEDGE.methods.keys()
            assert place.note is None


def assert_told(problems: tuple[Problem, ...]) -> None:
    for problem in problems:
        assert problem.file
        assert problem.message
        assert "\n" not in str(problem)
        assert "Traceback" not in str(problem)
