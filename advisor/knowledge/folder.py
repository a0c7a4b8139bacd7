"""The knowledge folder on disk: which files there are, and their entries by key.

A second folder may be laid over the shipped one: new keys add, same keys replace.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from advisor.terms import (
    Faults,
    Faulty,
    Mapping,
    Node,
    Place,
    Problem,
    fault,
    mapping,
    nearest,
    only_keys,
    problem_at,
    read,
)

SECTIONS = (
    "attributes",
    "structures",
    "groups",
    "waters",
    "causes",
    "needs",
    "deductions",
    "families",
    "contributors",
    "looks",
    "stops",
    "weights",
    "sources",
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry as written: what stands under its key, and where."""

    section: str
    key: str
    node: Mapping
    place: Place

    def get(self, name: str) -> Node | None:
        """What stands under a name, or None."""
        return self.node.get(name)

    def need(self, name: str) -> Node:
        """What stands under a name that must be there. Raises Faulty."""
        node = self.node.get(name)
        if node is None:
            raise fault(self.place, f'"{name}" is missing', key=self.key, expected=name)
        return node

    def only(self, allowed: tuple[str, ...], required: Iterable[str] = ()) -> None:
        """Refuse names that are not of this kind of entry. Raises Faulty."""
        only_keys(self.node, (*allowed, "because", "source"), (*required, "because", "source"))


Sections = dict[str, dict[str, Entry]]


@dataclass(frozen=True, slots=True)
class Folder:
    """All entries, a fingerprint of what was read, and what an overlay adds or replaces."""

    sections: Sections
    fingerprint: str
    differences: tuple[Problem, ...]


def shipped(name: str) -> Path:
    """Where `knowledge` or `cases` stand: inside the installed package, or in the checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "data" / name
    return inside if inside.is_dir() else package.parent / name


def read_folders(base: Path, over: Path | None = None) -> Folder:
    """Raises Faulty with the faults of all files of both folders."""
    faults = Faults()
    sections = _read_one(base, "", faults)
    differences = []
    if over is not None:
        for section, entries in _read_one(over, f"{over}/", faults).items():
            for key, entry in entries.items():
                what = "replaces the shipped entry" if key in sections[section] else "is added"
                differences.append(problem_at(entry.place, what, key=f"{section} {key}"))
                sections[section][key] = entry
    faults.stop()
    return Folder(sections, _fingerprint(sections), tuple(differences))


def _read_one(base: Path, shown: str, faults: Faults) -> Sections:
    sections: Sections = {name: {} for name in SECTIONS}
    for path in _yaml_files(base):
        name = path.relative_to(base).as_posix()
        section = name.split("/")[0].removesuffix(".yaml")
        with faults.catch():
            if section not in SECTIONS:
                raise Faulty(
                    Problem(
                        message="no such file or folder belongs to the knowledge",
                        file=shown + name,
                        expected=", ".join(SECTIONS),
                        nearest=nearest(section, SECTIONS),
                    )
                )
            document = mapping(read(path, file=shown + name))
            for key, node in document.entries:
                with faults.catch():
                    _add(sections[section], section, key.text, key.place, node)
    return sections


def _yaml_files(base: Path) -> list[Path]:
    if not base.is_dir():
        raise Faulty(Problem(message="there is no such folder", file=str(base)))
    try:
        return sorted([*base.glob("*.yaml"), *base.glob("*/*.yaml")])
    except OSError as error:
        raise Faulty(
            Problem(message=f"the folder cannot be read: {error.strerror}", file=str(base))
        ) from error


def _add(known: dict[str, Entry], section: str, key: str, place: Place, node: Node) -> None:
    if key in known:
        first = known[key].place
        raise fault(place, f"this key stands already in {first.file}, line {first.line}", key=key)
    known[key] = Entry(section, key, mapping(node, key), place)


def _fingerprint(sections: Sections) -> str:
    """Twelve digits that change when any entry changes, wherever it stands."""
    digest = sha256()
    for section, entries in sections.items():
        for key in sorted(entries):
            digest.update(f"\n{section}\n{key}\n".encode())
            for text in _texts(entries[key].node):
                digest.update(f"{text}\0".encode())
    return digest.hexdigest()[:12]


def _texts(node: Node) -> Iterator[str]:
    if isinstance(node, Mapping):
        for key, value in node.entries:
            yield key.text
            yield from _texts(value)
    elif hasattr(node, "items"):
        for item in node.items:
            yield from _texts(item)
    else:
        yield node.text
