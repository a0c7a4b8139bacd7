"""`advisor library backfill`: an old case, from words or asked for one by one."""

import secrets
import sys
from collections.abc import Sequence
from typing import Literal, TextIO

from advisor.cli.exits import DONE
from advisor.cli.given import read_settings
from advisor.cli.library_opening import packing, with_library
from advisor.cli.opening import printable
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.library.case import KeptCase
from advisor.library.moves.backfill import MUSTS, backfilled, choices, fields
from advisor.library.store.store import Library
from advisor.report.library import added_lines
from advisor.terms import Faulty, Problem


def backfill(
    words: Sequence[str],
    *,
    remembered: bool,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """Keep one old case. Returns the exit code."""
    origin: Literal["remembered", "from-records"] = "remembered" if remembered else "from-records"

    def command(kept: Library, knowledge: Knowledge) -> int:
        if kept.invented:
            told, expected = "this is a demonstration library", "your own library for real cases"
            raise Faulty(Problem(message=told, file=printable(str(kept.path)), expected=expected))
        case = _case(knowledge, read_settings(words, like="kind=basement"), origin, screen)
        done = kept.add([case], packing(kept, knowledge))
        screen.show(added_lines(screen.page, knowledge, done, kept))
        return DONE

    return with_library(library, folder, command)


def _case(
    knowledge: Knowledge,
    answers: dict[str, str],
    origin: Literal["remembered", "from-records"],
    screen: Screen,
) -> KeptCase:
    # An old case has no callout file by whose name it could be known again.
    token = secrets.token_hex(16)
    if answers:
        return backfilled(knowledge, answers, token, origin)
    terminal = screen.terminal
    if terminal is None or sys.stdin is None or not sys.stdin.isatty():
        told, expected = "nothing is said of the case", "--set KEY=VALUE, or a terminal"
        raise Faulty(Problem(message=told, key="--set", expected=expected))
    while True:
        answers |= _asked(knowledge, answers, terminal, screen)
        try:
            return backfilled(knowledge, answers, token, origin)
        except Faulty as faulty:
            for problem in faulty.problems:
                print(problem, file=terminal)
            # What is wrong is asked anew, and what is not said again is gone.
            wrong = {problem.key for problem in faulty.problems}
            answers = {key: said for key, said in answers.items() if key not in wrong}


def _asked(
    knowledge: Knowledge, before: dict[str, str], out: TextIO, screen: Screen
) -> dict[str, str]:
    answers = {}
    assert sys.stdin is not None
    for field in fields(knowledge):
        attribute = knowledge.attributes.get(field)
        question = attribute.question if attribute else knowledge.say(f"backfill-{field}")
        known = choices(knowledge, field)
        if known:
            question += f" ({knowledge.say('log-one-of', words=', '.join(known))})"
        if field not in MUSTS:
            question += f" ({knowledge.say('log-or-nothing')})"
        text = knowledge.say("backfill-ask", field=field, question=question)
        for line in screen.page.wrap(text):
            print(line.text, file=out)
        shown = f" [{before[field]}]" if field in before else ""
        print(f"{field}{shown} = ", end="", file=out, flush=True)
        said = sys.stdin.readline()
        if not said:
            raise Faulty(Problem(message="nothing was kept: the answers end here", key=field))
        if said.strip():
            answers[field] = said.strip()
    return answers
