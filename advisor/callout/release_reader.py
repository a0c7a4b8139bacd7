"""Releases of stops, as written in a callout file: who released it, when, in which words."""

from __future__ import annotations

from collections.abc import Collection

from advisor.callout.entries import check_keys, items, name, optional
from advisor.callout.record import Release
from advisor.terms import (
    Faults,
    Mapping,
    Node,
    day,
    mapping,
    nearest,
    one_of,
    problem_at,
    text,
    word,
)

RELEASE_KEYS = ("stop", "leak", "role", "name", "date", "words")
_MUSTS = {
    "stop": "the key of a stop",
    "role": "structural engineer",
    "name": "a name or register number; it stays in this file",
    "date": "YYYY-MM-DD",
    "words": "what was decided, in their words",
}


def read_releases(node: Node, leaks: Collection[str], faults: Faults) -> tuple[Release, ...]:
    """The releases that can be read; faults go to `faults`. leaks: names of the wet places."""
    written: tuple[Node, ...] = ()
    with faults.catch():
        written = items(node, "releases")
    found = []
    for item in written:
        own = Faults()
        with own.catch():
            release = _release(mapping(item, "releases"), leaks, own)
            if not own.problems and release is not None:
                found.append(release)
        faults.add(*own.problems)
    return tuple(found)


def _release(keys: Mapping, leaks: Collection[str], faults: Faults) -> Release | None:
    with faults.catch():
        check_keys(keys, RELEASE_KEYS, _MUSTS)
    stop, role, who, words, leak = (
        optional(keys, key, read, faults)
        for key, read in (
            ("stop", word),
            ("role", text),
            ("name", text),
            ("words", text),
            ("leak", name),
        )
    )
    on = optional(keys, "date", day, faults)
    for key, value in (("role", role), ("name", who), ("words", words)):
        if value is not None and not value.strip():
            faults.add(problem_at(keys, "nothing stands here", key=key, expected=_MUSTS[key]))
    if leak is not None and leak not in leaks:
        told, near = f'there is no wet place "{leak}"', nearest(leak, leaks)
        faults.add(problem_at(keys, told, key="leak", expected=one_of(leaks), nearest=near))
    if not (stop and role and who and words and on):
        return None
    return Release(stop=stop, leak=leak, role=role, name=who, day=on, words=words, place=keys.place)
