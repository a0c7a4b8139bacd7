"""A disk that fails: SQLite's own calls of the system are counted, and one of them refused.

The database library that Python itself uses is asked for its default file system, and the
functions that write, sync and cut files are replaced there. SQLite sees what it would see of a
disk that is full or broken; nothing of the advisor is patched.
"""

import _sqlite3
import ctypes
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

FULL, WRITE_FAILED, SYNC_FAILED, OK = 13, 778, 1034, 0

_OPEN = ctypes.CFUNCTYPE(
    ctypes.c_int, ctypes.c_void_p, ctypes.c_void_p, ctypes.c_void_p, ctypes.c_int, ctypes.c_void_p
)
_WRITE = ctypes.CFUNCTYPE(
    ctypes.c_int, ctypes.c_void_p, ctypes.c_void_p, ctypes.c_int, ctypes.c_int64
)
_TRUNCATE = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_int64)
_SYNC = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_int)
_POINTERS = 19
"""A table of file functions: its version, then 18 pointers (SQLite's header, version 3)."""
_AT = {"write": 3, "truncate": 4, "sync": 5}
_X_OPEN = 5
"""In words of 8 bytes: three ints of 4 fill two, then come next, name, data and xOpen."""


@dataclass(slots=True)
class Disk:
    """calls: of the disk so far. fail_at: the one that is refused, and with `forever` all after."""

    fail_at: int = 0
    code: int = FULL
    forever: bool = False
    calls: int = 0

    def refuses(self) -> bool:
        self.calls += 1
        late = self.calls > self.fail_at > 0 and self.forever
        return self.calls == self.fail_at or late


_kept: list[Any] = []
"""Files may be open longer than the disk fails: what they call must live on."""


def can_fail() -> bool:
    """Whether the database library lets its file system be asked for here."""
    return ctypes.sizeof(ctypes.c_void_p) == 8 and hasattr(
        ctypes.CDLL(_sqlite3.__file__), "sqlite3_vfs_find"
    )


@contextmanager
def failing(disk: Disk) -> Iterator[None]:
    """All files opened within are on this disk."""
    library = ctypes.CDLL(_sqlite3.__file__)
    library.sqlite3_vfs_find.restype = ctypes.c_void_p
    system = (ctypes.c_void_p * (_X_OPEN + 1)).from_address(library.sqlite3_vfs_find(None))
    address = system[_X_OPEN]
    really_open = _OPEN(address or 0)

    def open_(vfs: int, name: int, file: int, flags: int, out: int) -> int:
        answer = int(really_open(vfs, name, file, flags, out))
        place = ctypes.c_void_p.from_address(file)
        if answer == OK and place.value:
            table = _counted(place.value, disk)
            place.value = ctypes.addressof(table)
        return answer

    replaced = _OPEN(open_)
    _kept.append(replaced)
    system[_X_OPEN] = ctypes.cast(replaced, ctypes.c_void_p).value
    try:
        yield
    finally:
        system[_X_OPEN] = address


def _counted(address: int, disk: Disk) -> Any:
    """A copy of a file's functions; those that change the disk ask first."""
    table = (ctypes.c_void_p * _POINTERS)()
    ctypes.memmove(table, address, ctypes.sizeof(table))
    write = _WRITE(table[_AT["write"]] or 0)
    truncate = _TRUNCATE(table[_AT["truncate"]] or 0)
    sync = _SYNC(table[_AT["sync"]] or 0)
    failed = disk.code

    def write_(file: int, data: int, size: int, offset: int) -> int:
        return failed if disk.refuses() else int(write(file, data, size, offset))

    def truncate_(file: int, size: int) -> int:
        return WRITE_FAILED if disk.refuses() else int(truncate(file, size))

    def sync_(file: int, flags: int) -> int:
        return SYNC_FAILED if disk.refuses() else int(sync(file, flags))

    for name, function in (
        ("write", _WRITE(write_)),
        ("truncate", _TRUNCATE(truncate_)),
        ("sync", _SYNC(sync_)),
    ):
        _kept.append(function)
        table[_AT[name]] = ctypes.cast(function, ctypes.c_void_p).value
    _kept.append(table)
    return table
