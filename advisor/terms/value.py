"""Values as sets of possibilities, read from what people write.

A choice is a bit mask over the attribute's choices (bit 0 is the first), a number is a
range, unknown is all of them. Every reader raises Faulty with place, key, what was
expected and the nearest spelling.
"""

from __future__ import annotations

import re
from datetime import date

from advisor.terms.attribute import Attribute
from advisor.terms.fields import day, one_of, only_keys, scalar, text
from advisor.terms.node import Listing, Mapping, Node, Scalar, fault
from advisor.terms.problem import Faults, nearest
from advisor.terms.quantity import Range, Unreadable, read_quantity

Value = int | tuple[int, int] | Range | date | str

_NONE = ("no", "none", "nothing", "-")
_NOT_KNOWN = (
    *("?", "maybe", "unclear", "n/a", "tbd", "no access", "could not look", "don't know"),
    *(f"not {done}" for done in ("known", "sure", "done", "seen", "looked", "checked", "tested")),
)
"""What people write for `unknown`."""
_OR = re.compile(r"\s+or\s+")


def read_value(node: Node, attribute: Attribute) -> Value:
    """What `node` says about an attribute of any kind.

    A choice or yes-no is a mask, several a (yes mask, no mask), a number a Range, a date
    a date, text a str.
    """
    match attribute.kind:
        case "choice" | "yes-no":
            return read_choice(node, attribute)
        case "several":
            return read_several(node, attribute)
        case "number":
            return read_number(node, attribute)
        case "date":
            return day(node, attribute.key)
        case "text":
            return text(node, attribute.key)


def read_choice(node: Node, attribute: Attribute) -> int:
    """The mask of the choices still possible, never 0.

    Forms: `a`, `a or b`, `{not: a}`, `{not: [a, b]}`, `unknown`.
    """
    if isinstance(node, Mapping):
        only_keys(node, ("not",), ("not",))
        struck = _mask(node.entries[0][1], attribute)
        left = attribute.every_choice & ~struck
        if not left:
            raise fault(
                node, "this leaves no choice", key=attribute.key, expected=_choices(attribute)
            )
        return left
    if isinstance(node, Listing):
        raise fault(
            node,
            "a list stands here",
            key=attribute.key,
            expected='one choice, or several with "or" between them',
        )
    written = scalar(node, _choices(attribute), attribute.key).text.strip()
    if written == "unknown":
        return attribute.every_choice
    _check_meant(node, attribute)
    # A key may itself hold an "or": `wall or floor` for `wall-or-floor`.
    if mask := _bit(written, attribute):
        return mask
    faults = Faults()
    for part in _OR.split(written):
        with faults.catch():
            mask |= _known(part, node, attribute)
    faults.stop()
    return mask


def read_several(node: Node, attribute: Attribute) -> tuple[int, int]:
    """The masks of the choices that are there, and of those that are not.

    Forms: `[a, b]` = these, and all others looked for and not there; `a` = `[a]`;
    `[]` = looked, none; `{has: [a], has-not: [b]}` leaves the rest open; `unknown`.
    """
    if isinstance(node, Scalar) and node.text.strip() == "unknown":
        return 0, 0
    if not isinstance(node, Mapping):
        _check_meant(node, attribute)
        there = _mask(node, attribute)
        return there, attribute.every_choice & ~there
    only_keys(node, ("has", "has-not"))
    if not node.entries:
        raise fault(
            node, "nothing is written here", key=attribute.key, expected='"has" or "has-not"'
        )
    faults = Faults()
    masks = {"has": 0, "has-not": 0}
    for name, items in node.entries:
        with faults.catch():
            masks[name.text] = _mask(items, attribute)
    faults.stop()
    if both := masks["has"] & masks["has-not"]:
        raise fault(
            node,
            f'"{say_choices(both, attribute)}" is said to be there and not there',
            key=attribute.key,
            expected='each choice under "has" or "has-not"',
        )
    return masks["has"], masks["has-not"]


def read_number(node: Node, attribute: Attribute) -> Range:
    """The range of a number, in the attribute's unit."""
    written = scalar(node, "a number with its unit", attribute.key).text
    try:
        return read_quantity(
            written,
            attribute.unit or "count",
            lowest=attribute.lowest,
            highest=attribute.highest,
        )
    except Unreadable as error:
        raise fault(
            node, error.message, key=attribute.key, expected=error.expected, nearest=error.nearest
        ) from None


def say_choices(mask: int, attribute: Attribute, *, labels: bool = False) -> str:
    """`a or b`, as `read_choice` reads it; with `labels`, in the words people read."""
    if mask == attribute.every_choice and len(attribute.choices) > 1:
        return "unknown"
    chosen = [choice for bit, choice in enumerate(attribute.choices) if mask >> bit & 1]
    return " or ".join(choice.label if labels else choice.key for choice in chosen) or "none"


def _check_meant(node: Node, attribute: Attribute) -> None:
    """What people write for `unknown`, and for `[]`, is told so."""
    written = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
    none = attribute.kind == "several" and written.lower() in _NONE
    not_known = written.lower().replace("-", " ") in _NOT_KNOWN
    if (none or not_known) and not _bit(written, attribute):
        raise fault(
            node,
            f'"{written}" is not one of its choices',
            key=attribute.key,
            expected=_choices(attribute) + ("; [] for none of them" if none else ""),
            nearest="unknown" if not_known else None,
        )


def _mask(node: Node, attribute: Attribute) -> int:
    """The choices of one word or a list of words."""
    mask = 0
    faults = Faults()
    for item in node.items if isinstance(node, Listing) else (node,):
        with faults.catch():
            written = scalar(item, _choices(attribute), attribute.key).text
            mask |= _known(written, item, attribute)
    faults.stop()
    return mask


def _known(written: str, node: Node, attribute: Attribute) -> int:
    if mask := _bit(written, attribute):
        return mask
    raise fault(
        node,
        f'"{" ".join(written[:64].split())}" is not one of its choices',
        key=attribute.key,
        expected=_choices(attribute),
        nearest=nearest(written, [choice.key for choice in attribute.choices]),
    )


def _bit(written: str, attribute: Attribute) -> int:
    key = "-".join(written.split())
    for bit, choice in enumerate(attribute.choices):
        if choice.key == key:
            return 1 << bit
    return 0


def _choices(attribute: Attribute) -> str:
    return one_of(choice.key for choice in attribute.choices)
