"""`advisor library export, import`: cases out to a file and in from one."""

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

from advisor.cli.exits import DONE, WRONG
from advisor.cli.library_opening import packing, with_library
from advisor.cli.opening import printable, tell
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.library.case import KeptCase, Origin
from advisor.library.moves.csv_out import csv_lines
from advisor.library.moves.jsonl import exported, imported, without_labels
from advisor.library.moves.known import unknown_in
from advisor.library.store.store import Library
from advisor.report.library import added_lines
from advisor.terms import Faulty, Problem

CSV, LINES = ".csv", ".jsonl"
STANDARD_OUTPUT = "-"


def export(file: str, *, csv: bool, library: str | None, folder: str | None) -> int:
    """Write all cases, a few at a time; a file is there as a whole or not at all."""
    as_csv = csv or Path(file).suffix.lower() == CSV

    def command(kept: Library, knowledge: Knowledge) -> int:
        lines = _csv(kept) if as_csv else exported(kept.bodies())
        count = _write(file, lines)
        note = knowledge.say("library-exported", count=count, file=printable(file))
        print(note, file=sys.stderr)
        if kept.invented:
            print(knowledge.say("library-invented"), file=sys.stderr)
        return DONE

    return with_library(library, folder, command, makes=False)


def _csv(kept: Library) -> Iterator[str]:
    cases = (without_labels(KeptCase.model_validate_json(body)) for body in kept.bodies())
    return csv_lines(cases)


def _write(file: str, lines: Iterator[str]) -> int:
    if file == STANDARD_OUTPUT:
        return _each(sys.stdout, lines)
    path = Path(file)
    if path.is_dir():
        told, expected = "this is a folder", "the name of a file in it"
        raise Faulty(Problem(message=told, file=printable(file), expected=expected))
    try:
        if path.exists() and not path.is_file():  # a pipe or a device cannot be put in place
            with path.open("w", encoding="utf-8", newline="") as out:
                return _each(out, lines)
        return _whole(path, lines)
    except OSError as error:
        # A disk that is full names no file, and the name of the unfinished one says nothing.
        raise OSError(error.errno, error.strerror, printable(file)) from error


def _whole(path: Path, lines: Iterator[str]) -> int:
    """Written beside its place and moved there whole: no half file is ever found."""
    new = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        # Few and odd cases can be recognised: only the user may read them.
        handle = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with open(handle, "w", encoding="utf-8", newline="") as out:
            count = _each(out, lines)
            out.flush()
            os.fsync(out.fileno())
        new.replace(path)
    finally:
        new.unlink(missing_ok=True)
    return count


def _each(out: TextIO, lines: Iterator[str]) -> int:
    count = 0
    for line in lines:
        out.write(line if line.endswith("\n") else f"{line}\n")
        count += 1
    return count


def load(
    file: str,
    *,
    mapping: str | None,
    draft: bool,
    origin: Origin,
    key: str | None,
    all_or_nothing: bool,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """Take in the cases of a file. What is not taken is told by its number, with the reason."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        path = Path(file)
        if path.suffix.lower() != CSV:
            return load_lines(kept, knowledge, path, all_or_nothing=all_or_nothing, screen=screen)
        from advisor.cli.library_csv import Wanted, load_csv  # noqa: PLC0415

        wanted = Wanted(
            mapping=mapping, draft=draft, origin=origin, key=key, all_or_nothing=all_or_nothing
        )
        return load_csv(kept, knowledge, path, wanted, screen)

    return with_library(library, folder, command)


def load_lines(
    kept: Library, knowledge: Knowledge, file: Path, *, all_or_nothing: bool, screen: Screen
) -> int:
    """Take in JSON Lines. Good rows are kept unless all have to fit."""
    problems: list[Problem] = []

    def refusal(case: KeptCase) -> Problem | None:
        return kept.refusal(case) or unknown_in(knowledge, case)

    def good() -> Iterator[KeptCase]:
        with _opened(file) as lines:
            for read in imported(lines, printable(str(file)), refusal):
                if isinstance(read, tuple):
                    problems.extend(read)
                else:
                    yield read
        if all_or_nothing and problems:
            raise Faulty(problems)

    done = kept.add(good(), packing(kept, knowledge))
    screen.show(added_lines(screen.page, knowledge, done, kept))
    tell(problems)
    return WRONG if problems else DONE


def _opened(file: Path) -> TextIO:
    """Raises Faulty where there is no such file."""
    if not file.is_file():
        told, expected = "there is no such file", "cases as .jsonl or .csv"
        raise Faulty(Problem(message=told, file=str(file), expected=expected))
    return file.open(encoding="utf-8", errors="surrogateescape", newline="\n")
