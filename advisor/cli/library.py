"""`advisor library add, find, show, forget, hold, demo`: cases kept and found again."""

import json as json_of
import os
import sys
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from advisor.callout import Callout
from advisor.cli.exits import DONE, FAILED, WRONG
from advisor.cli.files import read_files
from advisor.cli.opening import Refused, opened, printable, tell
from advisor.cli.records import record_files
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge, shipped
from advisor.library.case import KeptPlace
from advisor.library.failures import LibraryFailed
from advisor.library.findings import read_findings
from advisor.library.keyfile import key_for
from advisor.library.opening import default_path
from advisor.library.packed import form_of, pack
from advisor.library.scrubbing import Scrubbed, scrubbed
from advisor.library.store import Library, open_library
from advisor.repair.log_keys import log_problems
from advisor.report.library import (
    added_lines,
    case_lines,
    found_lines,
    hold_lines,
    removed_lines,
)
from advisor.terms import Faulty, Problem

Command = Callable[[Library, Knowledge], int]
DEMONSTRATION = "demonstration"


def with_library(
    library: str | None, folder: str | None, command: Command, *, invented: bool = False
) -> int:
    """Open both, run the command, and say what failed. Returns the exit code."""
    try:
        knowledge = opened(folder)
        with open_library(library_path(library), invented=invented) as found:
            return command(found, knowledge)
    except Refused as refused:
        tell(refused.problems)
        return refused.code
    except Faulty as faulty:
        tell(faulty.problems)
        return WRONG
    except LibraryFailed as failed:
        print(f"advisor: {failed}", file=sys.stderr)
        return FAILED
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        print(f"advisor: {error.filename or ''}: {reason}; nothing was changed", file=sys.stderr)
        return FAILED


def library_path(given: str | None) -> Path:
    """The option, else the environment, else the user's own."""
    named = given or os.environ.get("ADVISOR_LIBRARY")
    return Path(named) if named else default_path()


def packing(library: Library, knowledge: Knowledge) -> Callable[[KeptPlace], bytes]:
    """How the findings of a place are stored for comparing; all there are stand so afterwards."""

    def packed(place: KeptPlace) -> bytes:
        facts, _ = read_findings(knowledge, place.findings)
        return pack(knowledge, facts, library.names_for(sorted(facts)))

    library.pack_as(form_of(knowledge), packed)
    return packed


def add(
    files: Sequence[str],
    *,
    library: str | None,
    key: str | None,
    keep_notes: bool,
    folder: str | None,
    screen: Screen,
) -> int:
    """Scrub records and keep what is left."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        ask = None
        if keep_notes:
            ask = _reader(knowledge, screen)
        callouts, problems = read_files([str(f) for f in record_files(files)], knowledge)
        ready: list[tuple[Callout, Scrubbed]] = []
        for callout in callouts:
            if wrong := log_problems(knowledge, callout):
                problems += wrong
                continue
            secret = key_for(Path(callout.file), Path(key) if key else None)
            ready.append((callout, scrubbed(knowledge, callout, secret, ask=ask)))
        done = kept.add([one.case for _, one in ready], packing(kept, knowledge))
        for callout, one in ready:
            screen.show(removed_lines(screen.page, knowledge, callout, one))
        screen.show(added_lines(screen.page, knowledge, done, kept))
        tell(problems)
        return WRONG if problems else DONE

    return with_library(library, folder, command)


def _reader(knowledge: Knowledge, screen: Screen) -> Callable[[str], bool]:
    """Shows a note and waits for a yes. Raises Faulty where nobody can be asked."""
    terminal = screen.terminal
    if terminal is None or sys.stdin is None or not sys.stdin.isatty():
        told, expected = "notes are kept only where somebody reads them first", "a terminal"
        raise Faulty(Problem(message=told, key="--keep-notes", expected=expected))

    def ask(note: str) -> bool:
        print(note, file=terminal)
        print(f"{knowledge.say('library-keep-note')} ", end="", file=terminal, flush=True)
        assert sys.stdin is not None
        return sys.stdin.readline().strip().lower() in ("y", "yes", knowledge.say("yes"))

    return ask


def find(
    wanted: dict[str, Any],
    *,
    limit: int,
    json: bool,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """List cases, last added first."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        _check_wanted(knowledge, wanted)
        found = kept.find(limit=limit, **wanted)
        if json:
            told = [{**vars_of(one), "places": [vars_of(p) for p in one.places]} for one in found]
            print(json_of.dumps({"count": kept.count(**wanted), "cases": told}, ensure_ascii=False))
        else:
            count = kept.count(**wanted)
            screen.show(found_lines(screen.page, knowledge, found, count, kept.invented))
        return DONE

    return with_library(library, folder, command)


def vars_of(part: Any) -> dict[str, Any]:
    """A dataclass with slots as plain data."""
    return {name: getattr(part, name) for name in part.__slots__}


def _check_wanted(knowledge: Knowledge, wanted: dict[str, Any]) -> None:
    """Raises Faulty where a key is none, with the nearest one."""
    from advisor.terms import nearest  # noqa: PLC0415

    kinds = [choice.key for choice in knowledge.attributes["kind"].choices]
    known = {"kind": kinds, "cause": knowledge.causes, "method": knowledge.methods}
    problems = [
        Problem(
            message=f'there is no {name} "{printable(key)}"',
            key=f"--{name}",
            expected=f"a {name} that `advisor knowledge list` shows",
            nearest=nearest(key, keys),
        )
        for name, keys in known.items()
        if (key := wanted.get(name)) is not None and key not in keys
    ]
    if problems:
        raise Faulty(problems)


def show(
    case: str,
    *,
    history: bool,
    json: bool,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """One case as it is kept, or all its forms."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        forms = kept.history(case) if history else (kept.show(case),)
        if json:
            for form in forms:
                print(form.model_dump_json(exclude_defaults=True))
        else:
            for form in forms:
                screen.show(case_lines(screen.page, knowledge, form))
        return DONE

    return with_library(library, folder, command)


def forget(case: str, *, day: date, library: str | None, folder: str | None, screen: Screen) -> int:
    """Erase a case and every trace of it."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        done = kept.forget(case, day)
        text = knowledge.say("library-forgotten", case=done.case, copies=len(done.copies))
        screen.show(screen.page.wrap(text))
        return DONE

    return with_library(library, folder, command)


def hold(
    case: str | None,
    *,
    who: str | None,
    why: str | None,
    review: str | None,
    lift: bool,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """Hold a case, lift a hold, or list the holds."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        if case is None:
            screen.show(hold_lines(screen.page, knowledge, kept.holds()))
        elif lift:
            there = kept.lift(case)
            screen.show(screen.page.wrap(knowledge.say("library-lifted", case=there.case)))
        else:
            token = kept.hold(case, who=who or "", why=why or "", review=_review(review))
            screen.show(screen.page.wrap(knowledge.say("library-held", case=token)))
        return DONE

    return with_library(library, folder, command)


def _review(written: str | None) -> date:
    """Raises Faulty where it is no day."""
    try:
        return date.fromisoformat(written or "")
    except ValueError:
        told = "the day of the review is missing" if not written else f'"{written[:40]}" is no day'
        raise Faulty(Problem(message=told, key="--review", expected="YYYY-MM-DD")) from None


def demo(*, library: str | None, folder: str | None, screen: Screen) -> int:
    """Load the invented cases beside the user's own library, never into it."""
    from advisor.cli.library_moves import load_lines  # noqa: PLC0415

    path = Path(library) if library else default_path().with_name(f"{DEMONSTRATION}.sqlite")
    file = shipped("cases") / DEMONSTRATION / "histories.jsonl"

    def command(kept: Library, knowledge: Knowledge) -> int:
        return load_lines(kept, knowledge, file, all_or_nothing=True, screen=screen)

    code = with_library(str(path), folder, command, invented=True)
    if code == DONE:
        print(f"advisor library facts --library {path}")
    return code
