"""Numbers that could point to one building, as the bands that the library keeps."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from math import inf, nextafter

from advisor.callout import Resolved
from advisor.knowledge import Knowledge
from advisor.terms import Attribute, Range


def banded(
    knowledge: Knowledge, facts: Mapping[str, Resolved]
) -> tuple[dict[str, Resolved], Counter[str]]:
    """The facts as they are kept, and what was changed: `band` and `left-out`, how often."""
    found: dict[str, Resolved] = {}
    changed: Counter[str] = Counter()
    for key, fact in facts.items():
        name = key.partition(".")[0]
        rule, attribute = knowledge.keeping.get(name), knowledge.attributes[name]
        if rule is not None and rule.leave_out:
            changed["left-out"] += key == name
        elif rule is not None and rule.bands and isinstance(fact.value, Range):
            found[key] = replace(fact, value=band_of(fact.value, rule.bands, attribute))
            changed["band"] += key == name
        else:
            found[key] = fact
    return found, changed


def band_of(value: Range, edges: tuple[float, ...], attribute: Attribute) -> Range:
    """The bands that a range touches, as one range; open at both ends of the edges."""
    low = max((edge for edge in edges if edge <= value.lo), default=attribute.lowest)
    high = min(
        (edge for edge in edges if edge >= value.hi), default=nextafter(attribute.highest, inf)
    )
    return Range(low, high)
