"""A firm's table, and the library's own export, read as cases. All of the firm is invented."""

import pytest
from hypothesis import given, settings

from advisor import Callout
from advisor.library.case import Closed, Confirmed, Done, KeptCase, KeptFinding, Looked
from advisor.library.moves.csv_in import read_csv
from advisor.library.moves.csv_out import csv_lines
from advisor.library.scrub.labels import token
from advisor.library.scrub.scrubbing import scrubbed
from advisor.terms import Faulty
from tests.library.firm_table import (
    FIRM,
    FIRST,
    HEADER,
    KEY,
    KNOWLEDGE,
    MAPPING,
    SECOND,
    TABLE,
    THIRD,
    mapping,
    read,
    told,
)
from tests.library.known_cases import carried, cases


def test_a_row_becomes_a_wet_place() -> None:
    (case,) = read().cases
    first, second = case.places
    assert (case.case, case.origin, case.quarter, case.kind, case.labels) == (
        token(KEY, "A-17"),
        "from-records",
        "2031-Q2",
        "basement",
        {},
    )
    assert first.confirmed == Confirmed(
        day=0, cause="cold-joint", contributors=("risen-water",), how="opened-and-seen"
    )
    assert first.done == (Done(day=4, method="elastic-resin-injection"),)
    assert first.looked == (Looked(day=34, state="tight", water_up="yes"),)
    assert first.findings == {
        "kind": KeptFinding(value="basement"),
        "crack-width": KeptFinding(value="0.3 mm"),
    }
    assert first.status == "watching"
    assert (second.place, second.status) == (2, "looked-at")
    assert second.findings["crack-width"].value == "under 0.2 mm"


def test_all_rows_are_accounted_for() -> None:
    found = read(f"{TABLE}\n;;;;;;;;;;;;;\n{THIRD}\n")
    assert (found.taken, found.rows, len(found.cases)) == (2, 3, 1)
    assert dict(found.unmatched) == {"method": {"Mörtel": 1}}
    (problem,) = found.refused
    assert (problem.file, problem.line, problem.column, problem.key) == ("firm.csv", 6, 8, "Arbeit")
    assert str(problem).startswith('firm.csv:6:8: Arbeit: "Mörtel" is none of its words; expected')


def test_a_record_and_a_row_of_it_have_the_same_token_and_the_same_kind_of_facts() -> None:
    record = "callout: A-17\nstructure: {kind: basement}\nvisits: [{date: 2031-04-16}]\nleaks:\n"
    record += "  - {leak: L1, findings: {crack-width: 0.3 mm}}\n"
    kept = scrubbed(KNOWLEDGE, Callout.parse(record, "invented.yaml"), KEY).case
    (case,) = read().cases
    assert case.case == kept.case
    assert case.quarter == kept.quarter
    assert case.places[0].findings.items() <= kept.places[0].findings.items()


def test_neither_number_nor_note_nor_date_is_kept() -> None:
    (case,) = read().cases
    text = case.model_dump_json()
    for secret in ("A-17", "Erfunden", "2031-04", "16.04", "20.05"):
        assert secret not in text


def test_the_name_of_a_case_hangs_on_the_key() -> None:
    other = read_csv(TABLE.encode(), "f", KNOWLEDGE, FIRM, key=b"another", origin="own")
    assert other.cases[0].case != read().cases[0].case


def test_unmatched_words_are_counted_and_their_rows_left_out() -> None:
    rows = [FIRST.replace("A-17", f"B-{n}").replace("kalte Fuge", "Riß") for n in range(3)]
    found = read("\n".join([HEADER, *rows, SECOND]))
    assert dict(found.unmatched) == {"cause": {"Riß": 3}}
    assert [problem.line for problem in found.refused] == [2, 3, 4]
    assert (found.taken, found.rows) == (1, 4)
    mended = mapping(MAPPING.replace("offen: unknown", "offen: unknown, Riß: unknown"))
    again = read("\n".join([HEADER, *rows, SECOND]), mended)
    assert again.taken == 4
    assert again.cases[0].places[0].confirmed is None


def test_a_word_that_is_nearly_ours_is_told_and_not_taken() -> None:
    (line,) = told(read(f"{HEADER}\n{FIRST.replace('kalte Fuge', 'cold-jiont')}"))
    assert 'did you mean "cold-joint"?' in line


def test_our_own_words_need_no_mapping() -> None:
    found = read("case,kind,date\nA,lift pit,2031-04-16\n", None)
    assert found.cases[0].kind == "lift-pit"


def test_several_choices_are_read_as_in_a_callout_file() -> None:
    table = (
        "case,kind,finding.deposits,finding.crack-width\n"
        'A,basement,"[lime, rust]",0.1 to 0.2 mm\n'
        "B,basement,{has: [lime]},unknown\n"
        "C,basement,[],0.3 mm (unsure)\n"
        "D,basement,not-applicable,not-applicable\n"
    )
    found = read(table, None)
    assert told(found) == []
    a, b, c, d = ({k: v.value for k, v in one.places[0].findings.items()} for one in found.cases)
    assert (a["deposits.lime"], a["deposits.rust"], a["deposits.silt"]) == ("yes", "yes", "no")
    assert a["crack-width"] == "0.1-0.2 mm"
    assert b == {"kind": "basement", "deposits.lime": "yes"}
    assert {v for k, v in c.items() if k.startswith("deposits")} == {"no"}
    assert not found.cases[2].places[0].findings["crack-width"].sure
    assert d["crack-width"] is None
    assert d["deposits.lime"] is None


def test_rare_numbers_are_kept_as_bands() -> None:
    found = read("case,kind,finding.concrete-age\nA,basement,4017 d\n", None)
    assert found.cases[0].places[0].findings["concrete-age"].value == "at least 3650 days"


def test_a_date_becomes_a_quarter_and_days_from_the_first_visit_of_the_case() -> None:
    table = (
        "case,place,kind,date,method,done,closed-because,closed\n"
        "A,1,basement,2031-03-30,bonded-strip,2031-04-09,held,2032-03-30\n"
        "A,2,basement,2031-03-01,bonded-strip,2031-04-09,,\n"
    )
    (case,) = read(table, None).cases
    assert case.quarter == "2031-Q1"
    assert [place.done[0].day for place in case.places] == [39, 39]
    assert case.places[0].closed == Closed(day=395, because="held")
    assert [place.status for place in case.places] == ["closed", "repaired"]


def test_without_a_visit_days_count_from_the_first_day_that_is_told() -> None:
    table = "case,kind,method,done,look-1,look-1-state\nA,basement,bonded-strip,{},{},tight\n"
    (case,) = read(table.format("2031-04-09", "2031-05-09"), None).cases
    assert case.quarter == "2031-Q2"
    assert (case.places[0].done[0].day, case.places[0].looked[0].day) == (0, 30)


def test_days_can_be_told_as_numbers() -> None:
    table = "case,kind,quarter,method,done-day\nA,basement,2031-Q3,bonded-strip,12\n"
    (case,) = read(table, None).cases
    assert (case.quarter, case.places[0].done[0].day) == ("2031-Q3", 12)


def test_a_time_of_day_behind_a_date_is_passed_over() -> None:
    (case,) = read("case,kind,date\nA,basement,2031-04-16 00:00:00\n", None).cases
    assert case.quarter == "2031-Q2"


def test_what_is_fixed_holds_for_every_row() -> None:
    text = MAPPING.replace("  Bauwerk: kind\n", "").replace("[Notiz]", "[Notiz, Bauwerk]")
    text += "fixed: {kind: lift pit, origin: remembered}\n"
    (case,) = read(TABLE, mapping(text)).cases
    assert (case.kind, case.origin) == ("lift-pit", "remembered")


def test_a_repair_of_an_unknown_method_is_left_out_and_its_looks_are_kept() -> None:
    text = MAPPING.replace("Harz: elastic-resin-injection", "Harz: unknown")
    place = read(TABLE, mapping(text)).cases[0].places[0]
    assert place.done == ()
    assert len(place.looked) == 1


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "with a mark"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"], ids=["unix", "windows", "old mac"])
@pytest.mark.parametrize("sign", [";", "\t"], ids=["semicolon", "tab"])
def test_a_table_is_read_as_spreadsheets_save_it(mark: bytes, end: str, sign: str) -> None:
    data = mark + TABLE.replace(";", sign).replace("\n", end).encode()
    assert read(data).cases == read().cases


def test_a_note_may_hold_line_breaks_and_the_lines_still_count() -> None:
    note = FIRST.replace("Frau Erfunden rief an", '"Frau Erfunden\nrief; an"')
    found = read(f"{HEADER}\n{note}\n{THIRD}\n")
    assert found.taken == 1
    assert [problem.line for problem in found.refused] == [4]


@settings(deadline=None)
@given(case=cases())
def test_the_own_export_reads_back_the_same_as_far_as_it_carries(case: KeptCase) -> None:
    data = "".join(csv_lines([case])).encode()
    found = read_csv(data, "own.csv", KNOWLEDGE, None, key=KEY, origin="remembered")
    assert told(found) == []
    assert found.cases == (carried(case),)
    assert (found.taken, found.rows) == (len(case.places),) * 2


def test_the_own_export_is_known_after_a_spreadsheet_saved_it_with_tabs() -> None:
    data = "".join(csv_lines(read().cases)).replace(",", "\t").replace("\r\n", "\n")
    assert read(data, None).cases == read().cases
    assert read(data, FIRM).cases == read().cases, "its own export needs no mapping"


def test_rows_of_a_case_need_not_stand_together() -> None:
    found = read("\n".join([HEADER, FIRST, FIRST.replace("A-17", "A-19"), SECOND]))
    assert [len(case.places) for case in found.cases] == [2, 1]


def test_a_row_that_is_not_taken_leaves_the_others_of_its_case() -> None:
    found = read("\n".join([HEADER, FIRST, SECOND.replace("unter 0.2 mm", "weit")]))
    assert [place.place for place in found.cases[0].places] == [1]
    assert (found.taken, found.rows) == (1, 2)


def test_what_is_said_of_the_case_in_one_row_holds_for_its_others() -> None:
    table = "case,place,kind,quarter\nA,1,basement,\nA,2,basement,2031-Q2\nA,3,basement,2031-Q3\n"
    found = read(table, None)
    assert found.cases[0].quarter == "2031-Q2"
    assert len(found.cases[0].places) == 2
    (line,) = told(found)
    assert line.startswith("firm.csv:4:4: quarter: row 3 of this case says something else")


@pytest.mark.parametrize("place", ["", "unknown", "left"])
def test_a_place_that_is_not_told_is_not_taken_for_the_first(place: str) -> None:
    found = read(f"case,place,kind\nA,1,basement\nA,{place},basement\n", None)
    assert (found.taken, len(found.refused)) == (1, 1)
    assert "stands in row" not in told(found)[0]


def test_without_a_column_of_places_a_case_has_one_row() -> None:
    found = read("case,kind\nA,basement\nA,basement\n", None)
    assert found.taken == 1
    assert "place 1 of this case stands in row 2 too" in told(found)[0]


def test_the_columns_that_are_not_there_are_told_all_at_once() -> None:
    with pytest.raises(Faulty) as caught:
        read(TABLE.replace("Ursache", "Grund").replace("Notiz", "Anmerkung"))
    assert sorted({problem.key for problem in caught.value.problems} - {None}) == [
        *("Anmerkung", "Grund", "Ursache"),
    ]
