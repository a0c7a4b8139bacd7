"""Nothing acknowledged is lost: processes killed, disks that fail, files that are damaged.

Processes are killed with SIGKILL, as the power would; disks fail inside SQLite's own file system
layer; whoever may not write is another user, for root may always.
"""

import multiprocessing
import os
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection
from pathlib import Path
from random import Random
from typing import Any

import pytest

from advisor.library import migrations
from advisor.library.adding import Added
from advisor.library.case import KeptCase
from advisor.library.failures import LibraryFailed
from advisor.library.store import open_library
from tests.library import fault_work as work
from tests.library.failing_disk import FULL, WRITE_FAILED, Disk, can_fail, failing
from tests.library.fault_work import GROUP, nothing
from tests.library.made_cases import made_case, token

pytestmark = pytest.mark.skipif(os.name != "posix", reason="processes are forked and killed")
needs_disk = pytest.mark.skipif(not can_fail(), reason="the database library is sealed in Python")

SERVER = multiprocessing.get_context("forkserver") if os.name == "posix" else None
MANY = [pytest.param(25, id="25"), pytest.param(250, id="250", marks=pytest.mark.long)]
CASES = [made_case(number) for number in range(60)]


@contextmanager
def process(target: Callable[..., None], *given: object) -> Iterator[tuple[Any, Connection]]:
    """One that is forked from a server which has loaded all there is to load."""
    assert SERVER is not None
    SERVER.set_forkserver_preload(["tests.library.fault_work"])
    here, there = SERVER.Pipe(duplex=False)
    child = SERVER.Process(target=target, args=(*given, there), daemon=True)
    child.start()
    there.close()
    try:
        yield child, here
    finally:
        child.kill()
        child.join()
        here.close()


def killed(target: Callable[..., None], *given: object, after: float) -> list[Any]:
    """What a process had acknowledged when it was killed, so many seconds after its begin."""
    told = []
    with process(target, *given) as (child, pipe):
        assert pipe.recv() == "ready"
        time.sleep(after)
        child.kill()
        child.join()
        with suppress(EOFError):
            while True:
                told.append(pipe.recv())
    return told


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A library with all CASES, closed. Only to be copied."""
    path = tmp_path_factory.mktemp("filled") / "library.sqlite"
    with open_library(path) as library:
        library.add(CASES, nothing)
    return path


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch) -> None:
    """This program is of the later version."""
    monkeypatch.setattr(migrations, "KNOWN", ("0001", "0002"))
    monkeypatch.setattr(migrations, "VERSIONS", (migrations.HERE / "versions", work.LATER))


def whole(path: Path) -> None:
    """The file is sound, and no case is there in part. Opened by the database alone."""
    raw = sqlite3.connect(path)
    assert raw.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert raw.execute("PRAGMA foreign_key_check").fetchall() == []
    part = (
        "SELECT count(*) FROM cases WHERE places != (SELECT count(*) FROM places WHERE "
        "case_id = cases.id) OR NOT EXISTS (SELECT 1 FROM bodies WHERE case_id = cases.id) OR "
        "version != 1 + (SELECT count(*) FROM earlier WHERE case_id = cases.id)"
    )
    assert raw.execute(part).fetchone() == (0,)
    raw.close()


@pytest.mark.parametrize("kills", MANY)
def test_killed_while_adding(tmp_path: Path, kills: int) -> None:
    random = Random(kills)
    path = tmp_path / "library.sqlite"
    open_library(path).close()
    acknowledged: dict[int, list[int]] = {}
    sizes: dict[int, int] = {}
    for seed in range(1, kills + 1):
        told = killed(work.keep_adding, path, seed, after=random.uniform(0, 0.25))
        whole(path)
        for first, size, form in told:
            sizes[first] = max(size, sizes.get(first, 0))
            for number in range(first, first + size):
                acknowledged.setdefault(number, []).append(form)
    assert len(acknowledged) > kills, "too little was written to tell anything"
    groups: dict[int, set[int]] = {}
    numbers = {token(number): number for number in range((kills + 1) * 1000 * GROUP)}
    with open_library(path) as library:
        for body in library.bodies():
            number = numbers[KeptCase.model_validate_json(body).case]
            groups.setdefault(number // GROUP, set()).add(number)
        for number, forms in acknowledged.items():
            expected = [made_case(number, seed=form) for form in forms]
            assert list(library.history(token(number)))[: len(forms)] == expected
    for group, found in groups.items():
        assert len(found) in (1, GROUP), "half an import"
        assert len(found) == sizes.get(group * GROUP, len(found))


@pytest.mark.parametrize("kills", MANY)
@pytest.mark.usefixtures("later")
def test_killed_while_brought_up_to_date(tmp_path: Path, filled: Path, kills: int) -> None:
    random = Random(kills)
    cut = 0
    for _ in range(kills):
        folder = Path(tempfile.mkdtemp(dir=tmp_path))
        told = killed(work.keep_migrating, filled, folder, after=random.uniform(0, 0.3))
        done = {name for name, is_done in told if is_done}
        begun = {name for name, is_done in told if not is_done}
        cut += len(begun - done)
        for name in begun:
            path = folder / name
            whole(path)
            assert version(path) == "0002" if name in done else version(path) in ("0001", "0002")
            with open_library(path) as library:
                assert [KeptCase.model_validate_json(body) for body in library.bodies()] == CASES
            assert version(path) == "0002"
            copies = list(folder.glob(f"{name}.copy-of-0001"))
            assert [version(copy) for copy in copies] == ["0001"]
        shutil.rmtree(folder)
    assert cut > kills // 3, "hardly any was killed on its way"


def version(path: Path) -> str:
    """The version of a library, which is wholly of it."""
    raw = sqlite3.connect(path)
    (found,) = raw.execute("SELECT version_num FROM alembic_version").fetchone()
    columns = [row[1] for row in raw.execute("PRAGMA table_info(cases)")]
    extra = raw.execute("SELECT count(*) FROM sqlite_master WHERE name LIKE 'extra%'").fetchone()
    raw.close()
    assert ("more" in columns) == (extra == (2,)) == (found == "0002")
    return str(found)


@needs_disk
@pytest.mark.parametrize(
    ("code", "forever"), [(FULL, True), (WRITE_FAILED, False)], ids=["full", "one write fails"]
)
def test_every_write_of_an_add_may_fail(
    tmp_path: Path, filled: Path, code: int, forever: bool
) -> None:
    given = [made_case(1, seed=5), *(made_case(number) for number in range(100, 105))]
    refused = 0
    for disk in disks(code, forever):
        path = copy_of(filled, tmp_path / f"{disk.fail_at}")
        added = None
        with failing(disk):
            try:
                with open_library(path) as library:
                    added = library.add(given, nothing)
            except LibraryFailed as failed:
                refused += 1
                said(failed)
        whole(path)
        with open_library(path) as library:
            assert library.count() in ((65,) if added else (60, 65))
            again = library.add(given, nothing)
            assert again in (Added(new=5, replaced=1), Added(same=6))
            assert added is None or again.same == 6
            assert library.history(token(1)) == (CASES[1], given[0])
    assert refused > 10


@needs_disk
@pytest.mark.usefixtures("later")
def test_every_write_of_a_change_of_version_may_fail(tmp_path: Path, filled: Path) -> None:
    refused = 0
    for disk in disks(FULL, forever=True):
        path = copy_of(filled, tmp_path / f"{disk.fail_at}")
        with failing(disk):
            try:
                open_library(path).close()
            except LibraryFailed as failed:
                refused += 1
                said(failed)
        whole(path)
        assert version(path) in ("0001", "0002")
        with open_library(path) as library:
            assert library.count() == len(CASES)
        assert version(path) == "0002"
    assert refused > 10


@needs_disk
def test_every_write_of_a_new_library_may_fail(tmp_path: Path) -> None:
    refused = 0
    for disk in disks(FULL, forever=True):
        path = tmp_path / f"{disk.fail_at}" / "library.sqlite"
        path.parent.mkdir()
        with failing(disk):
            try:
                open_library(path).close()
            except LibraryFailed as failed:
                refused += 1
                said(failed)
                if not path.exists():
                    assert list(path.parent.iterdir()) == []
        with open_library(path) as library:
            assert library.add(CASES[:1], nothing).new == 1
    assert refused > 10


def disks(code: int, forever: bool) -> Iterator[Disk]:
    """The first call fails, the second, and so on, until one disk was never asked so often."""
    for number in range(1, 1000):
        disk = Disk(number, code, forever)
        yield disk
        if disk.calls < number:
            return
    pytest.fail("it never came through")


def said(failed: LibraryFailed) -> None:
    assert "the disk is full" in str(failed) or "the disk failed" in str(failed)
    assert "then try again" in failed.do or "and try again" in failed.do


def copy_of(filled: Path, folder: Path) -> Path:
    folder.mkdir()
    return Path(shutil.copy(filled, folder / filled.name))


def asked(target: Callable[..., None], *given: object) -> str:
    with process(target, *given) as (_, pipe):
        return str(pipe.recv())


def test_files_may_grow_no_more(tmp_path: Path, filled: Path) -> None:
    path = copy_of(filled, tmp_path / "small")
    told = asked(work.add_with_little_room, path, path.stat().st_size + 100_000)
    assert "the disk failed (SQLITE_IOERR_WRITE)" in told or "the disk is full" in told
    whole(path)
    with open_library(path) as library:
        assert library.count() == len(CASES)
        assert library.add([made_case(100)], nothing).new == 1


@pytest.mark.parametrize("barred", ["file", "folder"])
def test_who_may_not_write_is_told(filled: Path, barred: str) -> None:
    folder = Path(tempfile.mkdtemp(prefix="library-"))
    try:
        path = Path(shutil.copy(filled, folder / "library.sqlite"))
        before = path.read_bytes()
        path.chmod(0o444 if barred == "file" else 0o666)
        folder.chmod(0o777 if barred == "file" else 0o555)
        told = asked(work.add_as_nobody, path)
        assert "the library may not be written to; nothing was changed" in told
        assert [one.read_bytes() for one in folder.iterdir()] == [before]
        path.chmod(0o666)
        folder.chmod(0o777)
        assert asked(work.add_as_nobody, path) == "added"
    finally:
        folder.chmod(0o700)
        shutil.rmtree(folder)


def test_another_program_that_writes_is_waited_for_and_told(tmp_path: Path, filled: Path) -> None:
    path = copy_of(filled, tmp_path / "locked")
    other = sqlite3.connect(path, isolation_level=None)
    with open_library(path, wait=0.1) as library:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(LibraryFailed, match="another program is using the library"):
            library.add([made_case(100)], nothing)
        assert library.count() == len(CASES), "reading goes on"
        other.execute("ROLLBACK")
        assert library.add([made_case(100)], nothing).new == 1
    other.execute("PRAGMA locking_mode = EXCLUSIVE")
    other.execute("BEGIN EXCLUSIVE")
    with pytest.raises(LibraryFailed, match="another program is using the library"):
        open_library(path, wait=0.1)
    other.close()
    open_library(path).close()


def overwritten(path: Path, seed: int) -> None:
    """Random bytes over a few whole pages."""
    random = Random(seed)
    with path.open("r+b") as file:
        for page in random.sample(range(1, path.stat().st_size // 4096), 6):
            file.seek(page * 4096)
            file.write(random.randbytes(4096))


@pytest.mark.parametrize("seed", range(8))
def test_overwritten_pages_are_told_and_left_alone(tmp_path: Path, filled: Path, seed: int) -> None:
    path = copy_of(filled, tmp_path / "damaged")
    path.with_name("library.sqlite.copy-of-0000").write_bytes(filled.read_bytes())
    overwritten(path, seed)
    before = path.read_bytes()
    with pytest.raises(LibraryFailed, match=r"damaged .*put back the copy library.sqlite.copy-of"):
        open_library(path)
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (lambda _: b"", "the library is damaged (the file is empty)"),
        (lambda good: good[: len(good) // 2], "the library is damaged"),
        (lambda good: good[:-100], "the library is damaged"),
        (lambda good: bytes(len(good)), "this is no case library"),
        (lambda _: b"callout: invented\n" * 1000, "this is no case library"),
        (lambda good: b"PK\x03\x04" + good, "this is no case library"),
    ],
    ids=["empty", "half", "end cut off", "zeros", "text", "workbook"],
)
def test_other_content_is_told_and_left_alone(
    tmp_path: Path, filled: Path, content: Callable[[bytes], bytes], told: str
) -> None:
    path = tmp_path / "library.sqlite"
    path.write_bytes(content(filled.read_bytes()))
    before = path.read_bytes()
    with pytest.raises(LibraryFailed) as caught:
        open_library(path)
    assert told in str(caught.value)
    assert path.read_bytes() == before


def test_other_databases_folders_and_later_versions_are_told(tmp_path: Path, filled: Path) -> None:
    other = tmp_path / "other.sqlite"
    raw = sqlite3.connect(other)
    raw.execute("CREATE TABLE about (id INTEGER)")
    raw.close()
    with pytest.raises(LibraryFailed, match="this is no case library"):
        open_library(other)
    with pytest.raises(LibraryFailed, match="this is a folder; name a file in it"):
        open_library(tmp_path)
    with pytest.raises(LibraryFailed, match="there is no such folder"):
        open_library(tmp_path / "nowhere" / "library.sqlite")
    path = copy_of(filled, tmp_path / "later")
    raw = sqlite3.connect(path)
    raw.execute("UPDATE alembic_version SET version_num = '0999'")
    raw.commit()
    raw.close()
    with pytest.raises(LibraryFailed, match="written by a later advisor"):
        open_library(path)


@pytest.mark.usefixtures("later")
def test_an_old_library_is_copied_and_brought_up_to_date(tmp_path: Path, filled: Path) -> None:
    path = copy_of(filled, tmp_path / "old")
    with open_library(path) as library:
        assert library.count() == len(CASES)
    assert version(path) == "0002"
    copy = path.with_name("library.sqlite.copy-of-0001")
    assert version(copy) == "0001"
    assert copy.stat().st_mode & 0o077 == 0
    assert sorted(one.name for one in path.parent.iterdir()) == [path.name, copy.name]


def test_eight_processes_at_once_lose_nothing(tmp_path: Path) -> None:
    """The library is not there when they begin."""
    path = tmp_path / "library.sqlite"
    with (
        process(work.add_many, path, 0, 250) as (_, a),
        process(work.add_many, path, 250, 250) as (_, b),
        process(work.add_many, path, 500, 250) as (_, c),
        process(work.add_many, path, 750, 250) as (_, d),
        process(work.add_many, path, 1000, 250) as (_, e),
        process(work.add_many, path, 1250, 250) as (_, f),
        process(work.add_many, path, 1500, 250) as (_, g),
        process(work.add_many, path, 1750, 250) as (_, h),
    ):
        assert [pipe.recv() for pipe in (a, b, c, d, e, f, g, h)] == ["done"] * 8
    whole(path)
    with open_library(path) as library:
        kept = [KeptCase.model_validate_json(body) for body in library.bodies()]
    assert sorted(case.case for case in kept) == sorted(token(number) for number in range(2000))
    assert [one.name for one in tmp_path.iterdir()] == [path.name]
