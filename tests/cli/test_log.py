"""`advisor log` end to end: by words, asked one by one, refused, and what a failure leaves."""

import os
import pty
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from advisor.callout import Callout
from advisor.callout.log_record import Done, LogEntry, Looked
from advisor.cli.records import record_text, replace_record
from advisor.terms import Faulty
from tests.cli.command import CHECKOUT, Ended, run
from tests.repair.crack import CRACK, RESIN, knowledge

TWO = CRACK + "  - leak: L2\n    findings: {member: floor}\n"
DONE = (f"done={RESIN}", "date=2031-05-20")
LOOKED = ("looked=tight", "water-up=no", "date=2031-06-20")


@pytest.fixture
def record(tmp_path: Path) -> Path:
    path = tmp_path / "callout.yaml"
    path.write_text(CRACK, encoding="utf-8")
    return path


def log(file: Path, *answers: str, **options: Any) -> Ended:
    words = [word for answer in answers for word in ("--set", answer)]
    return run("log", file, *words, *options.pop("more", ()), **options)


def entries(file: Path) -> tuple[LogEntry, ...]:
    return Callout.read(file, knowledge().attributes).log


def flat(text: str) -> str:
    """Without the line breaks of the page."""
    return " ".join(text.split())


def refused(file: Path, *answers: str, more: tuple[str, ...] = ()) -> str:
    """What is said; nothing is written and nothing lies about."""
    before, there = file.read_bytes(), sorted(file.parent.iterdir())
    ended = log(file, *answers, more=more)
    assert (ended.code, ended.out) == (2, "")
    assert file.read_bytes() == before
    assert sorted(file.parent.iterdir()) == there
    return ended.err


def test_an_outcome_is_logged_and_where_it_stands_is_said(record: Path) -> None:
    ended = log(record, *DONE, "quantities.packer-count=14", "words=no: # 1:30, Fuge über 3 m")
    assert (ended.code, ended.err) == (0, "")
    said = flat(ended.out)
    closed_up = "".join(said.split())  # a long path is broken at the edge of the page
    assert f"Loggedin{record}:proposed,done.L1isnow:repaired." in closed_up
    assert "What the advisor answers now is kept with it, as it was shown." in said
    assert f"Next:advisordue{record}" in closed_up
    assert record.read_text(encoding="utf-8").startswith(CRACK)
    _, done = entries(record)
    assert isinstance(done, Done)
    assert (done.words, done.quantities) == ("no: # 1:30, Fuge über 3 m", {"packer-count": "14"})
    assert sorted(path.name for path in record.parent.iterdir()) == [record.name]


def test_dry_without_the_water_up_is_said_to_test_nothing(record: Path) -> None:
    log(record, *DONE)
    ended = log(record, *LOOKED)
    assert "L1 is now: watching. Dry, and the water was not up: kept as not tested." in flat(
        ended.out
    )
    assert "as it was shown" not in ended.out


def test_what_is_seen_on_the_day_of_the_repair_is_said_to_prove_nothing(record: Path) -> None:
    log(record, *DONE)
    ended = log(record, "looked=tight", "water-up=yes", "date=2031-05-20")
    assert "L1 is now: repaired. Seen no later than the last repair" in flat(ended.out)


def test_keys_may_be_written_with_spaces(record: Path) -> None:
    log(record, *DONE)
    assert log(record, "looked=moved along", "water up=yes", "date = 2031-06-01").code == 0


def test_packers_come_as_a_file(record: Path, tmp_path: Path) -> None:
    table = tmp_path / "packers.csv"
    table.write_text("packer;pressure (bar);volume (L)\n1;20;0,5\n2;25;\n", encoding="utf-8")
    assert log(record, *DONE, f"packers={table}").code == 0
    done = entries(record)[-1]
    assert isinstance(done, Done)
    assert [(one.packer, one.pressure, one.volume) for one in done.packers] == [
        ("1", 20, 0.5),
        ("2", 25, None),
    ]
    table.write_text("packer;pressure (bar)\n1;hard\n", encoding="utf-8")
    assert refused(record, *DONE, f"packers={table}").startswith(f"{table}:2:2: pressure: ")
    assert "there is no such file" in refused(record, *DONE, "packers=none.csv")


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        (("told",), '--set: "told" is no KEY=VALUE; expected such as looked=tight'),
        (("told=",), '--set: "told=" is no KEY=VALUE'),
        (("told=owner", "told=tenant", "date=2031-05-20"), "told: this is given twice"),
        (("told=owner",), "date: the day is missing; expected YYYY-MM-DD"),
        (("done=epoxi-injection", "date=2031-05-20"), 'did you mean "epoxy-injection"?'),
        ((), "--set: nothing is said to be logged; expected --set KEY=VALUE, or a terminal"),
        (("closed=held", "date=2031-05-20"), "not yet closed as held; expected a repair was done"),
        (("looked=tight", "water-up=yes", "date=2031-05-20"), "no repair is logged up to"),
    ],
)
def test_what_cannot_be_logged_is_told_and_the_file_stays(
    record: Path, answers: tuple[str, ...], said: str
) -> None:
    told = refused(record, *answers)
    assert said in told
    assert "Traceback" not in told
    assert "a fault of the program" not in told


def test_which_of_two_wet_places_must_be_said(record: Path) -> None:
    record.write_text(TWO, encoding="utf-8")
    assert "--leak: the wet place is missing; expected one of L1, L2" in refused(record, *DONE)
    assert 'there is no wet place "L3"' in refused(record, *DONE, more=("--leak", "L3"))
    assert log(record, *DONE, more=("--leak", "L2")).code == 0
    assert {one.leak for one in entries(record)} == {"L2"}


def test_files_that_are_no_record_are_told(record: Path, tmp_path: Path) -> None:
    assert "there is no such file" in log(tmp_path / "none.yaml", *DONE).err
    assert "this is a folder" in log(tmp_path, *DONE).err
    for data, said in ((b"callout: \xe9\n", "not in UTF-8"), (b"callout: X\n", "is missing")):
        record.write_bytes(data)
        assert said in refused(record, *DONE)
    record.write_text(f"{CRACK}log: []\n", encoding="utf-8")
    assert 'expected each entry on a line with "- "' in refused(record, *DONE)


@pytest.mark.parametrize("step", ["tempfile.mkstemp", "os.fsync", "os.replace"])
def test_writing_that_fails_leaves_the_file_as_it_was(
    record: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    before = record.read_bytes()
    with monkeypatch.context() as patched:
        patched.setattr(step, fails)
        ended = log(record, *DONE)
    assert (ended.code, ended.out) == (3, "")
    told = "nothing was logged: it cannot be written (no space left on device)"
    assert ended.err == f"{record}: {told}\n"
    assert record.read_bytes() == before
    assert [path.name for path in record.parent.iterdir()] == [record.name]
    assert log(record, *DONE).code == 0, "once more, and it works"


def test_a_file_that_may_not_be_written_is_left_alone(
    record: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("os.access", lambda *_: False)
    ended = log(record, *DONE)
    assert (ended.code, ended.out) == (3, "")
    assert "it cannot be written (permission denied)" in ended.err
    assert record.read_text(encoding="utf-8") == CRACK


def test_a_file_that_was_changed_meanwhile_is_left_alone(
    record: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    changed = CRACK + "# by somebody else\n"
    with monkeypatch.context() as patched:
        patched.setattr("advisor.cli.log.record_text", lambda _: _changing(record, changed))
        ended = log(record, *DONE)
    assert (ended.code, ended.out) == (2, "")
    assert "the file was changed by somebody else meanwhile; expected to log it again" in ended.err
    assert record.read_text(encoding="utf-8") == changed
    assert log(record, *DONE).code == 0


def _changing(file: Path, text: str) -> str:
    before = record_text(str(file))
    file.write_text(text, encoding="utf-8")
    return before


def test_the_file_keeps_its_rights_and_its_place_behind_a_link(record: Path) -> None:
    record.chmod(0o640)
    link = record.with_name("link.yaml")
    link.symlink_to(record)
    replace_record(str(link), CRACK, CRACK + "# more\n")
    assert link.is_symlink()
    assert record.read_text(encoding="utf-8").endswith("# more\n")
    assert record.stat().st_mode & 0o777 == 0o640
    with pytest.raises(Faulty):
        replace_record(str(link), CRACK, CRACK)


def test_of_many_at_once_each_is_there_or_refused(record: Path) -> None:
    log(record, *DONE)
    words = [sys.executable, "-m", "advisor", "log", str(record), "--set", "told=owner"]
    running = [
        subprocess.Popen(
            [*words, "--set", f"date=2031-06-0{n}"], cwd=CHECKOUT, stderr=subprocess.PIPE
        )
        for n in (1, 2)
    ]
    said = [(one.communicate(timeout=60)[1], one.returncode) for one in running]
    assert {code for _, code in said} <= {0, 2}
    assert len(entries(record)) == 2 + sum(code == 0 for _, code in said)


def asked(file: Path, answers: str, *more: str) -> tuple[int, str]:
    """The command on a terminal of its own, answered line by line: how it ends, and what it
    says."""
    ours, theirs = pty.openpty()
    words = [sys.executable, "-m", "advisor", "log", str(file), *more]
    with subprocess.Popen(
        words, cwd=CHECKOUT, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True
    ) as running:
        os.close(theirs)
        os.write(ours, answers.encode())
        said = b""
        while True:
            try:
                part = os.read(ours, 4096)
            except OSError:  # the other end is closed
                break
            if not part:
                break
            said += part
        code = running.wait(timeout=60)
    os.close(ours)
    return code, said.decode().replace("\r\n", "\n")


END = "\x04"
"""The end of the input."""


def test_asked_one_by_one(record: Path) -> None:
    answers = [
        *("done", RESIN, "2031-05-20"),
        *("packer-count=14", "fourteen", "acrylate-gel = 12,5 L", ""),
        *("8 °C, wet", "", "1.2 m", "", "alles dicht"),
    ]
    code, said = asked(record, "\n".join(answers) + "\n")
    assert code == 0, said
    assert "1 secured: a holding measure is in place" in said
    assert "This is no KEY=VALUE. Once more." in said
    assert "L1 is now: repaired." in said
    done = entries(record)[-1]
    assert isinstance(done, Done)
    assert done.quantities == {"packer-count": "14", "acrylate-gel": "12,5 L"}
    assert (done.conditions, done.deviations) == ("8 °C, wet", "")
    assert (done.water_height, done.packers, done.words) == (1.2, (), "alles dicht")


def test_a_wrong_answer_is_told_and_asked_for_again_with_the_others_kept(record: Path) -> None:
    record.write_text(TWO, encoding="utf-8")
    first = ["L9", "L2", "²", "0", "2", RESIN, "20.5.2031", "owner", "so"]
    again = ["", "2031-05-20", "-", ""]
    code, said = asked(record, "\n".join([*first, *again]) + "\n")
    assert code == 0, said
    assert said.count("Which wet place?") == 2
    assert said.count("What do you log?") == 3
    assert 'did you mean "2031-05-20"?' in said
    assert f"agreed [{RESIN}] = " in said
    assert "Enter for what was said before, - for nothing" in flat(said)
    entry = entries(record)[-1]
    assert (entry.leak, entry.words, getattr(entry, "by", None)) == ("L2", "so", ())


def test_an_amount_that_is_unknown_can_be_left_out_in_the_next_round(record: Path) -> None:
    log(record, *DONE)
    first = ["looked", "tight", "2031-06-20", "yes", "", "yes", "", "colour=green", "", ""]
    again = ["", "", "", "", "", "", "", "", ""]
    code, said = asked(record, "\n".join([*first, *again]) + "\n")
    assert code == 0, said
    assert 'there is no attribute "colour"' in said
    looked = entries(record)[-1]
    assert isinstance(looked, Looked)
    assert (looked.state, looked.within, looked.readings) == ("tight", True, {})


def test_the_end_of_the_answers_logs_nothing(record: Path) -> None:
    before = record.read_bytes()
    code, said = asked(record, f"told\nowner\n{END}")
    assert code == 2
    assert "nothing was logged: the answers end here" in said
    assert record.read_bytes() == before
    code, said = asked(record, "", "--leak", "L7")
    assert code == 2
    assert 'there is no wet place "L7"; expected L1' in said
