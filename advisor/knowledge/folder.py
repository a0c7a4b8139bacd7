"""The knowledge folder on disk: which files there are, and their entries by key.

A second folder may be laid over the shipped one: new keys add, same keys replace.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from advisor.terms import (
    Faults,
    Faulty,
    Listing,
    Mapping,
    Node,
    Place,
    Problem,
    Scalar,
    fault,
    mapping,
    nearest,
    one_of,
    problem_at,
    read,
    word,
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


Sections = dict[str, dict[str, Entry]]


@dataclass(frozen=True, slots=True)
class Folder:
    """All entries, a fingerprint of what was read, and what an overlay adds or replaces.

    faults: of the files themselves; torn: the sections that miss entries for that reason.
    """

    sections: Sections
    fingerprint: str
    differences: tuple[Problem, ...]
    faults: tuple[Problem, ...]
    torn: frozenset[str]


def read_folders(base: Path, over: Path | None = None) -> Folder:
    """The entries of both folders. Raises Faulty where one of them is no folder."""
    reader = _Reader()
    sections = reader.read(base, "")
    differences = []
    if over is not None:
        for section, entries in reader.read(over, f"{over}/").items():
            for key, entry in entries.items():
                what = _difference(sections[section].get(key), entry)
                if what:
                    differences.append(problem_at(entry.place, what, key=f"{section} {key}"))
                sections[section][key] = entry
    return Folder(
        sections=sections,
        fingerprint=_fingerprint(sections),
        differences=tuple(differences),
        faults=tuple(reader.faults.problems),
        torn=frozenset(reader.torn),
    )


def _difference(shipped_one: Entry | None, own: Entry) -> str | None:
    if shipped_one is None:
        return "is added"
    other = list(_other(shipped_one.node, own.node, ""))
    return f"replaces the shipped entry: {'; '.join(other)}" if other else None


def _other(shipped_one: Node, own: Node, name: str) -> Iterator[str]:
    """What another entry says otherwise: a figure before and after, of texts the name alone."""
    if isinstance(shipped_one, Mapping) and isinstance(own, Mapping):
        before, after = list(shipped_one.keys()), list(own.keys())
        for what, keys, others in (("taken away", before, after), ("added", after, before)):
            if only := [key for key in keys if key not in others]:
                yield f"{name} {what}: {', '.join(only)}".strip()
        for key, node in shipped_one.entries:
            if (there := own.get(key.text)) is not None:
                yield from _other(node, there, f"{name} {key.text}".strip())
    elif _written(shipped_one) != _written(own):
        texts = [node.text for node in (shipped_one, own) if isinstance(node, Scalar)]
        short = len(texts) == 2 and all(len(text) <= _FIGURE for text in texts)
        yield f"{name} {texts[0]} -> {texts[1]}" if short else f"other {name}"


_FIGURE = 12
"""Characters of a figure or a word; what is longer is a text, and only named."""


class _Reader:
    """Reads folders and gathers what is wrong with their files."""

    def __init__(self) -> None:
        self.faults = Faults()
        self.torn: set[str] = set()

    def read(self, base: Path, shown: str) -> Sections:
        """`shown` goes before a file's name in messages."""
        if not base.is_dir():
            told = "this is a file" if base.exists() else "there is no such folder"
            raise Faulty(Problem(message=told, file=str(base), expected="a folder of knowledge"))
        sections: Sections = {name: {} for name in SECTIONS}
        for path in _visible(base):
            section = path.name.removesuffix(".yaml")
            if section not in SECTIONS:
                near = nearest(path.stem, SECTIONS)
                self._refuse(shown + path.name, near or section, one_of(SECTIONS), near)
                continue
            for file in _visible(path) if path.is_dir() else (path,):
                name = shown + file.relative_to(base).as_posix()
                if file.is_dir() or file.suffix != ".yaml":
                    self._refuse(name, section, f"a file {section}/NAME.yaml")
                else:
                    self._read_file(file, name, sections[section], section)
        return sections

    def _refuse(self, file: str, section: str, expected: str, near: str | None = None) -> None:
        self.torn.add(section)
        told = "this does not belong to the knowledge"
        self.faults.add(Problem(message=told, file=file, expected=expected, nearest=near))

    def _read_file(self, path: Path, file: str, known: dict[str, Entry], section: str) -> None:
        try:
            written = mapping(read(path, file=file)).entries
        except Faulty as faulty:
            self.torn.add(section)
            self.faults.add(*faulty.problems)
            return
        for key, node in written:
            with self.faults.catch():
                _add(known, section, key, node)
            if key.text not in known:
                self.torn.add(section)


def _visible(folder: Path) -> list[Path]:
    """What stands in a folder, but what is hidden or only explains (`.md`)."""
    try:
        found = sorted(folder.iterdir())
    except OSError as error:
        told = f"the folder cannot be read ({error.strerror})"
        raise Faulty(Problem(message=told, file=str(folder))) from error
    return [p for p in found if not p.name.startswith(".") and p.suffix != ".md"]


def _add(known: dict[str, Entry], section: str, key: Scalar, node: Node) -> None:
    if word(key) != key.text:
        raise fault(key, f'"{key.text}" is no key', expected="hyphens for spaces")
    if key.text in known:
        first = known[key.text].place
        told = f"this key stands already in {first.file}, line {first.line}"
        raise fault(key, told, key=key.text, expected="each key once")
    known[key.text] = Entry(section, key.text, mapping(node, key.text), key.place)


def _fingerprint(sections: Sections) -> str:
    """Twelve digits that change when any entry changes, wherever it stands."""
    digest = sha256()
    for section, entries in sections.items():
        for key in sorted(entries):
            digest.update(f"{section}\0{key}\0{_written(entries[key].node)}".encode())
    return digest.hexdigest()[:12]


def _written(node: Node) -> str:
    """What was written, without its places: two nodes are the same when these are."""
    if isinstance(node, Scalar):
        return repr(node.text)
    if isinstance(node, Listing):
        return f"[{','.join(map(_written, node.items))}]"
    return f"{{{','.join(f'{key.text!r}:{_written(value)}' for key, value in node.entries)}}}"
