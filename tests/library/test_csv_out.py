"""Cases as CSV: one row a wet place, nothing that a spreadsheet would run, no labels."""

import csv
import io
import tracemalloc
from collections.abc import Iterator

from hypothesis import given
from hypothesis import strategies as st

from advisor.library.case import (
    Closed,
    Confirmed,
    Done,
    KeptCase,
    KeptFinding,
    KeptPlace,
    Looked,
    Shown,
)
from advisor.library.moves.csv_out import COLUMNS, csv_lines, inert, told
from tests.library.made_cases import made_case

CASE = KeptCase(
    case="0" * 32,
    quarter="2031-Q2",
    kind="made-cellar",
    visits=2,
    labels={"crew": "crew-3fa94c12", "site": "site-12ab34cd"},
    places=(
        KeptPlace(
            place=1,
            status="closed",
            findings={
                "made-width": KeptFinding(value="0.2 to 0.3 mm"),
                "made-sign": KeptFinding(value="a or b", sure=False),
                "made-joint": KeptFinding(value=None),
            },
            shown=Shown(day=0, advisor="1", knowledge="k", causes={"one": 0.2, "two": 0.75}),
            done=(Done(day=100, method="made-gel"), Done(day=10, method="made-resin")),
            confirmed=Confirmed(day=3, cause="two", contributors=("x", "y"), how="document"),
            looked=(
                Looked(day=38, state="tight", water_up="yes"),
                Looked(day=5, state="worse"),
                Looked(day=100, state="worse", water_up="no", within=False),
                Looked(day=130, state="tight", water_up="yes", within=True),
            ),
            closed=Closed(day=400, because="held"),
            note="a note that stays",
        ),
        KeptPlace(place=2, status="reported", looked=(Looked(day=3, state="same"),)),
    ),
)


def rows(*cases: KeptCase) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO("".join(csv_lines(cases)), newline="")))


def test_a_row_says_what_a_place_was_and_how_long_it_held() -> None:
    first, _ = rows(CASE)
    assert first == {
        "library-format": "1",
        "case": "0" * 32,
        "place": "1",
        "origin": "own",
        "invented": "no",
        "quarter": "2031-Q2",
        "kind": "made-cellar",
        "status": "closed",
        "visits": "2",
        "first-shown": "two",
        "first-confidence": "0.750",
        "cause": "two",
        "confirmed-how": "document",
        "confirmed-day": "3",
        "contributors": "x; y",
        "method": "made-resin; made-gel",
        "done-day": "10; 100",
        "looks-after": "'-5:worse:unknown 28:tight:yes 90:worse:no:not-within; 30:tight:yes:within",
        "held-days": "28; 30",
        "failed-day": "90; none",
        "closed-because": "held",
        "closed-day": "400",
        "reopened": "no",
        "findings": "made-width=0.2 to 0.3 mm; made-sign=a or b (unsure);"
        " made-joint=not-applicable",
    }


def test_a_place_of_which_little_is_known_has_empty_cells() -> None:
    _, second = rows(CASE)
    filled = {name for name, cell in second.items() if cell}
    assert filled == {
        *("library-format", "case", "place", "origin", "invented", "quarter", "kind"),
        *("status", "visits", "looks-after", "reopened"),
    }
    assert second["looks-after"] == "3:same:unknown"


def test_the_header_comes_first_also_without_cases() -> None:
    assert "".join(csv_lines([])) == ",".join(COLUMNS) + "\r\n"


def test_one_row_a_wet_place_and_as_many_cells_as_columns() -> None:
    cases = [made_case(number) for number in range(40)]
    lines = list(csv.reader(io.StringIO("".join(csv_lines(cases)), newline="")))
    assert len(lines) == 1 + sum(len(case.places) for case in cases)
    assert {len(line) for line in lines} == {len(COLUMNS)}


def test_labels_and_notes_never_leave() -> None:
    text = "".join(csv_lines([CASE, made_case(1, note="Herr Erfunden")]))
    for secret in ("crew-3fa94c12", "site-12ab34cd", "a note that stays", "Erfunden"):
        assert secret not in text


@given(st.text() | st.from_regex(r"'*[-=+@\t\r].*"))
def test_no_cell_runs_in_a_spreadsheet_and_all_read_back(text: str) -> None:
    assert not inert(text).startswith(("=", "+", "-", "@", "\t", "\r"))
    assert told(inert(text)) == text


def test_a_finding_that_looks_like_a_formula_is_inert() -> None:
    findings = {"=made": KeptFinding(value='HYPERLINK("x")')}
    place = KeptPlace(place=1, status="reported", findings=findings)
    (row,) = rows(CASE.model_copy(update={"places": (place,)}))
    assert row["findings"] == '\'=made=HYPERLINK("x")'


def test_memory_stays_flat() -> None:
    def many() -> Iterator[KeptCase]:
        for number in range(400):
            yield made_case(number % 20)

    lines = csv_lines(many())
    for _ in range(50):
        next(lines)
    tracemalloc.start()
    assert sum(1 for _ in lines) > 400
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 1_000_000
