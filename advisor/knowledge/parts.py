"""One entry, part by part. Every fault in it is gathered, so that none hides the next."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import replace
from typing import TypeVar

from advisor.knowledge.entries import Why
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import key_of, known_word
from advisor.terms import (
    Faults,
    Faulty,
    Listing,
    Node,
    Place,
    Problem,
    fault,
    listing,
    number,
    only_keys,
    problem_at,
    text,
    yes_no,
)
from advisor.terms import Mapping as Written

T = TypeVar("T")
S = TypeVar("S")

REASONS = ("because", "source")
"""What every entry says, whatever it is."""


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


def fraction(node: Node, name: str) -> float:
    """A number above 0, at most 1. Raises Faulty."""
    value = number(node, name)
    if not 0 < value <= 1:
        raise fault(node, f"{value:g} cannot be", key=name, expected="above 0, at most 1")
    return value


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
