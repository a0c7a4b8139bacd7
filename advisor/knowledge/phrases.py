"""`phrases/`: the fixed sentences that results and pages are made of."""

from collections.abc import Iterable
from string import Formatter

from advisor.knowledge.asked import ASKED
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import unresolved
from advisor.knowledge.parts import Parts, read_all
from advisor.terms import Faults, Node, Place, fault, nearest, text

_ONE = "-one"
"""A phrase of just one may say the count in a word: `eine Ursache` for `{count} cause`."""


def read_phrases(sections: Sections, faults: Faults) -> dict[str, str]:
    """All phrases that the program says. Faults are gathered, faulty entries left out."""
    entries = sections["phrases"]
    nowhere = Place("phrases", 1, 1)
    if not entries:
        faults.add(unresolved(nowhere, "there is no phrase", "phrases"))
        return {}
    meant = {nearest(key, ASKED) for key in entries if key not in ASKED}
    for key in (key for key in ASKED if key not in entries and key not in meant):
        told, expected = f'the phrase "{key}" is missing', _with_names(ASKED[key])
        faults.add(unresolved(nowhere, told, "phrases", key=key, expected=expected))
    return read_all(entries, faults, lambda entry: _read_phrase(entry, sections))


def _read_phrase(entry: Entry, sections: Sections) -> str:
    if entry.key not in ASKED:
        raise fault(
            entry.place,
            "no phrase of this name is ever said",
            key=entry.key,
            expected="a key of the shipped phrases",
            nearest=nearest(entry.key, ASKED),
        )
    part = Parts(entry.node, entry.place, sections, ("says",), ("says",))
    says = part.read("says", lambda node: _says(node, entry.key), "")
    part.stop()
    return says


def _says(node: Node, key: str) -> str:
    """The text, when its braces hold just the names that are given. Raises Faulty."""
    given, says = ASKED[key], text(node, "says")
    try:
        fields = list(Formatter().parse(says))
    except ValueError:
        expected = f"{_with_names(given)}; a brace of the text itself doubled"
        raise fault(node, "a brace stands alone", key="says", expected=expected) from None
    named = []
    for _, name, form, turned in fields:
        if name is None:
            continue
        if name not in given or form or turned:
            shown = name + (f"!{turned}" if turned else "") + (f":{form}" if form else "")
            raise fault(
                node,
                f"{{{shown}}} is not given here",
                key="says",
                expected=_with_names(given),
                nearest=nearest(name, given),
            )
        named.append(name)
    left_out = [name for name in given if name not in named]
    if left_out and not key.endswith(_ONE):
        told = f"{_braced(left_out)} is left out"
        raise fault(node, told, key="says", expected=_with_names(given))
    return says


def _with_names(given: tuple[str, ...]) -> str:
    return f"a text with {_braced(given)}" if given else "a text without braces"


def _braced(names: Iterable[str]) -> str:
    return ", ".join(f"{{{name}}}" for name in names)
