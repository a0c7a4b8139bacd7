"""Past wet places that are like this one, on the screen: a few lines each."""

from collections.abc import Iterable, Sequence

from advisor.assessment.similar_result import BothFound, SimilarPlace, SimilarRepair
from advisor.knowledge import Knowledge, choice_words, either, read_aloud
from advisor.report.labels import attribute_label, cause_label
from advisor.report.lines import Line, Page, heading, percent

SHORT = 8
"""Digits of a case's name that are shown; they are enough to show it."""
IN = "        "
"""How far in stands what is told of a place."""
NOT, OR = "not ", " or "


def similar_lines(page: Page, knowledge: Knowledge, places: Sequence[SimilarPlace]) -> list[Line]:
    """How alike and in what, what it was, what was done, and whether it held."""
    say = knowledge.say
    lines = heading(say("similar-places"))
    if not places:
        return lines + page.wrap(say("similar-none"), first="  ")
    if any(place.invented for place in places):
        lines += page.wrap(say("library-invented"), first="  ", style="alarm")
    lines += page.wrap(say("similar-means"), first="  ", style="faint")
    for place in places:
        lines += _place(page, knowledge, place)
    return lines


def _place(page: Page, knowledge: Knowledge, place: SimilarPlace) -> list[Line]:
    say = knowledge.say
    what = cause_label(knowledge, place.cause) if place.cause else say("similar-no-cause")
    head = f"{percent(knowledge, place.alike):>6}  "
    compared = say("similar-compared", what=what, count=place.compared)
    lines = page.wrap(compared, first=head, rest=IN, style="strong")
    about = say(
        "similar-case",
        case=place.case[:SHORT],
        place=place.place,
        kind=kind_label(knowledge, place.kind),
        quarter=place.quarter or say("similar-no-day"),
        status=say(f"stands-{place.status}"),
    )
    lines += page.wrap(about, first=IN)
    same = [_same(knowledge, one) for one in _besides_kind(knowledge, place.in_)]
    lines += _one_line(page, say("similar-in"), same)
    other = [_other(knowledge, one) for one in _besides_kind(knowledge, place.differs)]
    lines += _one_line(page, say("similar-differs"), other)
    done = [_repair(knowledge, repair) for repair in place.repairs]
    return lines + page.items(done or [say("similar-no-repair")], IN)


def _besides_kind(knowledge: Knowledge, found: Iterable[BothFound]) -> list[BothFound]:
    """The kind of the structure is told already."""
    return [one for one in found if one.attribute != knowledge.model.base_by]


def _one_line(page: Page, name: str, texts: Sequence[str]) -> list[Line]:
    """Those that one line holds, else the first of them; `--json` has them all."""
    told = ""
    for text in texts:
        longer = f"{told}; {text}" if told else text
        if len(f"{IN}{name}: {longer}") <= page.width:
            told = longer
    return page.named(name, told or "".join(texts[:1]), IN)


def _same(knowledge: Knowledge, one: BothFound) -> str:
    there = _said(knowledge, one.attribute, one.there)
    return f"{attribute_label(knowledge, one.attribute)}: {there}"


def _other(knowledge: Knowledge, one: BothFound) -> str:
    here = _said(knowledge, one.attribute, one.here)
    return knowledge.say("similar-here", found=_same(knowledge, one), here=here)


def _said(knowledge: Knowledge, variable: str, written: str) -> str:
    """A kept value, `a or b`, `not a` or `0.2 to 0.3 mm`, as people read it."""
    attribute = knowledge.attributes.get(variable.partition(".")[0])
    if attribute is None or attribute.kind == "number":
        return read_aloud(knowledge, written)
    struck = written.removeprefix(NOT)
    words = either(knowledge, (choice_words(knowledge, variable, w) for w in struck.split(OR)))
    return words if struck == written else knowledge.say("not-choices", choices=words)


def _repair(knowledge: Knowledge, repair: SimilarRepair) -> str:
    known = knowledge.methods.get(repair.method)
    label = known.label if known else repair.method
    match repair.held:
        case "held":
            return knowledge.say("similar-held", method=label, days=repair.days)
        case "failed":
            return knowledge.say("similar-failed", method=label, days=repair.days)
    return knowledge.say("similar-not-tested", method=label)


def kind_label(knowledge: Knowledge, key: str) -> str:
    """The label of a kind of structure, or its key where there is none."""
    return knowledge.kinds.get(key, key)
