"""How a command ends, code by code."""

import io
import sys
from unittest.mock import patch

import pytest

from advisor.cli import main
from advisor.cli.exits import DONE, FAILED, FAULTY, WRONG, worst
from tests.cli.command import CASE, run


def test_the_worst_code_is_the_one_returned() -> None:
    assert worst([]) == DONE
    assert worst([DONE, WRONG]) == WRONG
    assert worst([WRONG, FAULTY]) == FAULTY
    assert worst([WRONG, FAULTY, FAILED, DONE]) == FAILED


def test_done_whatever_was_found() -> None:
    assert run("assess", CASE).code == DONE


def test_no_file_is_wrong() -> None:
    ended = run("assess")
    assert ended.code == WRONG
    assert "FILE" in ended.err


def test_writing_that_fails_beats_a_wrong_file() -> None:
    errors = io.StringIO()
    with (
        open("/dev/full", "w") as full,
        patch.object(sys, "stderr", errors),
        patch.object(sys, "stdout", full),
    ):
        assert main(["assess", CASE, "no-such-file.yaml"]) == FAILED
    assert "the result could not be written (No space left on device)" in errors.getvalue()
    assert "no-such-file.yaml" in errors.getvalue()


def test_a_closed_output_fails() -> None:
    errors = io.StringIO()
    with patch.object(sys, "stdout", None), patch.object(sys, "stderr", errors):
        assert main(["assess", CASE]) == FAILED
    assert "the output is closed" in errors.getvalue()


def test_nobody_to_tell_is_no_failure() -> None:
    with patch.object(sys, "stdout", io.StringIO()), patch.object(sys, "stderr", None):
        assert main(["assess", "no-such-file.yaml"]) == WRONG


def test_a_fault_of_the_program_is_one_plain_line() -> None:
    with patch("advisor.cli.assess.assess_files", side_effect=RuntimeError("two\nlines")):
        ended = run("assess", CASE)
    assert (ended.code, ended.out) == (FAILED, "")
    assert ended.err.count("\n") == 1
    assert "a fault of the program, not of your file (RuntimeError" in ended.err
    assert "Send this line" in ended.err
    assert "Traceback" not in ended.err


@pytest.mark.parametrize("arguments", [["assess", CASE], ["knowledge", "check"]])
def test_an_interrupt_ends_quietly(arguments: list[str]) -> None:
    with (
        patch("advisor.knowledge.open_knowledge", side_effect=KeyboardInterrupt),
        patch("advisor.cli.opening.open_knowledge", side_effect=KeyboardInterrupt),
    ):
        ended = run(*arguments)
    assert (ended.code, ended.out, ended.err) == (130, "", "")
