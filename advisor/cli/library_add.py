"""`advisor library add`: records scrubbed, and what is left of them kept."""

import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from pydantic import ValidationError

from advisor.callout import Callout
from advisor.cli.discreet import discreet
from advisor.cli.exits import DONE, WRONG
from advisor.cli.files import read_files
from advisor.cli.library_opening import key_file, packing, with_library
from advisor.cli.library_photos import count_of, photos_of
from advisor.cli.opening import tell
from advisor.cli.records import record_files
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.library.scrub.keyfile import key_for
from advisor.library.scrub.scrubbing import Scrubbed, scrubbed
from advisor.library.store.store import Library
from advisor.repair.log_keys import log_problems
from advisor.report.library import added_lines, removed_lines
from advisor.terms import Faulty, Problem


def add(
    files: Sequence[str],
    *,
    library: str | None,
    key: str | None,
    keep_notes: bool,
    keep_photos: bool,
    folder: str | None,
    screen: Screen,
) -> int:
    """Scrub records and keep what is left. Their faults are told without their words."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        ask_note = _reader(knowledge, screen, "--keep-notes") if keep_notes else None
        ask_photo = _reader(knowledge, screen, "--keep-photos") if keep_photos else None
        callouts, problems = read_files([str(f) for f in record_files(files)], knowledge)
        problems = discreet(knowledge, problems)
        ready: list[tuple[Callout, Scrubbed]] = []
        photos = {}
        for callout in callouts:
            if wrong := log_problems(knowledge, callout):
                problems += discreet(knowledge, wrong)
                continue
            pictures: dict[int, tuple[bytes, ...]] = {}
            if ask_photo is not None:
                pictures, wrong_photos = photos_of(knowledge, callout, ask_photo)
                problems += wrong_photos
            try:
                one = scrubbed(
                    knowledge,
                    callout,
                    key_for(Path(callout.file), key_file(key)),
                    ask=ask_note,
                    photos=count_of(pictures),
                )
            except ValidationError as error:
                problems += _unfit(callout, error)
                continue
            ready.append((callout, one))
            photos[one.case.case] = pictures
        done = kept.add(
            [one.case for _, one in ready],
            packing(kept, knowledge),
            photos if keep_photos else None,
        )
        for callout, one in ready:
            screen.show(removed_lines(screen.page, knowledge, callout, one))
        screen.show(added_lines(screen.page, knowledge, done, kept))
        tell(problems)
        return WRONG if problems else DONE

    return with_library(library, folder, command)


def _unfit(callout: Callout, error: ValidationError) -> list[Problem]:
    """What the form of a kept case cannot hold, without what it is."""
    expected = "days, heights and amounts as they can be"
    return [
        Problem(
            message="the library cannot hold this",
            file=callout.file,
            key=" ".join(str(part) for part in fault["loc"] if part in _FIELDS) or None,
            expected=expected,
        )
        for fault in error.errors(include_input=False, include_url=False, include_context=False)
    ]


_FIELDS = frozenset({"day", "places", "visits", "water_above", "quantities", "readings", "labels"})


def _reader(knowledge: Knowledge, screen: Screen, option: str) -> Callable[[str], bool]:
    """Shows what is to be kept and waits for a yes. Raises Faulty where nobody can be asked."""
    terminal = screen.terminal
    if terminal is None or sys.stdin is None or not sys.stdin.isatty():
        told = "notes and photos are kept only where somebody looks at them first"
        raise Faulty(Problem(message=told, key=option, expected="a terminal"))
    letters = terminal.encoding or "utf-8"

    def ask(shown: str) -> bool:
        # What could hide a part of it from the reader stands as a sign.
        plain = "".join(c if c.isprintable() or c == "\n" else "�" for c in shown)
        print(plain.encode(letters, "backslashreplace").decode(letters), file=terminal)
        print(f"{knowledge.say('library-keep-note')} ", end="", file=terminal, flush=True)
        assert sys.stdin is not None
        return sys.stdin.readline().strip().lower() in ("y", "yes", knowledge.say("yes"))

    return ask
