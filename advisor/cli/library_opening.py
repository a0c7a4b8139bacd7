"""Opens the library a command needs, and says on standard error what failed."""

import os
import sys
from collections.abc import Callable
from pathlib import Path

from advisor.cli.exits import FAILED
from advisor.cli.opening import ended, opened, printable
from advisor.knowledge import Knowledge
from advisor.library.alike.packed import form_of, packer
from advisor.library.case import KeptPlace
from advisor.library.store.failures import LibraryFailed
from advisor.library.store.opening import default_path
from advisor.library.store.store import Library, open_library
from advisor.terms import Faulty, Problem

Command = Callable[[Library, Knowledge], int]


def with_library(
    library: str | None,
    folder: str | None,
    command: Command,
    *,
    invented: bool = False,
    makes: bool = True,
) -> int:
    """Open both, run the command, and say what failed. Returns the exit code.

    makes: a library is made where there is none; else that is told, for a name mistyped would
    look like a library without cases.
    """

    def with_both() -> int:
        knowledge = opened(folder)
        path = library_path(library)
        if not makes and (missing := no_library(path)) is not None:
            raise Faulty(missing)
        with open_library(path, invented=invented) as found:
            return command(found, knowledge)

    try:
        return ended(with_both)
    except LibraryFailed as failed:
        print(f"advisor: {failed}", file=sys.stderr)
        return FAILED
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        print(f"advisor: {error.filename or ''}: {reason}; nothing was changed", file=sys.stderr)
        return FAILED


def library_path(given: str | None) -> Path:
    """The option, else the environment, else the user's own."""
    named = named_library(given)
    return Path(named) if named else default_path()


def named_library(given: str | None) -> str | None:
    """The name of another library than the user's own; None for that one."""
    return given or os.environ.get("ADVISOR_LIBRARY") or None


def key_file(given: str | None) -> Path | None:
    """The key that hides names: the option, else the environment; None for the usual one.

    Raises Faulty where its name is none.
    """
    named = given or os.environ.get("ADVISOR_LIBRARY_KEY")
    if named and printable(named) != named:
        told, expected = "the name of this file is not in UTF-8", "a file with a readable name"
        raise Faulty(Problem(message=told, file=printable(named), key="--key", expected=expected))
    return Path(named) if named else None


def no_library(path: Path) -> Problem | None:
    """That there is none yet; None where something is, be it no library."""
    if path.exists() or not path.parent.is_dir():
        return None
    expected = "a library: `advisor library add FILE` makes it"
    return Problem(message="there is no library yet", file=printable(str(path)), expected=expected)


def packing(library: Library, knowledge: Knowledge) -> Callable[[KeptPlace], bytes]:
    """How the findings of a place are stored for comparing; all there are stand so afterwards."""

    packed = packer(knowledge, library.names_for)
    library.pack_as(form_of(knowledge), packed)
    return packed
