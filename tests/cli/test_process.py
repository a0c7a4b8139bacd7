"""The command as a process: pipes, signals, terminals, full disks."""

import os
import pty
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.command import CASE, CHECKOUT, process

COMMAND = [sys.executable, "-m", "advisor"]


def test_a_pipe_gets_the_whole_result_and_no_escape_codes() -> None:
    ended = process("assess", CASE)
    assert ended.returncode == 0
    assert ended.stdout.startswith(b"Wet place L1")
    assert b"\x1b" not in ended.stdout
    assert ended.stderr == b""


@pytest.mark.parametrize("words", [[], ["assess", CASE], ["assess", "--help"]])
def test_a_reader_who_has_left_is_no_failure(words: list[str]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    ended = process(*words, capture_output=False, stdout=writing, stderr=subprocess.PIPE)
    os.close(writing)
    assert (ended.returncode, ended.stderr) == (0, b"")


@pytest.mark.parametrize("words", [[], ["assess", CASE, "--json"]])
def test_a_full_disk_is_said_plainly(words: list[str]) -> None:
    with Path("/dev/full").open("wb") as full:
        ended = process(*words, capture_output=False, stdout=full, stderr=subprocess.PIPE)
    assert ended.returncode == 3
    assert ended.stderr.count(b"\n") == 1
    assert b"could not be written (No space left on device)" in ended.stderr


def test_an_interrupt_while_it_waits_for_input_ends_quietly() -> None:
    with subprocess.Popen(
        [*COMMAND, "assess", "-", "/dev/null"],
        cwd=CHECKOUT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as waiting:
        # It opens the knowledge first; the files of it are read long before this is over.
        with pytest.raises(subprocess.TimeoutExpired):
            waiting.wait(2.5)
        waiting.send_signal(signal.SIGINT)
        out, err = waiting.communicate(timeout=30)
    assert (waiting.returncode, out, err) == (130, b"", b"")


def on_a_terminal(**environment: str) -> bytes:
    """What the command writes to a terminal."""
    ours, theirs = pty.openpty()
    plain = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "COLUMNS")}
    with subprocess.Popen(
        [*COMMAND, "assess", CASE, *environment.pop("words", "").split()],
        cwd=CHECKOUT,
        stdout=theirs,
        stderr=theirs,
        stdin=subprocess.DEVNULL,
        env={**plain, "TERM": "xterm", **environment},
    ):
        os.close(theirs)
        written = b""
        while True:
            try:
                part = os.read(ours, 65536)
            except OSError:  # the other end is closed
                break
            if not part:
                break
            written += part
    os.close(ours)
    return written


def test_a_terminal_gets_styles() -> None:
    assert b"\x1b[1m" in on_a_terminal()


@pytest.mark.parametrize("plain", [{"NO_COLOR": "1"}, {"TERM": "dumb"}, {"words": "--no-color"}])
def test_no_styles_where_none_are_wanted(plain: dict[str, str]) -> None:
    written = on_a_terminal(**plain)
    assert b"Wet place L1" in written
    assert b"\x1b" not in written


def test_the_short_help_loads_nothing_heavy() -> None:
    script = (
        "import sys; from advisor.cli import main; main([]); "
        "print([m for m in ('typer', 'numpy', 'pydantic', 'yaml', 'rich') if m in sys.modules])"
    )
    ended = subprocess.run(
        [sys.executable, "-c", script], cwd=CHECKOUT, capture_output=True, check=True
    )
    assert ended.stdout.splitlines()[-1] == b"[]"


def test_help_of_a_command_does_not_load_the_knowledge() -> None:
    script = (
        "import sys; from advisor.cli import main; main(['assess', '--help']); "
        "print([m for m in ('numpy', 'yaml', 'rich', 'advisor.knowledge') if m in sys.modules])"
    )
    ended = subprocess.run(
        [sys.executable, "-c", script], cwd=CHECKOUT, capture_output=True, check=True
    )
    assert ended.stdout.splitlines()[-1] == b"[]"
