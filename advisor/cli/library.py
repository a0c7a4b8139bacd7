"""`advisor library find, show, forget, hold, demo`: cases kept and found again."""

import sys
from datetime import date
from pathlib import Path
from typing import Any

from advisor.assessment import to_json
from advisor.cli.exits import DONE
from advisor.cli.library_asked import check_wanted, checked_hold
from advisor.cli.library_opening import with_library
from advisor.cli.library_photos import write_photos
from advisor.cli.opening import printable
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge, shipped
from advisor.library.store.finding import FoundCases
from advisor.library.store.opening import default_path
from advisor.library.store.store import Library
from advisor.report.library import (
    case_lines,
    found_lines,
    hold_lines,
    invented_lines,
)
from advisor.terms import Faulty, Problem

DEMONSTRATION = "demonstration"


def find(
    wanted: dict[str, str],
    *,
    limit: int,
    json: bool,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """List cases, last added first."""
    asked: dict[str, Any] = {name: printable(said) for name, said in wanted.items()}

    def command(kept: Library, knowledge: Knowledge) -> int:
        check_wanted(knowledge, asked)
        found = kept.find(limit=limit, **asked)
        if json:
            print(to_json(FoundCases(count=kept.count(**asked), cases=found)))
        else:
            count = kept.count(**asked)
            screen.show(found_lines(screen.page, knowledge, found, count, kept.invented))
        return DONE

    return with_library(library, folder, command, makes=False)


def show(
    case: str,
    *,
    history: bool,
    photos: str | None,
    json: bool,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """One case as it is kept, or all its forms. photos: a folder to write its photos to."""
    named = printable(case)

    def command(kept: Library, knowledge: Knowledge) -> int:
        forms = kept.history(named) if history else (kept.show(named),)
        if json:
            told = [form.model_dump_json(exclude_defaults=True) for form in forms]
            print(f"[{', '.join(told)}]" if history else told[0])
        else:
            for form in forms:
                screen.show(case_lines(screen.page, knowledge, form))
        if photos is not None:
            count = write_photos(Path(photos), forms[-1].case, kept.photos(named))
            print(knowledge.say("library-photos", count=count, folder=photos), file=sys.stderr)
        return DONE

    return with_library(library, folder, command, makes=False)


def forget(case: str, *, day: date, library: str | None, folder: str | None, screen: Screen) -> int:
    """Erase a case and every trace of it."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        done = kept.forget(printable(case), day)
        text = knowledge.say("library-forgotten", case=done.case, copies=len(done.copies))
        screen.show(screen.page.wrap(text) + invented_lines(screen.page, knowledge, kept))
        return DONE

    return with_library(library, folder, command, makes=False)


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
        if case is None and (lift or who or why or review):
            told = "no case is named"
            raise Faulty(Problem(message=told, key="CASE", expected="the first digits of its name"))
        if case is None:
            screen.show(hold_lines(screen.page, knowledge, kept.holds()))
        elif lift:
            there = kept.lift(printable(case))
            screen.show(screen.page.wrap(knowledge.say("library-lifted", case=there.case)))
        else:
            until = checked_hold(who, why, review)
            said = {"who": printable(who or ""), "why": printable(why or "")}
            token = kept.hold(printable(case), review=until, **said)
            screen.show(screen.page.wrap(knowledge.say("library-held", case=token)))
        screen.show(invented_lines(screen.page, knowledge, kept))
        return DONE

    return with_library(library, folder, command, makes=False)


def demo(*, library: str | None, folder: str | None, screen: Screen) -> int:
    """Load the invented cases beside the user's own library, never into it."""
    from advisor.cli.library_moves import load_lines  # noqa: PLC0415

    path = Path(library) if library else default_path().with_name(f"{DEMONSTRATION}.sqlite")
    file = shipped("cases") / DEMONSTRATION / "histories.jsonl"

    def command(kept: Library, knowledge: Knowledge) -> int:
        if not kept.invented:
            told, expected = "real cases may stand here", "a file of its own for invented ones"
            raise Faulty(Problem(message=told, file=printable(str(path)), expected=expected))
        return load_lines(kept, knowledge, file, all_or_nothing=True, screen=screen)

    code = with_library(str(path), folder, command, invented=True)
    if code == DONE:
        print(f"advisor library facts --library {path}")
    return code
