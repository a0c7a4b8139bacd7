"""The bytes of a file that a person wrote, or one plain reason why there are none."""

from pathlib import Path

from advisor.terms.problem import Faulty, Problem

LARGEST = 1024 * 1024
"""Bytes. The largest callout kept so far is a few per cent of it."""


def read_bytes(path: Path, *, file: str | None = None) -> bytes:
    """What is in a file. `file` is its name in messages.

    Raises Faulty when it cannot be read or is over 1 MiB.
    """
    name = str(path) if file is None else file
    try:
        with path.open("rb") as stream:
            # The size is known without reading; a pipe has none, so the read is bounded too.
            size = path.stat().st_size
            data = b"" if size > LARGEST else stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise unreadable(name, "there is no such file") from None
    except IsADirectoryError:
        raise unreadable(name, "this is a folder", "a file") from None
    except PermissionError:
        raise unreadable(name, "no permission to read this file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "not a file name"
        raise unreadable(name, f"cannot be read ({reason.lower()})") from None
    if size > LARGEST or len(data) > LARGEST:
        raise too_large(name)
    return data


def too_large(file: str) -> Faulty:
    """What is said of a file over 1 MiB."""
    return unreadable(file, "the file is too large", "at most 1 MiB")


def unreadable(file: str, message: str, expected: str | None = None) -> Faulty:
    """What is said of a file as a whole."""
    return Faulty(Problem(message=message, file=file, expected=expected))
