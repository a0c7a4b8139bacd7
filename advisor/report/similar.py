"""Past wet places that are like this one, on the screen."""

from collections.abc import Sequence

from advisor.assessment.similar_result import SimilarPlace, SimilarRepair
from advisor.knowledge import Knowledge
from advisor.report.labels import cause_label
from advisor.report.lines import Line, Page, heading, joined, percent

SHORT = 8
"""Digits of a case's name that are shown; they are enough to show it."""


def similar_lines(page: Page, knowledge: Knowledge, places: Sequence[SimilarPlace]) -> list[Line]:
    """How alike and in what, what it was, what was done, and whether it held."""
    say = knowledge.say
    lines = heading(say("similar-places"))
    if not places:
        return lines + page.wrap(say("similar-none"), first="  ")
    if any(place.invented for place in places):
        lines += page.wrap(say("library-invented"), first="  ", style="alarm")
    for rank, place in enumerate(places):
        what = cause_label(knowledge, place.cause) if place.cause else say("similar-no-cause")
        lines += page.row(
            percent(knowledge, place.alike), place.alike, what, "plain" if rank else "strong"
        )
        about = say(
            "similar-case",
            case=place.case[:SHORT],
            place=place.place,
            kind=kind_label(knowledge, place.kind),
            quarter=place.quarter or say("similar-no-day"),
            status=say(f"stands-{place.status}"),
        )
        lines += page.wrap(about, first="      ")
        lines += page.named(say("similar-in"), _attributes(knowledge, place.in_), "      ")
        lines += page.named(say("similar-differs"), _attributes(knowledge, place.differs), "      ")
        lines += page.wrap(say("similar-compared", count=place.compared), first="      ")
        done = [_repair(knowledge, repair) for repair in place.repairs]
        lines += page.items(done or [say("similar-no-repair")], "      ")
    return lines


def _repair(knowledge: Knowledge, repair: SimilarRepair) -> str:
    known = knowledge.methods.get(repair.method)
    label = known.label if known else repair.method
    match repair.held:
        case "held":
            return knowledge.say("similar-held", method=label, days=repair.days)
        case "failed":
            return knowledge.say("similar-failed", method=label, days=repair.days)
    return knowledge.say("similar-not-tested", method=label)


def _attributes(knowledge: Knowledge, keys: Sequence[str]) -> str:
    """Each once by its label, for one of several choices with the choice."""
    found = []
    for key in keys:
        name, _, choice = key.partition(".")
        attribute = knowledge.attributes.get(name)
        if attribute is None:
            continue
        labels = {one.key: f": {one.label}" for one in attribute.choices}
        found.append(attribute.label + labels.get(choice, ""))
    return joined(knowledge, found)


def kind_label(knowledge: Knowledge, key: str) -> str:
    choices = knowledge.attributes["kind"].choices
    return next((choice.label for choice in choices if choice.key == key), key)
