"""Files of loads: the forms that are read, and a folder of broken ones, one mistake each.

What each broken file is answered with stands in `broken-loads/messages.yaml`. All loads are
invented.
"""

import csv
import io
from contextlib import suppress
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from advisor.callout.loads import Load, parse_loads, read_loads
from advisor.terms import Faulty
from advisor.terms.source_file import LARGEST

FOLDER = Path(__file__).parent / "broken-loads"
BROKEN = sorted(FOLDER.glob("*.csv"))
MESSAGES = yaml.safe_load((FOLDER / "messages.yaml").read_text(encoding="utf-8"))

LOAD = Load(row=2, ticket="4711", volume_m3=7.5, cement_kg_m3=320.0, dose_kg=24.0, pour="base slab")


def messages(data: bytes | str) -> list[str]:
    with pytest.raises(Faulty) as caught:
        parse_loads(data, "loads.csv")
    return [str(problem).removeprefix("loads.csv:") for problem in caught.value.problems]


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_broken_file_is_told_in_one_message(path: Path) -> None:
    with pytest.raises(Faulty) as caught:
        read_loads(path)
    (problem,) = caught.value.problems
    assert str(problem).removeprefix(f"{path}:").strip() == MESSAGES[path.stem]


def test_every_broken_file_has_its_message() -> None:
    assert {path.stem for path in BROKEN} == MESSAGES.keys()


@pytest.mark.parametrize(
    "text",
    [
        "ticket,volume (m3),cement (kg/m3),dose (kg),pour\n4711,7.5,320,24,base slab\n",
        "pour,dose kg,Cement kg/m³,VOLUME m3,Ticket\nbase slab,24,320,7.5,4711\n",
        "ticket,volume [L],cement [kg],dose [g],pour\n4711,7500,2400,24000,base slab\n",
        "ticket,volume_m3,cement (kg/load),dose (kg a load),pour\n4711,7.5,2400,24,base slab\n",
        "ticket,volume (m3),cement (kg/m3),dose (kg/m3),pour\n4711,7.5,320,3.2,base slab\n",
        "ticket,volume (m3),cement (kg/m3),dose (% of cement),pour\n4711,7.5,320,1,base slab\n",
        "ticket,volume (m3),cement (kg),dose %,pour\n4711,7.5,2400,1,base slab\n",
        "ticket,volume,cement,dose,pour\n4711,7.5 m3,320 kg/m3,24 kg,base slab\n",
        "ticket,volume,cement,dose,pour\n4711,7.5m3,2400 kg a load,1 % of cement,base slab\n",
        "ticket,volume (m3),cement (kg/m3),dose (kg),pour\n4711,7.5 m3,320,24 kg,base slab\n",
        "ticket;volume (m3);cement (kg/m3);dose (kg);pour\n4711;7,5;320;24,0;base slab\n",
        "ticket;volume, m3;cement, kg/m3;dose, kg;pour\n4711;7,5;320;24,0;base slab\n",
        "ticket\tvolume (m3)\tcement (kg/m3)\tdose (kg)\tpour\n4711\t7,5\t320\t24\tbase slab\n",
        'ticket,volume (m3),cement (kg/m3),dose (kg),pour\n4711,"7,5",320,"24,0",base slab\n',
        "\ufeffticket,volume (m3),cement (kg/m3),dose (kg),pour\r\n4711,7.5,320,24,base slab\r\n",
        "ticket,volume (m3),cement (kg/m3),dose (kg),pour\n4711, 7.5 ,320,24,base slab\n\n,,,,\n",
        'ticket,"volume\n(m3)",cement (kg/m3),dose (kg),pour\n4711,7.5,320,24,base slab\n',
    ],
    ids=lambda text: text.splitlines()[0],
)
def test_one_load_in_many_forms(text: str) -> None:
    found = parse_loads(text.encode(), "loads.csv")
    assert found.loads == (LOAD,) or found.loads == (_one_row_lower(LOAD),)
    assert found.aside == found.remarks == ()


def _one_row_lower(load: Load) -> Load:
    """Where the header takes two lines of the file."""
    return Load(
        row=load.row + 1,
        ticket=load.ticket,
        volume_m3=load.volume_m3,
        cement_kg_m3=load.cement_kg_m3,
        dose_kg=load.dose_kg,
        pour=load.pour,
    )


def test_cement_may_be_missing() -> None:
    (load,) = parse_loads("ticket,volume m3,dose kg,pour\n1,7.5,24,slab\n", "f.csv").loads
    assert (load.cement_kg_m3, load.dose_kg) == (None, 24)


def test_other_columns_are_kept_aside_and_told() -> None:
    text = (
        "driver,ticket,volume (m3),volume ordered,dose (kg),dose time,pour,cemnt\n"
        "A,1,7.5,8,24,07:10,slab,320\n"
        ",2,6,6,19,07:45,slab,320\n"
    )
    found = parse_loads(text, "f.csv")
    assert [load.volume_m3 for load in found.loads] == [7.5, 6]
    assert [(a.header, a.cells) for a in found.aside] == [
        ("driver", ("A", "")),
        ("volume ordered", ("8", "6")),
        ("dose time", ("07:10", "07:45")),
        ("cemnt", ("320", "320")),
    ]
    assert [str(remark) for remark in found.remarks] == [
        "f.csv:1:1: driver: this column is not read",
        "f.csv:1:4: volume ordered: this column is not read",
        "f.csv:1:6: dose time: this column is not read",
        'f.csv:1:8: cemnt: this column is not read; did you mean "cement"?',
    ]


def test_all_faults_are_told_at_once_in_the_order_of_the_file() -> None:
    text = (
        "ticket,volume (m3),cement (kg/m3),dose (kg),poor\n"
        "1,7.5,,none,slab\n"
        "1,-2,320,24,slab\n"
        "2,8.0,320,24\n"
        ",8 L,320,24,slab\n"
    )
    assert messages(text) == [
        '1:5: poor: no column is called so; expected a column "pour"; did you mean "pour"?',
        "2:3: cement: nothing is written here; expected a number such as 7.5",
        '2:4: dose: "none" is no number; expected a number such as 7.5',
        '3:1: ticket: "1" stands in row 2 too; expected each ticket once',
        "3:2: volume: -2 m3 cannot be; expected more than 0 m3",
        "4:5: 4 cells, the header has 5; expected one cell for each column",
        "5:1: ticket: nothing is written here; expected the ticket of this load",
        "5:2: volume: mixed units: L here, m3 in the header; expected m3 in the whole column",
    ]


def test_a_header_of_other_things() -> None:
    found = messages("date,time,who\n2031-04-16,07:00,A\n")
    assert found == [
        '1: ticket: this column is missing; expected a column "ticket"',
        '1: volume: this column is missing; expected a column "volume (m3)"',
        '1: dose: this column is missing; expected a column "dose (kg)"',
        '1: pour: this column is missing; expected a column "pour"',
    ]


def test_so_many_faults_that_nobody_mends_them_in_one_go() -> None:
    rows = "".join(f"{n},x,24,slab\n" for n in range(500))
    assert len(messages("ticket,volume (m3),dose (kg),pour\n" + rows)) == 100


@pytest.mark.parametrize(
    ("name", "message"),
    [("none.csv", "there is no such file"), ("", "this is a folder; expected a file")],
)
def test_no_file(tmp_path: Path, name: str, message: str) -> None:
    with pytest.raises(Faulty) as caught:
        read_loads(tmp_path / name)
    assert str(caught.value).endswith(message)


def test_a_file_that_is_too_large(tmp_path: Path) -> None:
    path = tmp_path / "large.csv"
    path.write_bytes(b"0" * (LARGEST + 1))
    with pytest.raises(Faulty, match="too large; expected at most 1 MiB"):
        read_loads(path)


LOADS = st.lists(
    st.tuples(st.floats(0.1, 15), st.floats(60, 600), st.floats(0.1, 100), st.sampled_from("ABC")),
    min_size=1,
    max_size=5,
)


@given(loads=LOADS, delimiter=st.sampled_from(",;\t"), mark=st.sampled_from(",."))
def test_what_is_written_is_read(
    loads: list[tuple[float, float, float, str]], delimiter: str, mark: str
) -> None:
    """To four decimals, more than a plant prints, of which none looks like thousands."""
    stream = io.StringIO()
    writer = csv.writer(stream, delimiter=delimiter)
    writer.writerow(["ticket", "volume (m3)", "cement (kg/m3)", "dose (kg)", "pour"])
    for ticket, (*numbers, pour) in enumerate(loads):
        writer.writerow([ticket, *(f"{n:.4f}".replace(".", mark) for n in numbers), pour])
    found = parse_loads(stream.getvalue().encode(), "f.csv").loads
    assert [(f.row, f.ticket) for f in found] == [(n + 2, str(n)) for n in range(len(loads))]
    for load, (volume, cement, dose, pour) in zip(found, loads, strict=True):
        read = (load.volume_m3, load.cement_kg_m3, load.dose_kg)
        assert read == pytest.approx((volume, cement, dose), abs=1e-4)
        assert load.pour == pour


@given(st.text(alphabet="ticketvoumdspr,;\t\n\"'()%/ 0123456789.-\ufeff\x00", max_size=80))
def test_no_text_breaks_it(text: str) -> None:
    header = "ticket,volume (m3),dose (kg),pour\n"
    for data in (text, header + text, header + "1,2,3," + text):
        with suppress(Faulty):
            assert parse_loads(data, "f.csv").loads
