"""What can fail under a library, said so that a reader knows what to do. Loads nothing heavy."""

import errno
import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

RETRY = "nothing was changed; mend it and try again"


class LibraryFailed(Exception):  # noqa: N818 - what callers say: "the library failed"
    """The library cannot be used, or a write did not happen. Nothing acknowledged is lost.

    message: what is wrong. do: what to do next.
    """

    def __init__(self, path: Path, message: str, do: str) -> None:
        super().__init__(path, message, do)
        self.path, self.message, self.do = path, message, do

    def __str__(self) -> str:
        return f"{self.path}: {self.message}; {self.do}"


@contextmanager
def clearly(path: Path) -> Iterator[None]:
    """Turn failures of the database and of the disk into LibraryFailed; all else goes through."""
    try:
        yield
    except LibraryFailed:
        raise
    except Exception as error:
        # The database layer wraps what the driver says in `orig`.
        cause = getattr(error, "orig", None) or error
        if not isinstance(cause, sqlite3.Error | OSError):
            raise
        raise LibraryFailed(path, *_said(cause, path)) from error


def damaged(path: Path, found: str) -> LibraryFailed:
    """found: what does not fit, in a few words."""
    copies = ", ".join(copy.name for copy in backups(path))
    put_back = f"put back the copy {copies}" if copies else "put back a copy, or import an export"
    return LibraryFailed(path, f"the library is damaged ({found})", f"keep this file, {put_back}")


def require_writable(path: Path) -> None:
    """Raises LibraryFailed where the file or its folder may not be written to."""
    if path.is_file() and not _is_writable(path):
        raise LibraryFailed(path, *_READ_ONLY)


def backups(path: Path) -> tuple[Path, ...]:
    """The copies that were made before the library was brought up to date, and unfinished ones."""
    begins = f"{path.name}.copy-of-"
    return tuple(sorted(one for one in path.parent.iterdir() if one.name.startswith(begins)))


NO_LIBRARY = "this is no case library", "name another file, or none for your own library"
_READ_ONLY = (
    "the library may not be written to",
    "nothing was changed; allow writing to the file and its folder, or name another file",
)

_DISK_FULL = "the disk is full", "nothing was changed; make room and try again"
_IN_USE = (
    "another program is using the library",
    "nothing was changed; wait until it has ended and try again",
)
_BY_KIND = {
    "FULL": _DISK_FULL,
    "READONLY": _READ_ONLY,
    "BUSY": _IN_USE,
    "LOCKED": _IN_USE,
    "NOTADB": NO_LIBRARY,
    "NOMEM": ("there is too little memory", RETRY),
}


def _said(error: sqlite3.Error | OSError, path: Path) -> tuple[str, str]:
    """What is wrong, and what to do."""
    if isinstance(error, OSError):
        return _by_number(error, path)
    name = getattr(error, "sqlite_errorname", "SQLITE_ERROR")
    match name.split("_")[1]:
        case "CANTOPEN":
            return _cannot_open(path)
        case "CORRUPT":
            told = damaged(path, str(error))
            return told.message, told.do
        case "IOERR":
            return f"the disk failed ({name})", "check the disk and its room, then try again"
        case kind:
            return _BY_KIND.get(kind, (f"the database failed ({error})", RETRY))


def _is_writable(path: Path) -> bool:
    """Beside the file the database keeps two of its own."""
    return os.access(path.parent, os.W_OK) and os.access(path, os.R_OK | os.W_OK)


def _cannot_open(path: Path) -> tuple[str, str]:
    if path.is_dir():
        return "this is a folder", "name a file in it"
    if not path.parent.is_dir():
        return "there is no such folder", "make the folder, or name another file"
    if not _is_writable(path):
        return _READ_ONLY
    return "the library cannot be opened", RETRY


def _by_number(error: OSError, path: Path) -> tuple[str, str]:
    match error.errno:
        case errno.ENOSPC | errno.EDQUOT | errno.EFBIG:
            return _DISK_FULL
        case errno.EACCES | errno.EPERM | errno.EROFS:
            return _READ_ONLY
        case errno.ENOENT | errno.ENOTDIR | errno.EISDIR:
            return _cannot_open(path)
    return f"the disk failed ({error.strerror})", "check the disk, then try again"
