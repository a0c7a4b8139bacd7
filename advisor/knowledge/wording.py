"""Other words for an entry, in a folder laid over: labels, questions, reasons. They decide nothing.

What decides (conditions, shares, rates, keys, numbers) stays as the entry says it.
"""

from __future__ import annotations

from collections.abc import Mapping as Table
from typing import Final

from advisor.terms import Faults, Mapping, Node, fault, mapping, nearest, one_of

EACH: Final = "…"
"""Any key that the entry has there."""

Words = Table[str, "Words | None"]
"""Names whose text may be replaced (None), and parts that hold such names."""


def _names(names: str, **parts: Words) -> Words:
    """Every entry may also say anew why."""
    return {**dict.fromkeys(names.split()), "because": None, **parts}


_EACH_TEXT: Words = {EACH: None}

WORDS: Final[Table[str, Words]] = {
    "attributes": _names(
        "label question check formula valid", choices=_EACH_TEXT, means=_EACH_TEXT
    ),
    "structures": _names("label"),
    "groups": _names("label"),
    "waters": _names("label"),
    "causes": {
        **_names("label also-called evidence confirmed-by"),
        "confused-with": _EACH_TEXT,
    },
    "needs": _names("label again"),
    "deductions": _names(""),
    "ranges": _names(""),
    "families": _names("label again", readings={EACH: {"times": {EACH: {"because": None}}}}),
    "contributors": _names("label"),
    "looks": _names("label do needs who"),
    "stops": _names("label ask do released-by"),
    "limits": _names("label"),
    "methods": {
        **_names("label standards conflicts curing fails accept wet-again shuts-off"),
        "steps": {EACH: {"do": None}},
    },
    "moments": _names("label"),
    "quantities": _names("label formula"),
    "materials": _names("label"),
    "cautions": _names("label do"),
    "proofs": _names("label"),
    "closing": _names("label"),
    "keeping": _names(""),
    "sums": _names("label"),
    "weights": _names(""),
    "sources": {"title": None},
    "phrases": {"says": None},
}
"""By section: what an entry of `wording/SECTION/` may say."""

_ONLY_ITSELF = ("again",)
"""Words that decide something by being there: they may be changed, not added."""


def reworded(section: str, key: str, shipped: Mapping, own: Node) -> Mapping:
    """The entry with its words replaced. Raises Faulty with everything that is no word of it."""
    words = WORDS[section]
    if (section, key) == ("weights", "stories"):
        words = {name.text: None for name, _ in shipped.entries if name.text != "source"}
    faults = Faults()
    merged = _merged(shipped, mapping(own, key), words, faults, key)
    faults.stop()
    return merged


def _merged(shipped: Mapping, own: Mapping, words: Words, faults: Faults, under: str) -> Mapping:
    """Names in the order of the entry, then those that it did not have."""
    allowed = _allowed(shipped, words)
    found = dict(zip(shipped.keys(), shipped.entries, strict=True))
    for name, node in own.entries:
        at = f"{under}: {name.text}"
        with faults.catch():
            if name.text not in allowed:
                raise fault(
                    name,
                    "this is no word of the entry",
                    key=at,
                    expected=one_of(allowed),
                    nearest=nearest(name.text, allowed),
                )
            inner, old = allowed[name.text], found.get(name.text)
            if inner is None:
                found[name.text] = (name, node)
            elif old is not None:
                part = mapping(old[1], at)
                found[name.text] = (old[0], _merged(part, mapping(node, at), inner, faults, at))
    return Mapping(tuple(found.values()), shipped.place)


def _allowed(shipped: Mapping, words: Words) -> dict[str, Words | None]:
    """What may be said anew here. A part must be there, and be none that is written in one word."""
    allowed: dict[str, Words | None] = {}
    for name, inner in words.items():
        if name == EACH:
            allowed |= {
                key.text: inner
                for key, node in shipped.entries
                if isinstance(node, Mapping) == (inner is not None)
            }
        elif name in _ONLY_ITSELF or inner is not None:
            if shipped.get(name) is not None:
                allowed[name] = inner
        else:
            allowed[name] = None
    return allowed
