"""Pages of what is done or watched: looks, stops, contributors."""

from advisor.knowledge import Knowledge
from advisor.report.labels import attribute_label, condition_words
from advisor.report.lines import Line, Page, joined
from advisor.report.words import duration, steps, who


def look_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What is done, what it answers, what it takes and what it spoils."""
    look, say = knowledge.looks[key], knowledge.say
    answered = [attribute_label(knowledge, a) for a in look.attributes]
    spoilt = [attribute_label(knowledge, a) for a in look.spoils]
    lines = [
        *page.wrap(look.label, style="strong"),
        *page.named(say("do"), look.do, ""),
        *page.named(say("look-answers"), joined(knowledge, answered), ""),
        *page.named(say("takes"), duration(knowledge, look.minutes, look.wait_hours), ""),
        *page.named(say("by"), who(knowledge, look.who), ""),
        *page.named(say("look-needs"), ", ".join(look.needs), ""),
        *page.named(
            say("gives-answer"), say("times-of-100", count=f"{look.answers * 100:.0f}"), ""
        ),
        *page.named(say("damages"), say("yes" if look.damages else "no"), ""),
        *page.named(say("spoils"), joined(knowledge, spoilt), ""),
    ]
    if look.only_when is not None:
        lines += page.named(say("only-when"), condition_words(knowledge, look.only_when), "")
    return lines


def stop_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """When it is raised, what it bars, what to do, and who can release it."""
    stop, say = knowledge.stops[key], knowledge.say
    lines = [
        *page.wrap(stop.label, style="strong"),
        *page.named(say("question"), stop.ask, ""),
        *page.named(say("asked"), say(f"asked-{stop.asked}"), ""),
        *page.named(say("raised-when"), condition_words(knowledge, stop.when), ""),
    ]
    if stop.open_when is not None:
        lines += page.named(say("open-when"), condition_words(knowledge, stop.open_when), "")
    return [
        *lines,
        *page.named(say("bars"), steps(knowledge, stop.bars), ""),
        *page.named(say("do"), stop.do, ""),
        *page.named(say("released-by"), stop.released_by, ""),
    ]


def contributor_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What makes a leak worse, and what shows it."""
    contributor, say = knowledge.contributors[key], knowledge.say
    lines = [
        *page.wrap(contributor.label, style="strong"),
        *page.wrap(say("contributor-takes-no-belief")),
        *page.named(say("shown-when"), condition_words(knowledge, contributor.shown), ""),
    ]
    if contributor.possible is not None:
        lines += page.named(
            say("possible-when"), condition_words(knowledge, contributor.possible), ""
        )
    return lines
