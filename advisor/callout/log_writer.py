"""One more entry in the log of a callout file: the rest of the file stays as it was written."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import yaml

from advisor.terms import Faulty, Listing, Node, Problem, fault, mapping, parse

LOG: Final = "log"
_WIDTH: Final = 96


def with_entry(text: str, file: str, entry: Mapping[str, Any]) -> str:
    """The text of a callout file with one more entry at the end of its log.

    entry: plain data under the keys of the file form. file: the name in messages. Comments, order
    and line ends stay. Raises Faulty where the log is not written line by line.
    """
    root = mapping(parse(text, file))
    keys = [key for key, _ in root.entries]
    if keys and keys[0].place.column != 1:
        raise fault(root, "braces stand round the whole file", expected='"key: value" lines')
    end = "\r\n" if "\r\n" in text else "\n"
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    at, indent, head = len(lines), 2, [f"{LOG}:"]
    log = root.get(LOG)
    if log is not None:
        number = next(n for n, key in enumerate(keys) if key.text == LOG)
        below = keys[number + 1].place.line - 1 if number + 1 < len(keys) else len(lines)
        indent = _indent(log, keys[number].place.line)
        at, head = below, []
    while at and _says_nothing(lines[at - 1], keep_comments=log is None or at == len(lines)):
        at -= 1
    added = [*head, *_item(entry, indent)]
    rest = lines[at:] or [""]
    if rest[0].strip():
        rest = ["", *rest]
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    return mark + end.join([*lines[:at], *added, *rest])


def _indent(log: Node, line: int) -> int:
    """Where the dashes of the log stand. An empty log has none yet."""
    if isinstance(log, Listing) and log.items:
        if log.place.line == line:
            raise fault(
                log,
                "the log stands in brackets",
                key=LOG,
                expected='each entry on a line with "- "',
            )
        return log.place.column - 1
    if log.place.line == line and isinstance(log, Listing):
        raise fault(log, "an empty log in brackets", key=LOG, expected="no log, or entries")
    return 2


def _says_nothing(line: str, *, keep_comments: bool) -> bool:
    """Whether the entry may go above this line: blank ones, and comments of what comes next."""
    bare = line.strip()
    return not bare or (not keep_comments and bare.startswith("#"))


def _item(entry: Mapping[str, Any], indent: int) -> list[str]:
    """The entry as lines of YAML. Its lists and mappings stand in brackets and braces."""
    written = yaml.safe_dump(
        dict(entry), default_flow_style=None, allow_unicode=True, sort_keys=False, width=_WIDTH
    )
    lines = written.rstrip("\n").split("\n")
    first, *rest = (line.rstrip() for line in lines)
    return [f"{' ' * indent}- {first}", *(f"{' ' * (indent + 2)}{line}" for line in rest)]


def checked(text: str, file: str, entries_before: int) -> str:
    """The text, once read back: just one entry more, or Faulty."""
    log = mapping(parse(text, file)).get(LOG)
    if not isinstance(log, Listing) or len(log.items) != entries_before + 1:
        told = "the entry cannot be added to this file as it is written"
        raise Faulty(Problem(message=told, file=file, key=LOG, expected='"log:" as the last key'))
    return text
