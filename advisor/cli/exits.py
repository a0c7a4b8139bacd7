"""How a command ends. Where several hold: 3 before 1 before 2."""

from collections.abc import Iterable
from typing import Final

DONE: Final = 0
"""Whatever was found; also a closed pipe."""
FAULTY: Final = 1
"""The knowledge or the worked cases are faulty, or below the recorded floor."""
WRONG: Final = 2
"""An input, key or option is wrong or cannot be read."""
FAILED: Final = 3
"""Writing failed: disk, database, network. Or the program itself did."""
INTERRUPTED: Final = 130

_WORST_FIRST: Final = (FAILED, FAULTY, WRONG, DONE)


def worst(codes: Iterable[int]) -> int:
    """The one code for all that happened."""
    found = set(codes)
    return next((code for code in _WORST_FIRST if code in found), DONE)
