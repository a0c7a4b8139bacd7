"""The log of a callout file: one entry for each thing that was done, confirmed or seen later."""

from __future__ import annotations

from collections.abc import Callable, Collection
from collections.abc import Mapping as Table
from dataclasses import dataclass
from typing import Any, Final

from advisor.callout.entries import check_keys, flag, items, name, one_word, optional
from advisor.callout.log_record import (
    HELD,
    HOWS,
    NEVER,
    STATES,
    WATER_UP,
    WITHOUT,
    Agreed,
    Closed,
    Confirmed,
    Done,
    HandedOver,
    LogEntry,
    Looked,
    Proposed,
    Secured,
    Supported,
    Told,
)
from advisor.callout.log_values import Read, amounts, measure, packers, shares, words
from advisor.terms import (
    Faults,
    Mapping,
    Node,
    day,
    fault,
    listing,
    mapping,
    nearest,
    one_of,
    problem_at,
    text,
    word,
)

SHARED: Final = ("leak", "date", "words")
"""Keys of every entry."""


def _nothing_for(word_: str) -> Read:
    """The one word that may stand here."""

    def read(node: Node, key: str) -> bool:
        return bool(one_word((word_,))(node, key))

    return read


HEIGHT = measure("m", -500, 500)


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of entry: what it makes, the field that its own key fills, and its other keys.

    musts: keys that must stand there, and what may stand after each.
    """

    makes: type[LogEntry]
    fills: str
    reads: Read
    others: Table[str, tuple[str, Read]]
    musts: Table[str, str]


KINDS: Final[Table[str, Kind]] = {
    "secured": Kind(Secured, "method", word, {}, {}),
    "agreed": Kind(Agreed, "method", word, {"by": ("by", words)}, {}),
    "done": Kind(
        Done,
        "method",
        word,
        {
            "quantities": ("quantities", amounts),
            "conditions": ("conditions", text),
            "deviations": ("deviations", text),
            "water-height": ("water_height", HEIGHT),
            "packers": ("packers", packers),
        },
        {},
    ),
    "confirmed": Kind(
        Confirmed,
        "cause",
        word,
        {
            "how": ("how", one_word(HOWS)),
            "role": ("role", word),
            "contributors": ("contributors", words),
            "present": ("present", words),
            "accepted-by": ("accepted_by", word),
        },
        {"how": one_of(HOWS), "role": "who confirmed it, as a role"},
    ),
    "supported": Kind(Supported, "cause", word, {}, {}),
    "looked": Kind(
        Looked,
        "state",
        one_word(STATES),
        {
            "water-up": ("water_up", one_word(WATER_UP)),
            "water-height": ("water_height", HEIGHT),
            "within-agreed": ("within", flag),
            "proof": ("proof", word),
            "readings": ("readings", amounts),
        },
        {"water-up": one_of(WATER_UP)},
    ),
    "told": Kind(Told, "role", word, {}, {}),
    "closed": Kind(
        Closed,
        "because",
        one_word((HELD, *WITHOUT)),
        {"cause-confirmed": ("never_confirmed", _nothing_for(NEVER))},
        {},
    ),
    "handed-over": Kind(HandedOver, "role", word, {}, {}),
}
"""By the key that says which kind it is. `proposed` stands apart: the advisor writes it."""

CHOICES: Final[Table[str, tuple[str, ...]]] = {
    "how": HOWS,
    "looked": STATES,
    "water-up": WATER_UP,
    "within-agreed": ("yes", "no"),
    "closed": (HELD, *WITHOUT),
    "cause-confirmed": (NEVER,),
}
"""What may be answered where only some words may."""

PROPOSED: Final = "proposed"
ANSWER: Final = (
    *("advisor", "knowledge", "settled-on", "causes", "methods", "advised", "looks", "stops"),
)


def read_log(node: Node, leaks: Collection[str], faults: Faults) -> tuple[LogEntry, ...]:
    """The entries that can be read, in their order; faults go to `faults`.

    leaks: names of the wet places.
    """
    written: tuple[Node, ...] = ()
    with faults.catch():
        written = items(node, "log")
    found = []
    for item in written:
        own = Faults()
        with own.catch():
            found.append(_entry(mapping(item, "log"), leaks))
        faults.add(*own.problems)
    return tuple(found)


def _entry(keys: Mapping, leaks: Collection[str]) -> LogEntry:
    """Raises Faulty with everything that is wrong with it."""
    there = keys.keys()
    kinds = [key for key in there if key in (*KINDS, PROPOSED)]
    if len(kinds) != 1:
        told = "what was logged is missing" if not kinds else f"{' and '.join(kinds)} in one entry"
        near = next((n for k in there if (n := nearest(k, KINDS))), None)
        raise fault(keys, told, expected=one_of(KINDS), nearest=None if kinds else near)
    kind = KINDS.get(kinds[0])
    others = {} if kind is None else kind.others
    faults = Faults()
    with faults.catch():
        musts = {"leak": "a wet place", "date": "YYYY-MM-DD"} | dict(kind.musts if kind else {})
        check_keys(keys, (*SHARED, kinds[0], *others), musts)
    fields = {
        field: value
        for key, (field, read) in others.items()
        if (value := optional(keys, key, read, faults)) is not None
    }
    leak = optional(keys, "leak", name, faults)
    if leak is not None and leak not in leaks:
        told, near = f'there is no wet place "{leak}"', nearest(leak, leaks)
        faults.add(problem_at(keys, told, key="leak", expected=one_of(leaks), nearest=near))
    on = optional(keys, "date", day, faults)
    said = optional(keys, "words", text, faults) or ""
    if kind is None:
        fields |= optional(keys, PROPOSED, _proposed, faults) or {}
    else:
        fields[kind.fills] = optional(keys, kinds[0], kind.reads, faults)
    faults.stop()
    makes: Callable[..., LogEntry] = Proposed if kind is None else kind.makes
    return makes(leak=leak, day=on, words=said, place=keys.place, **fields)


def _proposed(node: Node, key: str) -> dict[str, Any]:
    keys = mapping(node, key)
    check_keys(keys, ANSWER, {"advisor": "its version", "knowledge": "its fingerprint"})
    faults = Faults()
    read = {
        "advisor": optional(keys, "advisor", text, faults) or "",
        "knowledge": optional(keys, "knowledge", text, faults) or "",
        "settled_on": optional(keys, "settled-on", one_word(("cause", "group")), faults),
        "causes": optional(keys, "causes", shares, faults) or {},
        "methods": optional(keys, "methods", shares, faults) or {},
        "advised": optional(keys, "advised", word, faults),
        "looks": optional(keys, "looks", _keys, faults) or (),
        "stops": optional(keys, "stops", _keys, faults) or (),
    }
    faults.stop()
    return read


def _keys(node: Node, key: str) -> tuple[str, ...]:
    return tuple(word(item, key) for item in listing(node, key))
