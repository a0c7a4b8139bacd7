"""All that is peculiar to SQLite: how it is opened, checked, copied and rinsed."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.pool import QueuePool

from advisor.library.store.failures import LibraryFailed, backups, damaged

_WRITING = "library_writing"

_SETTINGS = (
    "PRAGMA synchronous = FULL",
    "PRAGMA foreign_keys = ON",
    "PRAGMA secure_delete = ON",
    "PRAGMA cache_size = -32768",  # KiB
    "PRAGMA journal_size_limit = 16777216",
)


def engine_of(path: Path, *, wait: float) -> Engine:
    """On a file that is there. wait: seconds until another program's lock is a failure."""

    def connect() -> sqlite3.Connection:
        # Without a level of its own the driver leaves all BEGINs to `begin`.
        return sqlite3.connect(
            f"{path.absolute().as_uri()}?mode=rw",
            uri=True,
            timeout=wait,
            isolation_level=None,
            check_same_thread=False,
        )

    engine = create_engine("sqlite+pysqlite://", creator=connect, poolclass=QueuePool)

    @event.listens_for(engine, "connect")
    def settle(connection: sqlite3.Connection, _: object) -> None:
        for setting in _SETTINGS:
            connection.execute(setting)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        # A transaction that reads first and then writes would fail at once, without a wait.
        writing = connection.get_execution_options().get(_WRITING)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")

    return engine


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """One transaction that holds the lock for writing from its beginning."""
    with engine.connect().execution_options(**{_WRITING: True}) as connection, connection.begin():
        yield connection


def make_file(path: Path) -> None:
    """An empty database that only its owner may read, set to a write-ahead log."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    connection = sqlite3.connect(path, isolation_level=None)
    try:
        connection.execute("PRAGMA journal_mode = WAL")
    finally:
        connection.close()


def put_in_place(new: Path, path: Path) -> None:
    """Give a finished file its name; where another process was quicker, its file stays."""
    try:
        os.link(new, path)
    except FileExistsError:
        pass
    except OSError:  # this disk knows no second names
        if not path.exists():
            os.rename(new, path)
    new.unlink(missing_ok=True)
    _keep_names(path.parent)


def check(engine: Engine, path: Path) -> None:
    """Raises LibraryFailed where the file is damaged."""
    with engine.connect() as connection:
        found = connection.exec_driver_sql("PRAGMA quick_check(1)").scalar_one()
    if found != "ok":
        raise damaged(path, str(found).splitlines()[-1])


def copy_before(engine: Engine, path: Path, *, of: str) -> Path:
    """A copy beside the library, made before its version `of` is changed."""
    copy = path.with_name(f"{path.name}.copy-of-{of}")
    unfinished = copy.with_name(f"{copy.name}.part")
    unfinished.unlink(missing_ok=True)
    os.close(os.open(unfinished, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    with _driver(engine) as source:
        target = sqlite3.connect(unfinished)
        try:
            source.backup(target)
            # One file that can be carried off: no log beside it.
            target.execute("PRAGMA journal_mode = DELETE")
        finally:
            target.close()
    os.replace(unfinished, copy)
    _keep_names(path.parent)
    return copy


def rinse(engine: Engine, path: Path) -> tuple[Path, ...]:
    """Leave no byte of what was erased: not in the file, its log or the copies, which go.

    Deleted cells are overwritten at once, but a page that was split keeps stale ones in its gap:
    only a file written anew is sure. Returns the copies deleted. Raises LibraryFailed.
    """
    copies = backups(path)
    for copy in copies:
        copy.unlink(missing_ok=True)
    with _driver(engine) as connection:
        connection.execute("VACUUM")
    empty_log(engine, path)
    return copies


def empty_log(engine: Engine, path: Path) -> None:
    """Bring all that is in the log into the file itself; at closing a failure would not be told.

    Raises LibraryFailed where another program reads what is in the log.
    """
    with _driver(engine) as connection:
        busy, _, _ = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    if busy:
        raise LibraryFailed(path, "another program is reading the library", "close it")


@contextmanager
def _driver(engine: Engine) -> Iterator[sqlite3.Connection]:
    """The driver's own connection, outside of any transaction."""
    raw = engine.raw_connection()
    try:
        connection = raw.driver_connection
        assert isinstance(connection, sqlite3.Connection)
        yield connection
    finally:
        raw.close()


def _keep_names(folder: Path) -> None:
    """A new name in a folder outlasts a loss of power only once the folder is written."""
    if os.name == "posix":
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
