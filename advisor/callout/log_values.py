"""What stands under the keys of a log: lists of words, numbers with units, tables."""

from __future__ import annotations

from collections.abc import Callable
from collections.abc import Mapping as Table
from math import isinf
from typing import Any, Final

from advisor.callout.entries import check_keys, entries, items, optional
from advisor.callout.log_record import Packer
from advisor.terms import (
    Faults,
    Listing,
    Node,
    Unreadable,
    fault,
    mapping,
    number,
    read_quantity,
    scalar,
    text,
    word,
)

Read = Callable[[Node, str], Any]

LONGEST: Final = 100_000
"""Minutes that one packer may have taken."""


def words(node: Node, key: str) -> tuple[str, ...]:
    """One word or a list of words, as keys."""
    listed = node.items if isinstance(node, Listing) else (node,)
    return tuple(word(item, key) for item in listed)


def measure(unit: str, lowest: float, highest: float) -> Read:
    """A reader of a number with its unit; of a range the middle."""

    def read(node: Node, key: str) -> float:
        written = scalar(node, f"a number with its unit, in {unit}", key).text
        try:
            open_ended = read_quantity(written, unit)
            found = read_quantity(written, unit, lowest=lowest, highest=highest)
        except Unreadable as error:
            raise fault(
                node, error.message, key=key, expected=error.expected, nearest=error.nearest
            ) from None
        if written.split() == ["unknown"]:
            raise fault(node, "nothing is known of it", key=key, expected="no such key at all")
        if isinf(open_ended.lo) or isinf(open_ended.hi):
            told, expected = "this has one end only", f"such as 3 {unit} or 2-4 {unit}"
            raise fault(node, told, key=key, expected=expected)
        return round((found.lo + found.hi) / 2, 6)

    return read


def minutes(node: Node, key: str) -> float:
    """How long something took: a plain number."""
    found = number(node, key)
    if not 0 <= found <= LONGEST:
        expected = f"minutes from 0 to {LONGEST}"
        raise fault(node, f"{found:g} minutes cannot be", key=key, expected=expected)
    return found


def amounts(node: Node, key: str) -> dict[str, str]:
    """What was used or read: key -> a text with its unit."""
    return {of.text: text(entry, of.text) for of, entry in entries(node, key).entries}


def shares(node: Node, key: str) -> dict[str, float]:
    """Keys with a number from 0 to 1."""
    found = {}
    for of, entry in entries(node, key).entries:
        share = number(entry, of.text)
        if not 0 <= share <= 1:
            told, expected = f"{share:g} is no share", "a number from 0 to 1"
            raise fault(entry, told, key=of.text, expected=expected)
        found[word(of)] = share
    return found


PACKER: Final[Table[str, Read]] = {
    "packer": text,
    "pressure": measure("bar", 0, 2000),
    "volume": measure("L", 0, 100_000),
    "minutes": minutes,
    "ended": text,
}
"""What stands of each packer, and how it is read."""


def packers(node: Node, key: str) -> tuple[Packer, ...]:
    """The table of an injection, one mapping for each packer."""
    found = []
    every = Faults()
    for item in items(node, key):
        with every.catch():
            keys = mapping(item, key)
            check_keys(keys, PACKER, {"packer": "its number"})
            faults = Faults()
            read = {of: optional(keys, of, reader, faults) for of, reader in PACKER.items()}
            faults.stop()
            found.append(Packer(**{of: value for of, value in read.items() if value is not None}))
    every.stop()
    return tuple(found)
