"""What the processes of the fault tests do, each until it is done or killed.

They tell on a pipe what is acknowledged, after it is.
"""

import os
import resource
import shutil
from itertools import count
from multiprocessing.connection import Connection
from pathlib import Path
from random import Random

import alembic.command  # noqa: F401 - loaded once, in the server that forks

from advisor.library.case import KeptPlace
from advisor.library.store import migrations
from advisor.library.store.failures import LibraryFailed
from advisor.library.store.store import open_library
from tests.library.made_cases import made_case

GROUP = 40
NOBODY = 65534
LATER = Path(__file__).parent / "later_version"


def nothing(_: KeptPlace) -> bytes:
    return b""


def know_the_later_version() -> None:
    """For this process only."""
    migrations.KNOWN = ("0001", "0002")
    migrations.VERSIONS = (migrations.HERE / "versions", LATER)


def keep_adding(path: Path, seed: int, pipe: Connection) -> None:
    """Groups of cases, all or none of each; single ones are the first of their group. Now and then
    an earlier one in a new form. Tells (number, cases, form)."""
    random = Random(seed)
    library = open_library(path, wait=30)
    pipe.send("ready")
    for group in count(seed * 1000):
        first = group * GROUP
        size = random.choice((1, GROUP))
        several = [made_case(first + n) for n in range(size)]
        library.add(several, nothing)
        pipe.send((first, size, 0))
        if random.random() < 0.3:
            library.add([made_case(first, seed=group)], nothing)
            pipe.send((first, 1, group))


def keep_migrating(old: Path, folder: Path, pipe: Connection) -> None:
    """Copies of an old library brought up to date. Tells (name, whether it is done)."""
    know_the_later_version()
    pipe.send("ready")
    for number in count():
        path = folder / f"{number}.sqlite"
        shutil.copy(old, path)
        pipe.send((path.name, False))
        open_library(path).close()
        pipe.send((path.name, True))


def add_many(path: Path, first: int, size: int, pipe: Connection) -> None:
    """One after the other, in a library that may not be there yet."""
    with open_library(path, wait=60) as library:
        for number in range(first, first + size):
            library.add([made_case(number)], nothing)
    pipe.send("done")


def add_with_little_room(path: Path, room: int, pipe: Connection) -> None:
    """No file may grow beyond `room` bytes. Tells what the library says."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))
    pipe.send(_told(path))


def add_as_nobody(path: Path, pipe: Connection) -> None:
    """As a user who owns nothing. Tells what the library says."""
    if os.getuid() == 0:
        os.setgroups([])
        os.setgid(NOBODY)
        os.setuid(NOBODY)
    pipe.send(_told(path))


def _told(path: Path) -> str:
    try:
        with open_library(path) as library:
            library.add([made_case(number) for number in range(5000, 5400)], nothing)
    except LibraryFailed as failed:
        return str(failed)
    return "added"
