"""Record files on disk: found in folders, read as text, and replaced as a whole."""

import os
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from errno import EACCES
from os import strerror
from pathlib import Path

from advisor.terms import Faulty, Problem
from advisor.terms.source_file import read_bytes


def record_files(paths: Sequence[str]) -> list[Path]:
    """The files named, and those `*.yaml` in folders named, each once. Raises Faulty where there
    is none in a folder."""
    found: list[Path] = []
    for path in map(Path, paths):
        below = (one for one in path.rglob("*.yaml") if not one.is_dir())
        listed = sorted(below) if path.is_dir() else [path]
        if not listed:
            told, expected = "there is no record in this folder", "callout files *.yaml"
            raise Faulty(Problem(message=told, file=str(path), expected=expected))
        found += listed
    return list(dict.fromkeys(found))


def record_text(file: str) -> str:
    """The text of a record. Raises Faulty where it cannot be read."""
    data = read_bytes(Path(file), file=file)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        told, expected = "a letter here is not in UTF-8", "a file saved as UTF-8"
        raise Faulty(Problem(message=told, file=file, expected=expected)) from None


def replace_record(file: str, before: str, after: str) -> None:
    """Write the new text beside the file and put it in its place in one go.

    Raises Faulty where the file has changed since it was read, OSError where writing fails; the
    old file stands then as it was.
    """
    path = Path(file).resolve()
    with _alone(path.parent):
        if record_text(file) != before:
            told, expected = "the file was changed by somebody else meanwhile", "to log it again"
            raise Faulty(Problem(message=told, file=file, expected=expected))
        _replace(path, after)
    with suppress(OSError):  # not every system lets a folder be synchronised
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _replace(path: Path, text: str) -> None:
    if not os.access(path, os.W_OK):  # a file that is put in its place asks nobody
        raise PermissionError(EACCES, strerror(EACCES))
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as written:
            written.write(text.encode("utf-8"))
            written.flush()
            os.fsync(written.fileno())
        os.chmod(name, path.stat().st_mode & 0o777)
        os.replace(name, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """No other advisor writes into the folder meanwhile, where the system can hold it for one."""
    handle = None
    with suppress(ImportError, OSError):
        import fcntl  # noqa: PLC0415 - not every system has it

        handle = os.open(folder, os.O_RDONLY)
        fcntl.flock(handle, fcntl.LOCK_EX)
    try:
        yield
    finally:
        if handle is not None:
            os.close(handle)  # and lets go
