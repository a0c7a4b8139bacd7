"""What the fault tests share: processes to be killed, and how a library is looked at after."""

import multiprocessing
import os
import shutil
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import pytest

from tests.library.made_cases import made_case

SERVER = multiprocessing.get_context("forkserver") if os.name == "posix" else None
CASES = [made_case(number) for number in range(60)]
needs_processes = pytest.mark.skipif(os.name != "posix", reason="processes are forked and killed")


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


def version(path: Path) -> str:
    """The version of a library, which is wholly of it."""
    raw = sqlite3.connect(path)
    (found,) = raw.execute("SELECT version_num FROM alembic_version").fetchone()
    columns = [row[1] for row in raw.execute("PRAGMA table_info(cases)")]
    extra = raw.execute("SELECT count(*) FROM sqlite_master WHERE name LIKE 'extra%'").fetchone()
    raw.close()
    assert ("more" in columns) == (extra == (2,)) == (found == "0002")
    return str(found)


def copy_of(filled: Path, folder: Path) -> Path:
    folder.mkdir()
    return Path(shutil.copy(filled, folder / filled.name))


def asked(target: Callable[..., None], *given: object) -> str:
    with process(target, *given) as (_, pipe):
        return str(pipe.recv())
