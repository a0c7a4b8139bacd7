"""Typed access to nodes. The schema decides what a text means, never YAML.

Every function takes a node and, for messages, the key it stands under, and raises
Faulty with the place and what was expected.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterable
from datetime import date

from advisor.terms.node import Listing, Mapping, Node, Scalar, fault, problem_at
from advisor.terms.problem import Faults, nearest

LONGEST_NUMBER = 64
_WORD = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_WHOLE = re.compile(r"[+-]?[0-9]+")
_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_YEAR_FIRST = re.compile(r"([0-9]{4})[-./]([0-9]{1,2})[-./]([0-9]{1,2})")
_DOTTED = re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})")
_LIKE_YES_NO = {"true": "yes", "y": "yes", "on": "yes", "false": "no", "n": "no", "off": "no"}


def scalar(node: Node, expected: str, key: str | None = None) -> Scalar:
    """A single value that is not empty."""
    if isinstance(node, Listing):
        raise fault(node, "a list stands here", key=key, expected=expected)
    if isinstance(node, Mapping):
        raise fault(node, "keys and values stand here", key=key, expected=expected)
    if not node.text.strip():
        raise fault(node, "nothing is written here", key=key, expected=expected)
    return node


def text(node: Node, key: str | None = None) -> str:
    """Text for people. Refused when a comment may have cut its end off."""
    if isinstance(node, Scalar) and node.cut:
        raise fault(
            node,
            'a comment (" #") may have cut this text: put it in quotes',
            key=key,
            expected="quotes around the text",
        )
    return scalar(node, "text", key).text.strip()


def word(node: Node, key: str | None = None) -> str:
    """A key in words. Spaces stand for hyphens: `at the joint` is `at-the-joint`."""
    expected = "a word in lower-case letters, digits and hyphens"
    written = scalar(node, expected, key).text
    spelt = "-".join(written.split())
    if not _WORD.fullmatch(spelt):
        lower = "-".join(re.findall("[a-z0-9]+", written.lower()))
        raise fault(
            node, f"{_quote(written)} is no key", key=key, expected=expected, nearest=lower or None
        )
    return spelt


def number(node: Node, key: str | None = None) -> float:
    """A plain number without a unit; a decimal comma or point."""
    written = scalar(node, "a number without a unit", key).text.strip()
    if len(written) <= LONGEST_NUMBER and _NUMBER.fullmatch(written):
        value = float(written.replace(",", "."))
        if math.isfinite(value):
            return value
    raise fault(
        node, f"{_quote(written)} is no number", key=key, expected="a number without a unit"
    )


def whole(node: Node, key: str | None = None) -> int:
    """A whole number."""
    written = scalar(node, "a whole number", key).text.strip()
    if len(written) <= LONGEST_NUMBER and _WHOLE.fullmatch(written):
        return int(written)
    raise fault(node, f"{_quote(written)} is no whole number", key=key, expected="a whole number")


def yes_no(node: Node, key: str | None = None) -> bool:
    """`yes` or `no`, nothing else."""
    written = scalar(node, "yes or no", key).text.strip()
    if written in ("yes", "no"):
        return written == "yes"
    meant = _LIKE_YES_NO.get(written.lower()) or nearest(written, ("yes", "no"))
    raise fault(node, f"{_quote(written)} is neither", key=key, expected="yes or no", nearest=meant)


def day(node: Node, key: str | None = None) -> date:
    """A date as YYYY-MM-DD."""
    expected = "a date as YYYY-MM-DD"
    written = scalar(node, expected, key).text.strip()
    if parts := _DAY.fullmatch(written):
        try:
            return date(int(parts[1]), int(parts[2]), int(parts[3]))
        except ValueError:
            message = f"there is no day {written}"
            raise fault(node, message, key=key, expected=expected) from None
    raise fault(
        node,
        f"{_quote(written)} is no date",
        key=key,
        expected=expected,
        nearest=_respelt_day(written),
    )


def _respelt_day(written: str) -> str | None:
    """The date in the expected form, where another form leaves no doubt which it is."""
    if parts := _YEAR_FIRST.fullmatch(written):
        year, month, number = parts.groups()
    elif parts := _DOTTED.fullmatch(written):
        number, month, year = parts.groups()
    else:
        return None
    try:
        return date(int(year), int(month), int(number)).isoformat()
    except ValueError:
        return None


def listing(node: Node, key: str | None = None) -> tuple[Node, ...]:
    """The items of a list."""
    if isinstance(node, Listing):
        return node.items
    raise fault(node, f"{_kind(node)} here", key=key, expected='a list: [a, b], or lines with "- "')


def mapping(node: Node, key: str | None = None) -> Mapping:
    """Keys with their values."""
    if isinstance(node, Mapping):
        return node
    raise fault(node, f"{_kind(node)} here", key=key, expected='keys with values: "key: value"')


def only_keys(node: Mapping, allowed: Collection[str], required: Iterable[str] = ()) -> None:
    """Raise one Faulty naming every unknown key, with the nearest one, and every missing key."""
    present = set(node.keys())
    free = [name for name in allowed if name not in present]
    faults = Faults()
    for name, _ in node.entries:
        if name.text not in allowed:
            faults.add(
                problem_at(
                    name,
                    "this key is not known here",
                    key=_short(name.text),
                    expected=one_of(allowed),
                    nearest=nearest(name.text, free),
                )
            )
    for missing in required:
        if missing not in present:
            faults.add(problem_at(node, f'the key "{missing}" is missing', key=missing))
    faults.stop()


def one_of(words: Iterable[str]) -> str:
    """`one of a, b, c`: all of them, since the reader may have no other list at hand."""
    names = list(words)
    return names[0] if len(names) == 1 else f"one of {', '.join(names)}" if names else "no key"


def _kind(node: Node) -> str:
    if isinstance(node, Listing):
        return "a list stands"
    if isinstance(node, Mapping):
        return "keys and values stand"
    return f"{_quote(node.text)} stands" if node.text.strip() else "nothing is written"


def _short(written: str) -> str:
    return written if len(written) <= LONGEST_NUMBER else f"{written[:LONGEST_NUMBER]}…"


def _quote(written: str) -> str:
    return f'"{_short(written)}"'
