"""One more entry in the log of a callout file: the rest of the file stays as it was written."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

import yaml

from advisor.terms import Faulty, Listing, Node, Problem, Scalar, fault, mapping, parse
from advisor.terms import Mapping as Keys
from advisor.terms.source_file import LARGEST, too_large

LOG: Final = "log"
_WIDTH: Final = 96
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")
_UNREADABLE = re.compile("[\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")
"""What the loader refuses to read as it is; it can stand there as an escape."""


def with_entry(text: str, file: str, entry: Mapping[str, Any]) -> str:
    """The text of a callout file with one more entry at the end of its log.

    entry: plain data under the keys of the file form. file: the name in messages. What stood
    there stays, byte for byte. Raises Faulty where the log is not written line by line.
    """
    root = mapping(parse(text, file))
    keys = [key for key, _ in root.entries]
    if keys and (keys[0].place != root.place or root.place.column != 1):
        told = "the keys of this file do not stand at the start of their lines"
        raise fault(root, told, expected='"key: value" lines without braces round the file')
    end = "\r\n" if "\r\n" in text else "\n"
    lines = _LINE.findall(text)
    if not lines[-1]:
        lines.pop()
    at, indent, head = len(lines), 2, [f"{LOG}:"]
    log = root.get(LOG)
    if log is not None:
        number = next(n for n, key in enumerate(keys) if key.text == LOG)
        below = keys[number + 1].place.line - 1 if number + 1 < len(keys) else len(lines)
        indent = _indent(log, lines)
        at, head = below, []
    keep_comments = log is None or at == len(lines)
    while at and _says_nothing(lines[at - 1], keep_comments=keep_comments):
        at -= 1
    added = [f"{line}{end}" for line in (*head, *_item(entry, indent))]
    if lines[at:] and lines[at].strip():
        added.append(end)
    before = "".join(lines[:at])
    if not before.endswith(("\n", "\r")):
        added.insert(0, end)
    return "".join([before, *added, *lines[at:]])


def _indent(log: Node, lines: list[str]) -> int:
    """Where the dashes of the log stand. An empty log has none yet."""
    if not isinstance(log, Listing):
        return 2
    line, column = log.place.line - 1, log.place.column - 1
    # A byte order mark counts as no column.
    if lines[line].removeprefix("\ufeff")[column : column + 1] == "[":
        told = "the log stands in brackets" if log.items else "an empty log in brackets"
        raise fault(log, told, key=LOG, expected='each entry on a line with "- "')
    return column


def _says_nothing(line: str, *, keep_comments: bool) -> bool:
    """Whether the entry may go above this line: blank ones, the mark at the end of a document,
    and comments of what comes next. Deeper ones may be a part of what is said."""
    bare = line.strip()
    return not bare or bare == "..." or (not keep_comments and line.startswith("#"))


def _item(entry: Mapping[str, Any], indent: int) -> list[str]:
    """The entry as lines of YAML. Its lists and mappings stand in brackets and braces."""
    written = _dumped(entry, in_letters=True)
    if _UNREADABLE.search(written):
        written = _dumped(entry, in_letters=False)
    lines = written.rstrip("\n").split("\n")
    first, *rest = (line.rstrip() for line in lines)
    return [f"{' ' * indent}- {first}", *(f"{' ' * (indent + 2)}{line}".rstrip() for line in rest)]


def _dumped(entry: Mapping[str, Any], *, in_letters: bool) -> str:
    """in_letters: every alphabet as it is, not as escapes."""
    return "".join(
        yaml.safe_dump(
            {key: value},
            default_flow_style=None if isinstance(value, Mapping | list) else False,
            allow_unicode=in_letters,
            sort_keys=False,
            width=_WIDTH,
        )
        for key, value in entry.items()
    )


def checked(text: str, file: str, before: str) -> str:
    """The text, once read back: all that `before` says and just one entry more, or Faulty."""
    if len(text.encode("utf-8")) > LARGEST:
        raise too_large(file)
    then = mapping(parse(before, file))
    try:
        now = mapping(parse(text, file))
    except Faulty:
        now = Keys((), then.place)
    log, old = now.get(LOG), then.get(LOG)
    kept = old.items if isinstance(old, Listing) else ()
    if (
        not isinstance(log, Listing)
        or [_said(item) for item in log.items[:-1]] != [_said(item) for item in kept]
        or _without_log(now) != _without_log(then)
    ):
        told = "the entry cannot be added to this file as it is written"
        raise Faulty(Problem(message=told, file=file, key=LOG, expected='"log:" as the last key'))
    return text


def _without_log(root: Keys) -> list[object]:
    return [(key.text, _said(value)) for key, value in root.entries if key.text != LOG]


def _said(node: Node) -> object:
    """What a node says, wherever it stands."""
    if isinstance(node, Scalar):
        return node.text.strip()
    if isinstance(node, Listing):
        return [_said(item) for item in node.items]
    return [(key.text, _said(value)) for key, value in node.entries]
