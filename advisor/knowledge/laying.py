"""A folder laid over the shipped one: what it adds, replaces and words anew, and each difference.

New keys add, same keys replace. In its `wording/` the same sections stand once more, with
other words for entries that stay.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from hashlib import sha256
from itertools import groupby
from pathlib import Path

from advisor.knowledge.folder import WORDING, Entry, Reader, Sections
from advisor.knowledge.wording import reworded
from advisor.terms import Listing, Mapping, Node, Problem, Scalar, nearest, problem_at

NAMED_EACH = 5
"""Of a file that words more entries anew, only their number is told."""

FIGURE = 12
"""Characters of a figure or a word; what is longer is a text, and only named."""


@dataclass(frozen=True, slots=True)
class Folder:
    """All entries, a fingerprint of what was read, and what an overlay adds or replaces.

    changed: how many entries it adds, replaces or words anew. faults: of the files themselves;
    torn: the sections that miss entries for that reason.
    """

    sections: Sections
    fingerprint: str
    differences: tuple[Problem, ...]
    changed: int
    faults: tuple[Problem, ...]
    torn: frozenset[str]


def read_folders(base: Path, over: Path | None = None) -> Folder:
    """The entries of both folders. Raises Faulty where one of them is no folder."""
    reader = Reader()
    sections = reader.read(base, "")
    changed: list[_Difference] = []
    if over is not None:
        changed += _lay(sections, reader.read(over, f"{over}/", with_wording=True))
        if (over / WORDING).is_dir():
            words = reader.read(over / WORDING, f"{over}/{WORDING}/")
            changed += _reword(sections, words, reader)
    return Folder(
        sections=sections,
        fingerprint=_fingerprint(sections),
        differences=tuple(_told(changed)),
        changed=len(changed),
        faults=tuple(reader.faults.problems),
        torn=frozenset(reader.torn),
    )


_Difference = tuple[Entry, str]
"""An own entry, and what it does."""

_ANEW = "has other words"


def _lay(sections: Sections, own: Sections) -> Iterator[_Difference]:
    """Add or replace entries, and say which."""
    for section, entries in own.items():
        for key, entry in entries.items():
            shipped_one = sections[section].get(key)
            sections[section][key] = entry
            if shipped_one is None:
                yield entry, "is added"
            elif other := list(_other(shipped_one.node, entry.node, "")):
                replaces = f"replaces the shipped entry: {'; '.join(other)}"
                yield entry, _ANEW if section == "phrases" else replaces


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
        short = len(texts) == 2 and all(len(text) <= FIGURE for text in texts)
        yield f"{name} {texts[0]} -> {texts[1]}" if short else f"other {name}"


def _reword(sections: Sections, own: Sections, reader: Reader) -> list[_Difference]:
    """Replace the words of entries, and say of which."""
    found: list[_Difference] = []
    for section, entries in own.items():
        known = sections[section]
        for key, entry in entries.items():
            if key in known:
                with reader.faults.catch():
                    node = reworded(section, key, known[key].node, entry.node)
                    if _written(node) != _written(known[key].node):
                        known[key] = replace(known[key], node=node)
                        found.append((entry, _ANEW))
            elif section not in reader.torn:
                told, expected = f'"{key}" is not in {section}', f"a key of {section}"
                near = nearest(key, known)
                problem = problem_at(entry.place, told, key=key, expected=expected, nearest=near)
                reader.faults.add(problem)
    return found


def _told(changed: Iterable[_Difference]) -> Iterator[Problem]:
    """Each difference; of a file with many that only have other words, their number."""
    for file, group in groupby(changed, key=lambda each: each[0].place.file):
        entries = list(group)
        anew = [entry for entry, what in entries if what == _ANEW]
        if len(anew) > NAMED_EACH:
            told = f"{len(anew)} entries of {anew[0].section} have other words"
            yield Problem(message=told, file=file)
        for entry, what in entries:
            if what != _ANEW or len(anew) <= NAMED_EACH:
                yield problem_at(entry.place, what, key=f"{entry.section} {entry.key}")


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
