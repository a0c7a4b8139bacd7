"""`advisor log`: an outcome written into the record, from words or asked for one by one."""

import sys
from collections.abc import Iterator, Sequence
from typing import Any, TextIO

from advisor.assessment.logging import TABLES, Logged, logged
from advisor.callout import Callout
from advisor.callout.log_reader import KINDS
from advisor.callout.packers import read_packers
from advisor.cli.exits import DONE, FAILED
from advisor.cli.files import no_such_leak
from advisor.cli.given import read_settings
from advisor.cli.opening import ended, opened, printable, tell
from advisor.cli.records import record_text, replace_record
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.report.lines import Line
from advisor.report.log import ask_lines, kind_lines, logged_lines
from advisor.terms import Faulty, Problem

PACKERS = "packers"
"""The one answer that names a file."""
NOTHING = "-"
"""An answer that takes back what was said before."""


def log_outcome(
    file: str, words: Sequence[str], *, leak: str | None, folder: str | None, screen: Screen
) -> int:
    """Add one entry to the log of the record. Returns the exit code."""

    def command() -> int:
        knowledge = opened(folder)
        before = record_text(file)
        answers: dict[str, Any] = dict(read_settings(words, like="looked=tight"))
        if leak is not None:
            answers["leak"] = "-".join(printable(leak).split())
        done = _logged(knowledge, before, file, answers, screen)
        replace_record(file, before, done.text)
        place = done.callout.leak(done.callout.log[-1].leak)
        assert place is not None
        screen.show(logged_lines(screen.page, knowledge, done.callout, place, done.added))
        return DONE

    try:
        return ended(command)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        tell([Problem(message=f"nothing was logged: it cannot be written ({reason})", file=file)])
        return FAILED


def _logged(
    knowledge: Knowledge, text: str, file: str, answers: dict[str, Any], screen: Screen
) -> Logged:
    """Without any answer it is asked for, where somebody can be asked."""
    if answers.keys() - {"leak"}:
        return logged(knowledge, text, file, _with_packers(answers))
    terminal = screen.terminal
    if terminal is None or sys.stdin is None or not sys.stdin.isatty():
        told, expected = "nothing is said to be logged", "--set KEY=VALUE, or a terminal"
        raise Faulty(Problem(message=told, key="--set", expected=expected))
    callout = Callout.parse(text, file, knowledge.attributes)
    if "leak" in answers and callout.leak(answers["leak"]) is None:
        raise Faulty(no_such_leak(answers["leak"], [callout]))
    while True:
        answers = _asked(knowledge, callout, answers, terminal, screen)
        try:
            return logged(knowledge, text, file, _with_packers(answers))
        except Faulty as faulty:
            for problem in faulty.problems:
                print(problem, file=terminal)


def _with_packers(answers: dict[str, Any]) -> dict[str, Any]:
    """The rows of the file in place of its name."""
    if isinstance(answers.get(PACKERS), str):
        return {**answers, PACKERS: [dict(row) for row in read_packers(answers[PACKERS])]}
    return answers


def _asked(
    knowledge: Knowledge, callout: Callout, before: dict[str, Any], out: TextIO, screen: Screen
) -> dict[str, Any]:
    """The answers of one round. What was answered before stands where nothing new is said; only
    tables are asked for each time."""
    answers = {"leak": before["leak"]} if "leak" in before else {}
    while len(callout.leaks) > 1 and callout.leak(answers.get("leak", "")) is None:
        names = ", ".join(leak.key for leak in callout.leaks)
        _show(screen.page.wrap(knowledge.say("log-which-leak", leaks=names)), out)
        answers["leak"] = "-".join(_line(out, "leak").split())
    kind = next((key for key in before if key in KINDS), "")
    while kind not in KINDS:
        _show(kind_lines(screen.page, knowledge), out)
        said = _line(out, "kind")
        kinds = dict(enumerate(KINDS, 1))
        kind = kinds.get(int(said), "") if said.isdecimal() else "-".join(said.split())
    for key in (kind, "date", *KINDS[kind].others, "words"):
        must, old = key in (kind, "date", *KINDS[kind].musts), before.get(key)
        again = old is not None
        _show(ask_lines(screen.page, knowledge, key, must=must, again=again), out)
        if key in TABLES:
            no_pair = screen.page.wrap(knowledge.say("log-no-pair"))
            answers |= dict(_pairs(out, key, no_pair))
        elif (said := _line(out, key, old)) and said != NOTHING:
            answers[key] = said
    return answers


def _pairs(out: TextIO, table: str, no_pair: Sequence[Line]) -> Iterator[tuple[str, str]]:
    """no_pair: what is said of a line that is none."""
    while said := _line(out, table):
        key, sign, value = said.partition("=")
        if sign and key.strip() and value.strip():
            yield f"{table}.{'-'.join(key.split())}", value.strip()
        else:
            _show(no_pair, out)


def _line(out: TextIO, key: str, before: object = None) -> str:
    """One line of an answer; an empty one keeps what was said before."""
    shown = f" [{before}]" if before else ""
    print(f"{key}{shown} = ", end="", file=out, flush=True)
    assert sys.stdin is not None
    try:
        said = printable(sys.stdin.readline())
    except UnicodeDecodeError:
        told, expected = "nothing was logged: a letter here cannot be read", "letters in UTF-8"
        raise Faulty(Problem(message=told, key=key, expected=expected)) from None
    if not said:  # the end of the input: nobody is there any more
        raise Faulty(Problem(message="nothing was logged: the answers end here", key=key))
    return said.strip() or str(before or "")


def _show(lines: Sequence[Line], out: TextIO) -> None:
    for line in lines:
        print(line.text, file=out)
