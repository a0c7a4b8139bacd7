"""A library that cannot be used says why and what to do, and is left as it was.

Whoever may not write is another user here, for root may always.
"""

import shutil
import sqlite3
import tempfile
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from advisor.library.store.failures import LibraryFailed
from advisor.library.store.store import open_library
from tests.library import fault_work as work
from tests.library.fault_helpers import (
    CASES,
    asked,
    copy_of,
    needs_processes,
    version,
    whole,
)
from tests.library.fault_work import nothing
from tests.library.made_cases import made_case


@needs_processes
def test_files_may_grow_no_more(tmp_path: Path, filled: Path) -> None:
    path = copy_of(filled, tmp_path / "small")
    told = asked(work.add_with_little_room, path, path.stat().st_size + 100_000)
    assert "the disk failed (SQLITE_IOERR_WRITE)" in told or "the disk is full" in told
    whole(path)
    with open_library(path) as library:
        assert library.count() == len(CASES)
        assert library.add([made_case(100)], nothing).new == 1


@needs_processes
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
