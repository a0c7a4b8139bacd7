"""What a checked document is made of: texts, lists and mappings, each with its place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from advisor.terms.problem import Faulty, Problem


class Place(NamedTuple):
    """Where something is written. Line and column count from 1."""

    file: str
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Scalar:
    """A text as it was written; the schema says what it means.

    `cut`: a comment follows an unquoted text, which may have lost its end to it.
    """

    text: str
    quoted: bool
    cut: bool
    place: Place


@dataclass(frozen=True, slots=True)
class Listing:
    items: tuple[Node, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Mapping:
    entries: tuple[tuple[Scalar, Node], ...]
    place: Place

    def get(self, key: str) -> Node | None:
        """What stands under `key`, or None."""
        for name, node in self.entries:  # a loop: it is asked thousands of times at every start
            if name.text == key:
                return node
        return None

    def keys(self) -> tuple[str, ...]:
        """The keys as written, in their order."""
        return tuple(name.text for name, _ in self.entries)


Node = Scalar | Listing | Mapping


def problem_at(
    node: Node | Place,
    message: str,
    *,
    key: str | None = None,
    expected: str | None = None,
    nearest: str | None = None,
) -> Problem:
    """A problem at the place of `node`."""
    place = node if isinstance(node, Place) else node.place
    return Problem(
        message=message,
        file=place.file,
        line=place.line,
        column=place.column,
        key=key,
        expected=expected,
        nearest=nearest,
    )


def fault(
    node: Node | Place,
    message: str,
    *,
    key: str | None = None,
    expected: str | None = None,
    nearest: str | None = None,
) -> Faulty:
    """A Faulty to raise for `node`: `raise fault(node, "…")`."""
    return Faulty(problem_at(node, message, key=key, expected=expected, nearest=nearest))
