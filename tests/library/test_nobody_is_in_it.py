"""Over two hundred planted identities, in every field of records: none comes out of the library."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from shutil import copy2
from typing import Final

import pytest

from advisor.knowledge import shipped
from advisor.library.store.store import open_library
from tests.cli.command import Ended, run
from tests.library.planted import PLANTED
from tests.library.planted_records import Record, ascii_of, name_of, word_of, write_records

SHORTEST: Final = 5
"""Letters of what is searched for: shorter ones stand in any file by chance."""
YES: Final = b"yes\n" * 20_000


@dataclass(frozen=True, slots=True)
class Kept:
    """A library with all records, everything the commands said, and where they could write."""

    home: Path
    library: Path
    said: str


def forms_of(telling: str) -> frozenset[str]:
    """The spellings that are searched for, without case."""
    spelt = (telling, ascii_of(telling), word_of(telling), name_of(telling))
    return frozenset(one.casefold() for one in spelt if len(one) >= SHORTEST)


def ordinary() -> str:
    """What stands in the knowledge is no identity, whoever has such a name."""
    files = sorted(shipped("knowledge").rglob("*.yaml"))
    return " ".join(file.read_text(encoding="utf-8") for file in files).casefold()


ORDINARY: Final = ordinary()
SEARCHED: Final = frozenset(
    form for one in PLANTED for telling in one.telling for form in forms_of(telling)
)
TELLING: Final = frozenset(form for form in SEARCHED if form not in ORDINARY)


def found_in(text: str) -> list[str]:
    """Which of the planted stand in a text, in whatever case; escaped letters are read."""
    plain = re.sub(r"\\u([0-9a-fA-F]{4})", lambda code: chr(int(code[1], 16)), text).casefold()
    both = f"{plain}\n{ascii_of(plain)}"
    return sorted(form for form in TELLING if form in both)


def found_in_files(folder: Path) -> dict[str, list[str]]:
    """By file; names of files count too."""
    found = {}
    for file in sorted(path for path in folder.rglob("*") if path.is_file()):
        text = file.read_bytes().decode("utf-8", "replace").replace("\ufffd", "").replace("\0", "")
        if there := found_in(f"{file.name}\n{text}"):
            found[file.name] = there
    return found


def keep(base: Path, *options: str, everywhere: bool) -> Kept:
    """All records added, shown, found and exported."""
    records_in, home = base / "records", base / "home"
    records_in.mkdir()
    home.mkdir()
    records = write_records(records_in, everywhere=everywhere)
    places = {f"XDG_{of}_HOME": str(home / of.lower()) for of in ("DATA", "CONFIG", "CACHE")}
    environment = {**places, "HOME": str(home)}

    def command(*words: str | Path, terminal: bool = False) -> Ended:
        return run(*words, stdin=YES, terminal=terminal, **environment)

    said = []
    library = home / "data" / "leak-advisor" / "library.sqlite"
    library.parent.mkdir(parents=True)
    with open_library(library):  # as long as somebody reads, what is added stands in the log
        added = command("library", "add", records_in, *options, terminal=bool(options))
        for beside in ("-wal", "-shm"):
            copy2(f"{library}{beside}", home / f"log{beside}")
    assert (home / "log-wal").stat().st_size > 10_000
    assert (added.code, added.err) == (0, ""), added.err[:2000]
    assert f"{len(records)} new" in added.out
    said.append(added.out)
    out = home / "out"
    out.mkdir()
    with open_library(library) as opened:
        tokens = [case.case for case in opened.find(limit=1000)]
    for words in (
        *(
            ("library", "find"),
            ("library", "find", "--json"),
            ("library", "find", "--words", "wet"),
        ),
        *(("library", "export", out / name) for name in ("all.jsonl", "all.csv")),
        *(("library", "show", case, "--history", "--photos", out) for case in tokens),
        *(("library", "show", case, "--json") for case in tokens),
    ):
        done = command(*words)
        assert done.code == 0, done.err
        said += [done.out, done.err]
    assert (out / "all.jsonl").stat().st_size > 10_000
    return Kept(home, library, without_names("\n".join(said), records))


def without_names(said: str, records: Iterable[Record]) -> str:
    """What was said, but for the names by which a person was asked or told of a record."""
    for record in records:
        for name in record.photos:
            said = said.replace(f"Photo {name},", "Photo,")
        said = said.replace(record.callout, "")
    return said


@pytest.fixture(scope="module")
def by_default(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    return keep(tmp_path_factory.mktemp("default"), everywhere=True)


NOTES: Final = ("--keep-notes", "--keep-photos")


@pytest.fixture(scope="module")
def with_notes(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    return keep(tmp_path_factory.mktemp("notes"), *NOTES, everywhere=False)


@pytest.fixture(scope="module")
def with_all(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    return keep(tmp_path_factory.mktemp("all"), *NOTES, everywhere=True)


KEPT: Final = ("by_default", "with_notes", "with_all")


@pytest.fixture(params=KEPT)
def kept(request: pytest.FixtureRequest) -> Kept:
    found = request.getfixturevalue(request.param)
    assert isinstance(found, Kept)
    return found


def test_enough_is_planted_and_searched_for(tmp_path: Path) -> None:
    assert len(PLANTED) >= 200
    assert len(TELLING) >= 200
    assert {"novak", "łukasz kowalski", "+44 20 7946 0958"} <= TELLING
    assert len(SEARCHED - TELLING) <= 5
    write_records(tmp_path, everywhere=True)
    there = {form for forms in found_in_files(tmp_path).values() for form in forms}
    assert {form for form in TELLING if form not in there} == set()


def test_nobody_is_in_any_file(kept: Kept) -> None:
    """The database with its log, exports, photos, keys, and whatever else was written."""
    names = {path.name for path in kept.home.rglob("*")}
    assert {"library.sqlite", "all.jsonl", "all.csv", "library.key"} <= names
    assert found_in_files(kept.home) == {}


def test_nobody_is_in_what_was_said(kept: Kept) -> None:
    assert found_in(kept.said) == []


def test_the_technical_part_is_there(kept: Kept) -> None:
    with open_library(kept.library) as library:
        cases = [library.show(case.case) for case in library.find(limit=1000)]
    places = [place for case in cases for place in case.places]
    assert len(places) == len(PLANTED)
    for place in places:
        assert place.status == "closed"
        assert place.confirmed is not None
        assert place.confirmed.present == ("other", "expert")
        assert place.findings["crack-width"].value == "0.3 mm"


def test_notes_and_photos_are_kept_where_they_got_a_yes(with_notes: Kept, by_default: Kept) -> None:
    def counts(kept: Kept) -> tuple[int, int]:
        with open_library(kept.library) as library:
            cases = [library.show(case.case) for case in library.find(limit=1000)]
            photos = [p for c in cases for ps in library.photos(c.case).values() for p in ps]
        return sum(p.done[0].note is not None for c in cases for p in c.places), len(photos)

    assert counts(with_notes) == (len(PLANTED), len(PLANTED))
    assert counts(by_default) == (0, 0)
