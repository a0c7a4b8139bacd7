"""`advisor work-out` end to end: list, help of a subject, words, questions on a terminal."""

import json
import os
import pty
import shlex
import subprocess
import sys

import pytest

from tests.cli.command import CHECKOUT, run

DEW = ("work-out", "dew-point", "air-temperature=20 °C", "air-humidity=60 %")


def test_alone_it_lists_every_subject() -> None:
    ended = run("work-out")
    listed = json.loads(run("work-out", "--json").out)["subjects"]
    assert (ended.code, ended.err) == (0, "")
    assert all(f"  {one['subject']} " in ended.out for one in listed)


@pytest.mark.parametrize("subject", ["dew-point", "crack-flow", "uplift"])
def test_the_help_of_a_subject_prints_an_example_that_runs(subject: str) -> None:
    ended = run("work-out", subject, "--help")
    assert ended.code == 0
    example = shlex.split(ended.out.split("Example:")[1])
    assert run(*example[1:]).code == 0


def test_the_answer_stands_first_then_the_sum() -> None:
    ended = run(*DEW)
    assert (ended.code, ended.err) == (0, "")
    lines = ended.out.splitlines()
    assert lines[:2] == ["dew point of the air", "dew point of the air: 12 °C"]
    for part in ("WHAT COMES OUT", "WHAT WENT IN", "HOW", "air temperature: 20 °C", "Sources"):
        assert part in ended.out


def test_json_is_one_document() -> None:
    found = json.loads(run(*DEW, "--json").out)
    assert found["subject"] == "dew-point"
    assert found["inputs"] == {"air-temperature": "20 °C", "air-humidity": "60 %"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("dew-pont",), 'did you mean "dew-point"'),
        (("dew-point",), "air-temperature='20 °C'"),
        (("dew-point", "20 °C"), "is no ATTRIBUTE=VALUE"),
        (("dew-point", "air-temperature="), "is no ATTRIBUTE=VALUE"),
        (("dew-point", "air-temperature=20 °C", "air-temperature=2 °C"), "given twice"),
        (("dew-point", "air-temperature=20,5,3 °C"), "is not one clear number"),
    ],
)
def test_wrong_words_are_told_and_end_with_2(words: tuple[str, ...], said: str) -> None:
    ended = run("work-out", *words)
    assert ended.code == 2
    assert said in ended.err
    assert ended.out == ""


def test_everything_wrong_is_told_at_once() -> None:
    ended = run("work-out", "dew-point", "x", "air-temp=3 °C", "air-humidity=140 %")
    assert len(ended.err.splitlines()) == 3


def test_a_decimal_comma_is_read() -> None:
    one, other = (run(*DEW[:2], f"air-temperature=20{p}5 °C", DEW[3]) for p in ",.")
    assert one.code == 0
    assert one.out.replace("20,5", "20.5") == other.out


def on_a_terminal(answers: str, *words: str) -> tuple[int, str]:
    """What is seen there when these answers are typed."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "advisor", "work-out", *words],
        cwd=CHECKOUT,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "TERM": "dumb"},
    ) as process:
        os.close(theirs)
        os.write(ours, answers.encode())
        seen = b""
        while True:
            try:
                part = os.read(ours, 65536)
            except OSError:  # the other end is closed
                break
            if not part:
                break
            seen += part
    os.close(ours)
    return process.returncode, seen.decode()


def test_on_a_terminal_what_is_missing_is_asked_for() -> None:
    code, seen = on_a_terminal("20\n20 °C\n60 %\n", "dew-point")
    assert code == 0
    assert "How warm is the air at the wet place?" in seen
    assert "the unit is missing" in seen, "an answer that cannot be read is asked again"
    assert "dew point of the air: 12 °C" in seen


def test_on_a_terminal_enter_alone_is_not_known() -> None:
    code, seen = on_a_terminal("20 °C\n\n", "dew-point")
    assert code == 2
    assert "dew-point needs the relative humidity of the air" in seen
