"""The key that hides names: a file beside the records, or the user's own. It is never exported."""

import os
import secrets
from pathlib import Path
from typing import Final

from advisor.library.scrub.labels import KEY_BYTES
from advisor.terms import Faulty, Problem

NAME: Final = "library.key"


def key_for(record: Path, given: Path | None = None) -> bytes:
    """The key for a record: the one given; else the nearest `library.key` in its folder or one
    above; else the user's own, which is made where there is none yet.

    Who shares records puts the key beside them, so that all know the same case again.
    Raises Faulty where a key file is none, OSError where it cannot be read or written.
    """
    if given is not None:
        return _read(given) if given.exists() else _made(given)
    for folder in record.absolute().parents:
        if (folder / NAME).is_file():
            return _read(folder / NAME)
    own = default_key_file()
    return _read(own) if own.exists() else _made(own)


def default_key_file() -> Path:
    """Where this system keeps a user's settings: apart from the library."""
    from platformdirs import user_config_path  # noqa: PLC0415

    return user_config_path("leak-advisor", ensure_exists=True) / NAME


def _read(path: Path) -> bytes:
    text = path.read_text(encoding="ascii", errors="replace").strip()
    try:
        key = bytes.fromhex(text)
    except ValueError:
        key = b""
    if len(key) != KEY_BYTES:
        told, expected = (
            "this is no key",
            f"{2 * KEY_BYTES} hexadecimal digits, as the advisor wrote",
        )
        raise Faulty(Problem(message=told, file=str(path), expected=expected))
    return key


def _made(path: Path) -> bytes:
    """A new key; of two programs that make one at once, one wins and both use it."""
    key = secrets.token_bytes(KEY_BYTES)
    new = path.with_name(f".{path.name}.{os.getpid()}")
    handle = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="ascii") as written:
        written.write(key.hex() + "\n")
        written.flush()
        os.fsync(written.fileno())
    try:
        os.link(new, path)
    except FileExistsError:
        return _read(path)
    finally:
        os.unlink(new)
    return key
