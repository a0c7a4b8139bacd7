"""The packer table of an injection, as CSV."""

from pathlib import Path

import pytest

from advisor.callout.log_record import Done, Packer
from advisor.callout.packers import parse_packers, read_packers
from advisor.terms import Faulty
from tests.callout.conftest import Parse
from tests.callout.logs import entry, record


def faults(text: str | bytes) -> list[str]:
    with pytest.raises(Faulty) as caught:
        parse_packers(text, "p.csv")
    return [str(problem) for problem in caught.value.problems]


def test_units_of_the_header_go_to_each_cell() -> None:
    text = "Ended,minutes,Volume [L],packer,PRESSURE (bar)\nfull,3,0.5,1,20\n,,,2,\n"
    assert parse_packers(text, "p.csv") == (
        {"ended": "full", "minutes": "3", "volume": "0.5 L", "packer": "1", "pressure": "20 bar"},
        {"packer": "2"},
    )


def test_a_unit_in_the_cell_wins_and_a_decimal_comma_is_read() -> None:
    text = "packer;pressure (bar);volume (L)\n1;2 MPa;0,5\n"
    assert parse_packers(text, "p.csv")[0] == {
        "packer": "1",
        "pressure": "2 MPa",
        "volume": "0,5 L",
    }


def test_rows_are_read_by_the_log_as_they_are(parse: Parse) -> None:
    rows = parse_packers("packer;pressure (bar);volume (L)\nA 1;2 MPa;0,5\n", "p.csv")
    written = ", ".join(f'{key}: "{value}"' for key, value in rows[0].items())
    (done,) = parse(record(entry(f"done: gel\n    packers: [{{{written}}}]"))).log
    assert isinstance(done, Done)
    assert done.packers == (Packer(packer="A 1", pressure=20, volume=0.5),)


def test_a_file_is_read_with_its_mark(tmp_path: Path) -> None:
    path = tmp_path / "packers.csv"
    path.write_bytes("packer\tended\r\n1\tvoll, überall\r\n".encode("utf-8-sig"))
    assert read_packers(path) == ({"packer": "1", "ended": "voll, überall"},)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("pressure,volume\n1 bar,2 L\n", 'p.csv:1:1: packer: the column of the packers is missing'),
        ("packer,presure (bar)\n1,2\n", "p.csv:1:2: presure (bar): this column is not known"),
        ("packer,volume (L),volume\n1,2,3 L\n", "p.csv:1:2: volume: this column stands"),
        ("packer,minutes (h)\n1,2\n", 'p.csv:1:2: minutes: "h" are no minutes'),
        ("packer,pressure\n1,20\n", "p.csv:2:2: pressure: the unit is missing"),
        ("packer,pressure (L)\n1,20\n", "p.csv:2:2: pressure: \"L\" is a unit of"),
        ("packer,volume (L)\n1,full\n", 'p.csv:2:2: volume: "full" does not start with a number'),
        ("packer,volume (L)\n1,over 3 L\n", "p.csv:2:2: volume: this has one end only"),
        ("packer,minutes\n1,long\n", 'p.csv:2:2: minutes: "long" is no number'),
        ("packer,minutes\n,3\n", "p.csv:2:1: packer: this row names no packer"),
        ("packer,minutes\n1,2,3\n", "p.csv:2:3: 3 cells, the header has 2"),
        ("", "p.csv: the file is empty"),
    ],
)  # fmt: skip
def test_a_fault_is_told_with_its_row(text: str, said: str) -> None:
    assert any(one.startswith(said) for one in faults(text)), faults(text)


def test_the_nearest_column_is_told_too() -> None:
    (told,) = faults("packer,presure (bar)\n1,2\n")
    expected = "expected one of packer, pressure, volume, minutes, ended"
    assert told.endswith(f'{expected}; did you mean "pressure"?')


def test_all_faults_are_told_at_once() -> None:
    text = "packer,pressure (bar),minutes\n1,x,y\n,20,3\n2,9999,-1\n"
    assert len(faults(text)) == 5


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(Faulty, match="there is no such file"):
        read_packers(tmp_path / "none.csv")
