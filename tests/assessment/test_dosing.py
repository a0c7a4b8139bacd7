"""A record of loads against the required dose: what is off, where it went. Invented loads."""

from pathlib import Path

import pytest

from tests.cli.command import run

HEADER = "ticket,volume (m3),cement (kg/m3),dose (kg),pour\n"
GIVEN = ("work-out", "dosing", "required-dose=1 %", "dose-tolerance=en-206")


def record(folder: Path, *rows: str, header: str = HEADER) -> str:
    path = folder / "loads.csv"
    path.write_text(header + "\n".join(rows) + "\n", encoding="utf-8")
    return f"loads={path}"


def test_loads_out_of_tolerance_are_named_with_their_pour(tmp_path: Path) -> None:
    # 7.5 m3 x 320 kg/m3 x 1 % = 24 kg; 5 % of it is 1.2 kg (EN 206, from memory).
    rows = (
        "A1,7.5,320,24,base",
        "A2,7.5,320,22.9,base",
        "A3,7.5,320,22.7,wall 2",
        "A4,7.5,320,0,wall 3",
    )
    ended = run(*GIVEN, record(tmp_path, *rows))
    assert ended.code == 0
    text = " ".join(ended.out.split())
    assert "2 of 4 loads are out of the tolerance. They went into: wall 2, wall 3." in text
    assert "row 4, ticket A3, pour wall 2: 22.7 kg, -5.42 % off" in text
    assert "ticket A2" not in text


def test_the_other_standard_is_narrower(tmp_path: Path) -> None:
    words = (*GIVEN[:3], "dose-tolerance=astm-c94", record(tmp_path, "A1,7.5,320,23.0,base"))
    assert "1 of 1 loads are out" in run(*words).out


def test_one_load_and_all_well(tmp_path: Path) -> None:
    assert "All 1 loads are within" in run(*GIVEN, record(tmp_path, "A1,7.5,320,24,base")).out


@pytest.mark.parametrize(
    ("header", "row", "said"),
    [
        (HEADER, "A1,7,5,320,24,base", ":2:6: 6 cells, the header has 5"),
        (HEADER, "A1,7.5,320,,base", ":2:4: dose: nothing is written here"),
        (HEADER, "A1,7.5 yd3,320,24,base", ":2:2: volume"),
        (HEADER, "A1,much,320,24,base", ':2:2: volume: "much" is no number'),
        ("ticket,volume (m3),dose (kg),pour\n", "A1,7.5,24,base", "cement"),
    ],
)
def test_bad_files_are_told_with_row_and_column(
    tmp_path: Path, header: str, row: str, said: str
) -> None:
    ended = run(*GIVEN, record(tmp_path, row, header=header))
    assert ended.code == 2
    assert said in ended.err


def test_no_such_file() -> None:
    ended = run(*GIVEN, "loads=/nowhere/loads.csv")
    assert (ended.code, ended.out) == (2, "")
    assert "there is no such file" in ended.err
