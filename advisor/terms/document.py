"""The one checked YAML loader, for every file of the project.

It works on parser events. Nothing is built from tags, no alias is ever expanded,
and no scalar is typed: `no`, `1:30` and `0123` stay what was written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from advisor.terms.node import Listing, Mapping, Node, Place, Scalar, fault, problem_at
from advisor.terms.parser_words import COLON, colon_words, plain_words
from advisor.terms.problem import Faults, Faulty, Problem
from advisor.terms.source_file import LARGEST, read_bytes, too_large, unreadable

DEEPEST = 20
"""Levels of lists and mappings in each other."""
REMEMBERED = 512
"""Documents: all files of the shipped knowledge, and a few more."""

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

# Not allowed in YAML, or taken for a line break by the parser but by no editor.
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")
_TAB = re.compile(r"^[ ]*\t[ \t]*(?=[^\s])", re.MULTILINE)
_QUOTE = "put it in quotes"


def read(path: Path, *, file: str | None = None) -> Node:
    """The document in a file. `file` is its name in messages.

    Raises Faulty when the file cannot be read, is over 1 MiB, or `parse` refuses it.
    """
    name = str(path) if file is None else file
    return parse(read_bytes(path, file=name), name)


@lru_cache(maxsize=REMEMBERED)
def parse(data: bytes | str, file: str) -> Node:
    """The one document in `data`, in UTF-8. `file` is the name shown in messages.

    The last documents are remembered: a folder of knowledge is read more than once in a run.

    Raises Faulty for text that is no YAML, is empty or holds several documents, and for
    duplicate keys, anchors, aliases, merge keys, tags, tabs as indentation, keys that are
    no text, lists and mappings more than 20 deep, and sizes over 1 MiB.
    """
    if len(data) > LARGEST:
        raise too_large(file)
    text = _decoded(data, file) if isinstance(data, bytes) else data
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    _check_characters(text, file)
    faults = Faults()
    try:
        return _Builder(text, file, faults).document()
    except yaml.YAMLError as error:
        faults.add(_translated(error, text, file))
        raise Faulty(faults.problems) from None


def _decoded(data: bytes, file: str) -> str:
    # With its mark, or without: plain letters come out as every other byte zero.
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or data[:2].count(0) == 1:
        raise unreadable(file, "the text is saved as UTF-16", "a file saved as UTF-8")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8").removeprefix("\ufeff")
        raise fault(
            _place(file, before, len(before)),
            "a letter here is not in UTF-8",
            expected="a file saved as UTF-8",
        ) from None


def _check_characters(text: str, file: str) -> None:
    if odd := _CONTROL.search(text):
        raise fault(
            _place(file, text, odd.start()),
            f"an invisible or broken character (U+{ord(odd[0]):04X})",
            expected="plain text; delete it and save again",
        )
    faults = Faults()
    for tab in _TAB.finditer(text):
        faults.add(
            problem_at(
                _place(file, text, tab.start()), "a tab at the start of the line", expected="spaces"
            )
        )
    faults.stop()


class _Builder:
    """Builds nodes from parser events; gathers what is refused."""

    def __init__(self, text: str, file: str, faults: Faults) -> None:
        self.file = file
        self.faults = faults
        self.lines = text.split("\n")
        self.refused: set[type] = set()
        self.events: Iterator[Any] = iter(_Loader(text).get_event, None)

    def document(self) -> Node:
        next(self.events)  # start of the stream
        if isinstance(next(self.events), yaml.StreamEndEvent):
            raise _empty(self.file)
        node = self.node(next(self.events), 1)
        next(self.events)  # end of the document
        if not isinstance(after := next(self.events), yaml.StreamEndEvent):
            self.refuse(after, 'a second document starts here ("---")', "one document a file")
        if isinstance(node, Scalar) and not node.text and not node.quoted and not self.faults:
            raise _empty(self.file)
        self.faults.stop()
        return node

    def node(self, event: Any, depth: int) -> Node:
        place = self.place(event)
        if isinstance(event, yaml.AliasEvent):
            self.refuse_once(event, f"an alias (*{event.anchor}): {_QUOTE}", "the text itself")
            return Scalar("", False, False, place)
        if event.anchor is not None:
            self.refuse_once(event, f"an anchor (&{event.anchor}): {_QUOTE}", "no anchors")
        if event.tag is not None:
            self.refuse(event, f"a tag ({event.tag}): {_QUOTE}", "no tags")
        if isinstance(event, yaml.ScalarEvent):
            quoted = bool(event.style)
            return Scalar(event.value, quoted, not quoted and self.cut(event), place)
        if depth > DEEPEST:
            self.refuse(event, "too many levels in each other", f"at most {DEEPEST}")
            self.faults.stop()
        if isinstance(event, yaml.SequenceStartEvent):
            return self.listing(event, depth)
        return self.mapping(event, depth)

    def listing(self, start: Any, depth: int) -> Listing:
        items: list[Node] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            item = self.node(event, depth + 1)
            if items and start.flow_style and _one_width(items[-1], item):
                self.refuse_comma(event, items[-1], item)
            items.append(item)
        return Listing(tuple(items), self.place(start))

    def mapping(self, start: Any, depth: int) -> Mapping:
        entries: list[tuple[Scalar, Node]] = []
        lines: dict[str, int] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self.node(event, depth + 1)
            value = self.node(next(self.events), depth + 1)
            if not isinstance(key, Scalar):
                self.refuse(event, "a list or mapping stands where a key belongs", "a word")
                continue
            if self.odd_key(event, key, value, entries[-1][1] if entries else None):
                continue
            if key.text in lines:
                self.refuse(
                    event,
                    f"this key stands here twice, first on line {lines[key.text]}",
                    "each key once",
                    key=key.text,
                )
                continue
            lines[key.text] = key.place.line
            entries.append((key, value))
        return Mapping(tuple(entries), self.place(start))

    def odd_key(self, event: Any, key: Scalar, value: Node, before: Node | None) -> bool:
        """Refuse a key that is the work of punctuation; true when it was one."""
        if key.quoted:
            return False
        if key.text == "<<":
            self.refuse(event, "a merge key (<<)", "the keys themselves")
        elif key.text == "" and not isinstance(event, yaml.AliasEvent):
            self.refuse(event, "a colon without a key before it", "a word before the colon")
        elif isinstance(value, Scalar) and not value.text and not value.quoted:
            if before is not None and _looks_cut(before, key):
                self.refuse_comma(event, before, key)
            elif re.match(r"[a-z-]+:\S", key.text):
                self.refuse(event, "no space after the colon", 'a space, as in "key: value"')
            else:
                return False
        else:
            return False
        return True

    def refuse_comma(self, event: Any, before: Node, after: Node) -> None:
        if isinstance(before, Scalar) and isinstance(after, Scalar):
            whole = f'"{before.text[-20:]},{after.text[:20]}"'
            self.refuse(event, f"a decimal comma inside brackets or braces: {_QUOTE}", whole)

    def cut(self, event: Any) -> bool:
        end = event.end_mark
        line = self.lines[end.line] if end.line < len(self.lines) else ""
        if "#" not in line:  # nearly always, and asked of every text
            return False
        rest = line[end.column :]
        return rest[:1] in " \t" and rest.lstrip().startswith("#")

    def place(self, event: Any) -> Place:
        mark = event.start_mark
        return Place(self.file, mark.line + 1, mark.column + 1)

    def refuse(self, event: Any, message: str, expected: str, *, key: str | None = None) -> None:
        self.faults.add(problem_at(self.place(event), message, key=key, expected=expected))

    def refuse_once(self, event: Any, message: str, expected: str) -> None:
        """A hostile file has a hundred of the kind; one message of each kind says it."""
        kind = type(event)
        if kind not in self.refused:
            self.refused.add(kind)
            self.refuse(event, message, expected)


def _looks_cut(before: Node, after: Node) -> bool:
    """A number that a comma may have cut in two: `0` before, `3 mm` after."""
    return (
        isinstance(before, Scalar)
        and isinstance(after, Scalar)
        and not (before.quoted or after.quoted)
        and before.text[-1:] in set("0123456789")
        and after.text[:1] in set("0123456789")
    )


def _one_width(before: Node, after: Node) -> bool:
    """`[0,3 mm]` is one width with a decimal comma; `[1,2]` and `[1, 2 mm]` are two."""
    if not (_looks_cut(before, after) and isinstance(before, Scalar) and isinstance(after, Scalar)):
        return False
    end = before.place.column + len(before.text)
    touching = after.place[1:] == (before.place.line, end + 1)
    return touching and re.search("[^0-9.,]", after.text) is not None


def _place(file: str, text: str, index: int) -> Place:
    line_start = text.rfind("\n", 0, index) + 1
    return Place(file, text.count("\n", 0, index) + 1, index - line_start + 1)


def _translated(error: yaml.YAMLError, text: str, file: str) -> Problem:
    mark = getattr(error, "problem_mark", None)
    start = getattr(error, "context_mark", None) or mark
    problem = getattr(error, "problem", None) or ""
    context = getattr(error, "context", None) or ""
    lines = text.split("\n")
    line = lines[mark.line] if mark and mark.line < len(lines) else ""
    before, after = (line[: mark.column], line[mark.column :]) if mark else ("", "")
    words = plain_words(problem, context, before, after)
    at = start if words.at_start else mark
    row, column = (at.line, at.column) if at else (None, None)
    if words is COLON and row is not None and column is not None:
        words, row, column = colon_words(lines, row, column)
    return Problem(
        message=words.message,
        file=file,
        line=None if row is None else row + 1,
        column=None if column is None else column + 1,
        expected=words.expected,
    )


def _empty(file: str) -> Faulty:
    return unreadable(file, "the file is empty", '"key: value" lines')
