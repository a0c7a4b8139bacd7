"""Each write of a disk fails in turn: it is told, nothing is lost, a retry works."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from advisor.library.store.adding import Added
from advisor.library.store.failures import LibraryFailed
from advisor.library.store.store import open_library
from tests.library.failing_disk import FULL, WRITE_FAILED, Disk, can_fail, failing
from tests.library.fault_helpers import (
    CASES,
    copy_of,
    version,
    whole,
)
from tests.library.fault_work import nothing
from tests.library.made_cases import made_case, token

needs_disk = pytest.mark.skipif(not can_fail(), reason="the database library is sealed in Python")


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
        for copy in path.parent.glob("*.copy-of-0001"):
            whole(copy)
            assert version(copy) == "0001"
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
