"""What callout files have in common on top of the checked fields: optional keys, names, flags."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from collections.abc import Mapping as Table
from typing import TypeVar

from advisor.terms import (
    Faults,
    Mapping,
    Node,
    Scalar,
    fault,
    listing,
    mapping,
    nearest,
    one_of,
    only_keys,
    problem_at,
    scalar,
)

LONGEST_NAME = 64
MOST_ITEMS = 1000
"""Visits, wet places, or readings of one finding: nobody keeps more in one callout."""
_NAME = re.compile(r"[^\W_]+(?:-[^\W_]+)*")
_FLAGS = {"true": True, "yes": True, "false": False, "no": False}

_Read = TypeVar("_Read")
_Word = TypeVar("_Word", bound=str)


def optional(
    node: Mapping, key: str, read: Callable[[Node, str], _Read], faults: Faults
) -> _Read | None:
    """What stands under a key; None when nothing does or it is faulty."""
    entry = node.get(key)
    if entry is not None:
        with faults.catch():
            return read(entry, key)
    return None


def check_keys(node: Mapping, allowed: Collection[str], required: Table[str, str]) -> None:
    """Raise one Faulty for every unknown key and every missing one.

    required: the keys that must be there, and what may stand after each. One that an
    unknown key was probably meant to be is one fault, not two.
    """
    faults = Faults()
    with faults.catch():
        only_keys(node, allowed)
    meant = suggested(faults)
    for key, like in required.items():
        if node.get(key) is None and key not in meant:
            expected = f"{key}: {like}"
            faults.add(problem_at(node, "this key is missing", key=key, expected=expected))
    faults.stop()


def suggested(faults: Faults) -> frozenset[str]:
    """The spellings that the faults suggest."""
    return frozenset(problem.nearest for problem in faults.problems if problem.nearest)


def entries(node: Node, key: str) -> Mapping:
    """Keys with values; nothing written stands for none."""
    return Mapping((), node.place) if _is_blank(node) else mapping(node, key)


def items(node: Node, key: str) -> tuple[Node, ...]:
    """The items of a list; nothing written stands for none."""
    listed = () if _is_blank(node) else listing(node, key)
    if len(listed) > MOST_ITEMS:
        raise fault(
            node, f"{len(listed)} entries are too many", key=key, expected=f"at most {MOST_ITEMS}"
        )
    return listed


def flag(node: Node, key: str) -> bool:
    """`yes` or `no`, also `true` or `false`."""
    written = scalar(node, "yes or no", key).text.strip()
    if written in _FLAGS:
        return _FLAGS[written]
    raise fault(
        node,
        f'"{written[:64]}" is neither',
        key=key,
        expected="yes or no",
        nearest=nearest(written, ("yes", "no")),
    )


def name(node: Node, key: str) -> str:
    """The name of a callout or a wet place, in any alphabet; spaces stand for hyphens."""
    expected = "letters, digits and hyphens"
    words = scalar(node, expected, key).text.split()
    written = "-".join(words)
    if len(written) > LONGEST_NAME:
        raise fault(node, f"more than {LONGEST_NAME} characters", key=key, expected="a short name")
    if not _NAME.fullmatch(written):
        spelt = "-".join(re.findall(r"[^\W_]+", written))
        raise fault(
            node,
            f'"{" ".join(words)}" is no name',
            key=key,
            expected=expected,
            nearest=spelt or None,
        )
    return written


def one_word(words: tuple[_Word, ...]) -> Callable[[Node, str], _Word]:
    """A reader of one of some words."""

    def read(node: Node, key: str) -> _Word:
        parts = scalar(node, one_of(words), key).text.split()
        written = "-".join(parts)
        for known in words:
            if known == written:
                return known
        raise fault(
            node,
            f'"{" ".join(parts)[:64]}" is not known here',
            key=key,
            expected=one_of(words),
            nearest=nearest(written, words),
        )

    return read


def _is_blank(node: Node) -> bool:
    return isinstance(node, Scalar) and not node.text and not node.quoted
