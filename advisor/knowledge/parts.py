"""One entry, part by part. Every fault in it is gathered, so that none hides the next."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from advisor.knowledge.entries import Why
from advisor.knowledge.folder import Entry, Sections
from advisor.terms import (
    Faults,
    Faulty,
    Listing,
    Node,
    Place,
    Problem,
    fault,
    listing,
    nearest,
    number,
    one_of,
    only_keys,
    problem_at,
    text,
    word,
    yes_no,
)
from advisor.terms import Mapping as Written

T = TypeVar("T")
S = TypeVar("S")

REASONS = ("because", "source")
"""What every entry says, whatever it is."""

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
) -> Faulty:
    """A Faulty to raise for a name that leads nowhere."""
    place = node if isinstance(node, Place) else node.place
    return Faulty(
        Unresolved(
            message=message,
            file=place.file,
            line=place.line,
            column=place.column,
            key=key,
            expected=expected,
            nearest=nearest,
            looked_in=looked_in,
        )
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
            raise Faulty(sorted(self.problems, key=_where))

    def _follows(self, problem: Problem) -> bool:
        if not isinstance(problem, Unresolved):
            return False
        return not problem.looked_in or any(s in self.torn for s in problem.looked_in)


def _where(problem: Problem) -> tuple[str, int, int]:
    return problem.file, problem.line or 0, problem.column or 0


class Parts:
    """Reads what stands under the names of a mapping. A faulty part reads as its stand-in.

    `stop` raises Faulty with all faults; until it is passed, nothing made of the parts counts.
    """

    def __init__(
        self,
        node: Written,
        place: Place,
        sections: Sections,
        names: Collection[str],
        required: Iterable[str] = (),
    ) -> None:
        self.node = node
        self.sections = sections
        self.faults = Faults()
        self.failed: set[str] = set()
        self.place = place
        present = set(node.keys())
        if not present.issubset(names):
            with self.faults.catch():
                only_keys(node, names)
        misspelt = {problem.nearest for problem in self.faults.problems}
        for name in required:
            if name in misspelt:
                self.failed.add(name)
            elif name not in present:
                self.require(name)

    def has(self, name: str) -> bool:
        """Whether something stands under the name."""
        return self.node.get(name) is not None

    def fail(self, name: str, message: str) -> None:
        """Gather a fault of a part."""
        self.failed.add(name)
        self.faults.add(problem_at(self.node.get(name) or self.place, message, key=name))

    def require(self, name: str) -> None:
        """Something must stand under the name."""
        if not self.has(name):
            self.fail(name, f'"{name}" is missing')

    def refuse(self, name: str, message: str) -> None:
        """Nothing may stand under the name."""
        if self.has(name):
            self.fail(name, message)

    def read(self, name: str, how: Callable[[Node], T], stand_in: S) -> T | S:
        """What `how` makes of the part; the stand-in where nothing stands, or it is faulty."""
        node = self.node.get(name)
        if node is None:
            return stand_in
        try:
            return how(node)
        except Faulty as faulty:
            self.failed.add(name)
            self.faults.add(*faulty.problems)
            return stand_in

    def text(self, name: str) -> str:
        """Text for people."""
        return self.read(name, lambda node: text(node, name), "")

    def texts(self, name: str) -> tuple[str, ...]:
        """One text or a list of texts; nothing is no text."""
        return self.read(name, lambda n: tuple(text(item, name) for item in items(n, name)), ())

    def number(self, name: str, stand_in: float = 0.0) -> float:
        """A plain number."""
        return self.read(name, lambda node: number(node, name), stand_in)

    def fraction(self, name: str, stand_in: float = 1.0) -> float:
        """A number above 0, at most 1."""
        return self.read(name, lambda node: fraction(node, name), stand_in)

    def flag(self, name: str) -> bool:
        """Yes or no; nothing is no."""
        return self.read(name, lambda node: yes_no(node, name), False)

    def key(self, name: str, section: str) -> str:
        """The key of an entry of a section."""
        return self.read(name, lambda node: key_of(node, self.sections, section), "")

    def keys(self, name: str, section: str) -> tuple[str, ...]:
        """One key of a section, or a list of them."""
        how = _each(lambda node: key_of(node, self.sections, section))
        return self.read(name, how, ())

    def words(self, name: str, known: Collection[str], what: str) -> tuple[str, ...]:
        """One of the known words, or a list of them."""
        return self.read(name, _each(lambda node: known_word(node, known, what)), ())

    def why(self) -> Why:
        """Every entry says why, and from where."""
        source = self.keys("source", "sources")
        if not source and "source" not in self.failed:
            self.fail("source", "no source is named")
        return Why(because=self.text("because"), source=source)

    def stop(self) -> None:
        """Raise Faulty when any part was faulty."""
        self.faults.stop()


def parts_of(
    entry: Entry, sections: Sections, names: Iterable[str], required: Iterable[str] = ()
) -> Parts:
    """The parts of an entry; each also says because and source."""
    return Parts(entry.node, entry.place, sections, (*names, *REASONS), (*required, *REASONS))


def read_all(
    entries: Mapping[str, Entry], faults: Faults, read: Callable[[Entry], T]
) -> dict[str, T]:
    """What `read` makes of each entry. Faults are gathered, faulty entries left out."""
    found: dict[str, T] = {}
    for key, entry in entries.items():
        try:
            found[key] = read(entry)
        except Faulty as faulty:
            faults.add(*told_of(entry, faulty.problems))
    return found


def told_of(entry: Entry, problems: Iterable[Problem]) -> list[Problem]:
    """The problems, each with the key of the entry it was found in."""
    return [
        replace(p, key=entry.key if p.key in (None, entry.key) else f"{entry.key}: {p.key}")
        for p in problems
    ]


def items(node: Node, key: str) -> tuple[Node, ...]:
    """The items of a list, or the one that stands there alone."""
    return listing(node, key) if isinstance(node, Listing) else (node,)


def key_of(node: Node, sections: Sections, section: str) -> str:
    """The key of an entry of a section. Raises Faulty."""
    key, known = word(node), sections[section]
    if key not in known:
        raise unresolved(
            node,
            f'"{key}" is not in {section}',
            section,
            expected=_expected(known, f"a key of {section}"),
            nearest=nearest(key, known),
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


def fraction(node: Node, name: str) -> float:
    """A number above 0, at most 1. Raises Faulty."""
    value = number(node, name)
    if not 0 < value <= 1:
        raise fault(node, f"{value:g} cannot be", key=name, expected="above 0, at most 1")
    return value


def _expected(known: Collection[str], else_said: str) -> str:
    return one_of(known) if len(known) <= SHORT_LIST else else_said


def _each(how: Callable[[Node], str]) -> Callable[[Node], tuple[str, ...]]:
    """The same for every item of a list; all faults of the list together."""

    def read(node: Node) -> tuple[str, ...]:
        faults, found = Faults(), []
        for item in items(node, ""):
            with faults.catch():
                found.append(how(item))
        faults.stop()
        return tuple(found)

    return read
