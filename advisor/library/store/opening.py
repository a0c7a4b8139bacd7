"""From a path to a database that is whole and of this program's version."""

import glob
import os
from pathlib import Path

from sqlalchemy import Engine, insert, inspect, text

from advisor.library.store import migrations, sqlite
from advisor.library.store.failures import (
    NO_LIBRARY,
    LibraryFailed,
    clearly,
    damaged,
    require_writable,
)
from advisor.library.store.tables import about

_VERSION = "alembic_version"


def default_path() -> Path:
    """Where this system keeps what belongs to a user; the folder is made."""
    from platformdirs import user_data_path  # noqa: PLC0415

    return user_data_path("leak-advisor", ensure_exists=True) / "library.sqlite"


def engine_for(path: Path, *, invented: bool, wait: float) -> Engine:
    """The library of a file; it is made where there is none. Raises LibraryFailed.

    invented: a new one is a demonstration. wait: seconds to wait for other programs.
    """
    with clearly(path):
        if not path.exists():
            _make(path, invented=invented)
        if path.is_file() and not path.stat().st_size:
            raise damaged(path, "the file is empty")
        require_writable(path)  # else the database leaves files beside it that stay read-only
        engine = sqlite.engine_of(path, wait=wait)
        try:
            sqlite.check(engine, path)
            _bring_up_to_date(engine, path)
        except BaseException:
            engine.dispose()
            raise
    return engine


def _make(path: Path, *, invented: bool) -> None:
    """Made beside its place and moved there whole: no half library is ever found."""
    new = path.with_name(f"{path.name}.new-{os.getpid()}")
    new.unlink(missing_ok=True)
    try:
        sqlite.make_file(new)
        engine = sqlite.engine_of(new, wait=0)
        try:
            with sqlite.writing(engine) as connection:
                migrations.upgrade(connection)
                connection.execute(
                    insert(about).values(id=1, invented=int(invented), rinse=0, packed_as="")
                )
            sqlite.empty_log(engine, new)
        finally:
            engine.dispose()
        sqlite.put_in_place(new, path)
    finally:
        for rest in path.parent.glob(f"{glob.escape(new.name)}*"):  # its log, where it failed
            rest.unlink(missing_ok=True)


def _bring_up_to_date(engine: Engine, path: Path) -> None:
    if _version(engine, path) == migrations.KNOWN[-1]:
        return
    with sqlite.writing(engine) as connection:
        # Another process may have been quicker while this one waited for the lock.
        if (version := _version(engine, path)) == migrations.KNOWN[-1]:
            return
        sqlite.copy_before(engine, path, of=version)
        migrations.upgrade(connection)


def _version(engine: Engine, path: Path) -> str:
    """Raises LibraryFailed where the file is no library, or one of a later program."""
    with engine.connect() as connection:
        if not {_VERSION, about.name} <= set(inspect(connection).get_table_names()):
            raise LibraryFailed(path, *NO_LIBRARY)
        version = str(connection.execute(text(f"SELECT version_num FROM {_VERSION}")).scalar_one())
    if version not in migrations.KNOWN:
        raise LibraryFailed(
            path,
            f"the library was written by a later advisor (version {version}; "
            f"this one knows up to {migrations.KNOWN[-1]})",
            "nothing was changed; use the later advisor",
        )
    return version
