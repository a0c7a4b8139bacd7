"""The knowledge folder on disk: which files there are, and their entries by key.

How one folder is laid over another stands in `laying.py`.
"""

from dataclasses import dataclass
from pathlib import Path

from advisor.terms import (
    Faults,
    Faulty,
    Mapping,
    Node,
    Place,
    Problem,
    Scalar,
    fault,
    mapping,
    nearest,
    one_of,
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
    "ranges",
    "families",
    "contributors",
    "looks",
    "stops",
    "limits",
    "methods",
    "moments",
    "quantities",
    "materials",
    "cautions",
    "proofs",
    "closing",
    "keeping",
    "sums",
    "weights",
    "sources",
    "phrases",
)
WORDING = "wording"
"""A folder of the same sections, in a folder laid over: other words for entries that stay."""


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


class Reader:
    """Reads folders and gathers what is wrong with their files.

    torn: the sections that miss entries for that reason.
    """

    def __init__(self) -> None:
        self.faults = Faults()
        self.torn: set[str] = set()

    def read(self, base: Path, shown: str, *, with_wording: bool = False) -> Sections:
        """`shown` goes before a file's name in messages. with_wording: that folder may be there."""
        if not base.is_dir():
            told = "this is a file" if base.exists() else "there is no such folder"
            raise Faulty(Problem(message=told, file=str(base), expected="a folder of knowledge"))
        sections: Sections = {name: {} for name in SECTIONS}
        for path in _visible(base):
            section = path.name.removesuffix(".yaml")
            if section == WORDING and with_wording and path.is_dir():
                continue
            if section not in SECTIONS:
                near = nearest(path.stem, SECTIONS)
                allowed = (*SECTIONS, WORDING) if with_wording else SECTIONS
                self._refuse(shown + path.name, near or section, one_of(allowed), near)
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
