"""Keys and figures as people read them, in the words of the knowledge."""

import re
from collections.abc import Iterable
from functools import reduce

from advisor.knowledge.knowledge import Knowledge

_BOUND = re.compile(r"(under|over|at least|at most) (.+)")
_BETWEEN = re.compile(r"(-?[0-9.]+) to (.+)")
_PLAIN = {"yes": "yes", "no": "no", "unknown": "unknown", "not applicable": "not-applicable"}
"""Words of the file form, and the phrases for them."""


def either(knowledge: Knowledge, texts: Iterable[str]) -> str:
    """`a or b or c`; an empty text for none."""
    return _folded(knowledge, "one-or-other", texts)


def both(knowledge: Knowledge, texts: Iterable[str]) -> str:
    """`a and b and c`; an empty text for none."""
    return _folded(knowledge, "one-and-other", texts)


def _folded(knowledge: Knowledge, phrase: str, texts: Iterable[str]) -> str:
    first, *others = [*texts] or [""]
    return reduce(lambda one, other: knowledge.say(phrase, one=one, other=other), others, first)


def choice_words(knowledge: Knowledge, variable: str, choice: str) -> str:
    """How people read one choice of a variable, or one band of a number."""
    base, _, part = variable.partition(".")
    attribute = knowledge.attributes[base]
    if attribute.kind == "yes-no" or (part and attribute.kind == "several"):
        return read_aloud(knowledge, choice)
    label = next((c.label for c in attribute.choices if c.key == choice), None)
    return read_aloud(knowledge, choice) if label is None else label


def read_aloud(knowledge: Knowledge, written: str) -> str:
    """What a file says, `a or b` or `under 3 mm`, in the words of the knowledge.

    Keys and units stay: they are what is written in a file, in any language.
    """
    return either(knowledge, (_part(knowledge, part) for part in written.split(" or ")))


def _part(knowledge: Knowledge, written: str) -> str:
    if written in _PLAIN:
        return knowledge.say(_PLAIN[written])
    if bound := _BOUND.fullmatch(written):
        return knowledge.say(f"number-{bound[1].replace(' ', '-')}", number=bound[2])
    if ends := _BETWEEN.fullmatch(written):
        return knowledge.say("number-between", low=ends[1], high=ends[2])
    return written
