"""Pages of what is done or watched: looks, stops, contributors."""

from advisor.knowledge import Knowledge
from advisor.report.labels import attribute_label, condition_words
from advisor.report.lines import Line, Page, joined
from advisor.report.words import duration, steps, who


def look_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What is done, what it answers, what it takes and what it spoils."""
    look = knowledge.looks[key]
    answered = [attribute_label(knowledge, a) for a in look.attributes]
    spoilt = [attribute_label(knowledge, a) for a in look.spoils]
    lines = [
        *page.wrap(look.label, style="strong"),
        *page.named("Do", look.do, ""),
        *page.named("Answers", joined(answered), ""),
        *page.named("Takes", duration(look.minutes, look.wait_hours), ""),
        *page.named("By", who(look.who), ""),
        *page.named("Needs", ", ".join(look.needs), ""),
        *page.named("Gives an answer", f"{look.answers * 100:.0f} times of 100", ""),
        *page.named("Damages the concrete or its finish", "yes" if look.damages else "no", ""),
        *page.named("Spoils", joined(spoilt), ""),
    ]
    if look.only_when is not None:
        lines += page.named("Only when", condition_words(knowledge, look.only_when), "")
    return lines


def stop_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """When it is raised, what it bars, what to do, and who can release it."""
    stop = knowledge.stops[key]
    asked = "at the door" if stop.asked == "at-the-door" else "when it applies"
    lines = [
        *page.wrap(stop.label, style="strong"),
        *page.named("Question", stop.ask, ""),
        *page.named("Asked", asked, ""),
        *page.named("Raised when", condition_words(knowledge, stop.when), ""),
    ]
    if stop.open_when is not None:
        lines += page.named("Open when", condition_words(knowledge, stop.open_when), "")
    return [
        *lines,
        *page.named("Bars", steps(stop.bars), ""),
        *page.named("Do", stop.do, ""),
        *page.named("Released by", stop.released_by, ""),
    ]


def contributor_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What makes a leak worse, and what shows it."""
    contributor = knowledge.contributors[key]
    lines = [
        *page.wrap(contributor.label, style="strong"),
        *page.wrap("Listed beside the causes. It takes no belief from them."),
        *page.named("Shown when", condition_words(knowledge, contributor.shown), ""),
    ]
    if contributor.possible is not None:
        lines += page.named("Possible when", condition_words(knowledge, contributor.possible), "")
    return lines
