"""The compiled knowledge, kept in the user's cache folder until a file of it changes.

Reading and checking takes longer than a diagnosis. What is kept is found by the content
of all files it was made from, and by the program that made it, so it is never stale.
Where the cache cannot be used, all works as without it, only slower.
"""

import os
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from tempfile import NamedTemporaryFile

from advisor.knowledge.knowledge import Knowledge
from advisor.knowledge.stored import restored, stored
from advisor.terms.source_file import LARGEST
from advisor.version import __version__

KEPT = 8
"""Versions of the knowledge that are kept; the oldest goes."""

PROGRAM = ("terms", "engine", "water", "knowledge")
"""Packages whose code the kept knowledge depends on."""


def remembered(content: str, make: Callable[[], Knowledge]) -> Knowledge:
    """What `make` makes, or what it made before of the same content. Raises what `make` raises."""
    file = _folder() / f"{content}.stored"
    with suppress(Exception):  # a cache that cannot be read is none
        return _load(file)
    knowledge = make()
    with suppress(Exception):  # nor is one that cannot be written
        _save(file, knowledge)
    return knowledge


def content_of(folders: Sequence[Path]) -> str:
    """A name for all that the knowledge is made from: its files, and the program."""
    digest = sha256(f"{__version__} {sys.version}".encode())
    for folder in folders:
        for path in sorted([folder, *folder.rglob("*")]):
            digest.update(f"\0{path}\0".encode("utf-8", "surrogateescape"))
            with suppress(OSError):  # its reader says what is wrong with it
                if path.is_file() and path.stat().st_size <= LARGEST:
                    digest.update(path.read_bytes())
    for package in PROGRAM:
        for path in sorted(Path(__file__).parent.parent.joinpath(package).glob("*.py")):
            state = path.stat()
            digest.update(f"\0{path.name} {state.st_size} {state.st_mtime_ns}".encode())
    return digest.hexdigest()[:32]


def _folder() -> Path:
    home = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    return (Path(home) if home else Path.home() / ".cache") / "leak-advisor"


def _load(file: Path) -> Knowledge:
    """Raises OSError where there is none, or where others than the user could have written it."""
    state = file.stat()
    if hasattr(os, "getuid") and (state.st_uid != os.getuid() or state.st_mode & 0o022):
        raise OSError("written by others")
    knowledge = restored(file.read_bytes())
    if not isinstance(knowledge, Knowledge):
        raise TypeError("no knowledge")
    return knowledge


def _save(file: Path, knowledge: Knowledge) -> None:
    """Written aside and moved in one step: a reader sees all of it or nothing."""
    file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=file.parent, delete=False) as aside:
        aside.write(stored(knowledge))
    Path(aside.name).replace(file)
    kept = sorted(file.parent.iterdir(), key=lambda p: p.stat().st_mtime, reverse=True)
    for old in kept[KEPT:]:
        old.unlink(missing_ok=True)
