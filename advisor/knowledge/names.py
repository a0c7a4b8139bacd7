"""Names that must be known, and what is said of one that leads nowhere."""

from collections.abc import Collection
from dataclasses import dataclass, fields

from advisor.knowledge.folder import Sections
from advisor.terms import (
    Faults,
    Faulty,
    Node,
    Place,
    Problem,
    fault,
    nearest,
    one_of,
    word,
)

SHORT_LIST = 12
"""A message prints a list of what is known up to this length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unresolved(Problem):
    """A name that leads to no entry of these sections. (): the entry is there, but faulty."""

    looked_in: tuple[str, ...] = ()


def unresolved(
    node: Node | Place,
    message: str,
    *looked_in: str,
    key: str | None = None,
    expected: str | None = None,
    nearest: str | None = None,
) -> Unresolved:
    """The problem of a name that leads nowhere, at the place of `node`."""
    place = node if isinstance(node, Place) else node.place
    return Unresolved(
        message=message,
        file=place.file,
        line=place.line,
        column=place.column,
        key=key,
        expected=expected,
        nearest=nearest,
        looked_in=looked_in,
    )


class Findings(Faults):
    """Leaves out names that lead nowhere only because of a fault told elsewhere.

    torn: sections of which a file could not be read.
    """

    def __init__(self, torn: Collection[str]) -> None:
        super().__init__()
        self.torn = torn

    def add(self, *problems: Problem) -> None:
        super().add(*(p for p in problems if not self._follows(p)))

    def stop(self) -> None:
        """Raise Faulty with all of them, in the order of files and lines."""
        if self.problems:
            raise Faulty(sorted(map(_told, self.problems), key=_where))

    def _follows(self, problem: Problem) -> bool:
        if not isinstance(problem, Unresolved):
            return False
        return not problem.looked_in or any(s in self.torn for s in problem.looked_in)


def _told(problem: Problem) -> Problem:
    """A name that leads nowhere is told like any other problem."""
    return Problem(**{field.name: getattr(problem, field.name) for field in fields(Problem)})


def _where(problem: Problem) -> tuple[str, int, int]:
    return problem.file, problem.line or 0, problem.column or 0


def key_of(node: Node, sections: Sections, section: str) -> str:
    """The key of an entry of a section. Raises Faulty."""
    key, known = word(node), sections[section]
    if key not in known:
        raise Faulty(
            unresolved(
                node,
                f'"{key}" is not in {section}',
                section,
                expected=_expected(known, f"a key of {section}"),
                nearest=nearest(key, known),
            )
        )
    return key


def known_word(node: Node, known: Collection[str], what: str) -> str:
    """A word that must be one of the known ones. Raises Faulty."""
    key = word(node)
    if key not in known:
        raise fault(
            node,
            f'"{key}" is not in {what}',
            expected=_expected(known, f"one of {what}"),
            nearest=nearest(key, known),
        )
    return key


def _expected(known: Collection[str], else_said: str) -> str:
    return one_of(known) if len(known) <= SHORT_LIST else else_said
