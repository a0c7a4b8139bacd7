"""Photos beside a case: left out unless kept, asked for, replaced, written out, erased."""

import io
import json
import sqlite3
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from advisor.library.store.adding import Added
from advisor.library.store.pictures import Photos
from advisor.library.store.store import Library, open_library
from tests.cli.command import Ended, run
from tests.library.fault_work import nothing
from tests.library.made_cases import made_case, token
from tests.library.test_photos import PLANTED, jpeg, png

RECORD = """\
callout: K-117
structure: {kind: basement}
visits: [{date: 2031-04-16}]
leaks:
  - leak: L1
  - leak: L2
    photos: [north-wall.jpg, "near/close up.png"]
"""
ONE, TWO = b"\x89PNG one", b"\xff\xd8 two"


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    with open_library(tmp_path / "library.sqlite") as opened:
        yield opened


@pytest.fixture
def record(tmp_path: Path) -> Path:
    (tmp_path / "records" / "near").mkdir(parents=True)
    (tmp_path / "records" / "north-wall.jpg").write_bytes(jpeg())
    (tmp_path / "records" / "near" / "close up.png").write_bytes(png())
    path = tmp_path / "records" / "K-117.yaml"
    path.write_text(RECORD)
    return path


def add(record: Path, *options: str, answers: str = "") -> Ended:
    words = ("library", "add", record, "--library", record.parent.parent / "kept.sqlite")
    key = ("--key", record.parent.parent / "secret.key")
    return run(*words, *key, *options, stdin=answers.encode(), terminal=bool(answers))


def kept(record: Path) -> dict[int, tuple[bytes, ...]]:
    with open_library(record.parent.parent / "kept.sqlite") as library:
        return library.photos(library.find()[0].case)


def test_photos_stand_beside_their_place(library: Library) -> None:
    cases = [made_case(number) for number in range(6)]
    with_two = next(case for case in cases if len(case.places) >= 2)
    photos: Photos = {with_two.case: {2: (ONE, TWO), 1: (TWO,), 99: (ONE,)}, token(77): {1: (ONE,)}}
    assert library.add(cases, nothing, photos) == Added(new=6)
    assert library.photos(with_two.case) == {1: (TWO,), 2: (ONE, TWO)}
    assert not any(library.photos(case.case) for case in cases if case is not with_two)


def test_the_same_photos_are_the_same_and_others_replace(library: Library) -> None:
    case, other = made_case(1), made_case(1, seed=9)
    assert library.add([case], nothing, {case.case: {1: (ONE,)}}) == Added(new=1)
    assert library.add([case], nothing, {case.case: {1: (ONE,)}}) == Added(same=1)
    assert library.add([case], nothing) == Added(same=1)
    assert library.photos(case.case) == {1: (ONE,)}
    assert library.add([case], nothing, {case.case: {1: (TWO, ONE)}}) == Added(replaced=1)
    assert library.photos(case.case) == {1: (TWO, ONE)}
    assert library.history(case.case) == (case,)
    assert library.add([other], nothing, {case.case: {1: (TWO, ONE)}}) == Added(replaced=1)
    assert library.photos(case.case) == {1: (TWO, ONE)}
    assert library.add([other], nothing, {}) == Added(replaced=1)
    assert library.photos(case.case) == {}


def test_forget_leaves_no_byte_of_a_photo(library: Library) -> None:
    case, telling = made_case(1), b"\xff\xd8" + b"TELLING" * 3000
    library.add([case], nothing, {case.case: {1: (telling,)}})
    library.forget(case.case, date(2031, 4, 16))
    assert library.columns().case.size == 0
    library.close()
    for file in library.path.parent.iterdir():
        assert b"TELLING" not in file.read_bytes()
    with sqlite3.connect(library.path) as connection:
        assert connection.execute("SELECT count(*) FROM photos").fetchone() == (0,)


def test_they_are_left_out_and_counted_unless_asked_for(record: Path) -> None:
    done = add(record)
    assert (done.code, done.err) == (0, "")
    assert "photo 2" in done.out
    assert "north" not in done.out
    assert kept(record) == {}


def test_each_is_asked_for_by_name_and_size(record: Path) -> None:
    done = add(record, "--keep-photos", answers="yes\nno\n")
    assert (done.code, done.err) == (0, "")
    for said in ("Photo north-wall.jpg, 1 kB", "Photo near/close up.png, ", "NOT blurred"):
        assert said in done.out
    assert "photo 1" in done.out
    ((place, (picture,)),) = kept(record).items()
    assert place == 2
    with Image.open(io.BytesIO(picture)) as opened:
        assert (opened.format, opened.size) == ("JPEG", (24, 16))


def test_added_again_with_the_same_answers_it_is_the_same(record: Path) -> None:
    assert "1 new" in add(record, "--keep-photos", answers="y\ny\n").out
    assert "0 replaced, 1 as before" in add(record, "--keep-photos", answers="y\ny\n").out
    assert "1 replaced" in add(record, "--keep-photos", answers="y\n").out
    assert len(kept(record)[2]) == 1


@pytest.mark.parametrize("option", ["--keep-photos", "--keep-notes"])
def test_where_nobody_can_be_asked_nothing_is_kept(record: Path, option: str) -> None:
    done = add(record, option)
    assert done.code == 2
    assert done.err.startswith(f"{option}: notes and photos are kept only where somebody looks")


def test_what_is_no_photo_is_told_and_the_case_is_kept(record: Path) -> None:
    record.with_name("north-wall.jpg").write_bytes(b"%PDF-1.7")
    (record.parent / "near" / "close up.png").unlink()
    done = add(record, "--keep-photos", answers="y\n")
    assert done.code == 2
    assert "1 new" in done.out
    first, second = done.err.splitlines()
    place = f"{record}:6: photos: photo"
    assert first.startswith(f"{place} 1 of this wet place: this is no photo, or a broken one")
    assert second.startswith(f"{place} 2 of this wet place: there is no such file; expected")


def test_show_writes_them_under_the_name_of_the_case(record: Path, tmp_path: Path) -> None:
    add(record, "--keep-photos", answers="y\ny\n")
    library = ("--library", tmp_path / "kept.sqlite")
    found = json.loads(run("library", "find", *library, "--json").out)
    case = found["cases"][0]["case"][:8]
    shown = run("library", "show", case, *library, "--photos", tmp_path / "out")
    assert (shown.code, shown.err) == (0, f"Photos written to {tmp_path / 'out'}: 2\n")
    names = [f"{case}-2-1.jpg", f"{case}-2-2.png"]
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == names
    for name in names:
        written = (tmp_path / "out" / name).read_bytes()
        assert not [mark for mark in PLANTED.values() if mark in written]
    none = run("library", "show", case, *library, "--photos", tmp_path / "kept.sqlite")
    assert none.code == 3


def test_exports_hold_no_photo(record: Path, tmp_path: Path) -> None:
    add(record)
    library = ("--library", tmp_path / "kept.sqlite")
    for name in ("a.jsonl", "a.csv"):
        assert run("library", "export", tmp_path / name, *library).code == 0
    add(record, "--keep-photos", answers="y\ny\n")
    for name, other in (("a.jsonl", "b.jsonl"), ("a.csv", "b.csv")):
        assert run("library", "export", tmp_path / other, *library).code == 0
        assert (tmp_path / name).read_bytes() == (tmp_path / other).read_bytes()
