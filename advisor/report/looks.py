"""The next looks: what to do, what it takes, and what it is worth."""

from collections.abc import Sequence

from advisor.diagnosis import NextLook, StopState, barring
from advisor.knowledge import Knowledge, Look, choice_words
from advisor.report.labels import attribute_label
from advisor.report.lines import Line, Page, heading, joined
from advisor.report.words import duration, telling, who


def look_lines(
    page: Page, knowledge: Knowledge, looks: Sequence[NextLook], stops: Sequence[StopState]
) -> list[Line]:
    """The most telling looks in order; barred ones are shown as barred."""
    lines = heading(knowledge.say("next-looks"))
    if not looks:
        return lines + page.wrap(knowledge.say("no-look-left"), first="  ")
    for number, look in enumerate(looks, 1):
        lines += _look(page, knowledge, number, look, stops)
    return lines


def _look(
    page: Page, knowledge: Knowledge, number: int, look: NextLook, stops: Sequence[StopState]
) -> list[Line]:
    entry, say = knowledge.looks[look.look], knowledge.say
    lines = page.wrap(entry.label, first=f"  {number}. ", style="strong")
    if bars := barring(knowledge, stops, entry):
        named = [knowledge.stops[stop].label for stop in bars]
        which = joined(knowledge, named) if len(bars) < 3 else say("stops-above", count=len(bars))
        lines += page.named(say("look-barred"), which, "     ", "alarm")
    lines += page.named(say("do"), entry.do, "     ")
    lines += page.named(say("question"), look.question, "     ")
    lines += page.named(say("it-can-be"), _answers(knowledge, look), "     ")
    lines += page.named(say("write-under"), ", ".join(look.attributes), "     ")
    takes = say(
        "look-takes",
        time=duration(knowledge, look.minutes, look.wait_hours),
        who=who(knowledge, entry.who),
        worth=telling(knowledge, look.bits),
        change=say("changes-leader" if look.changes_leader else "keeps-leader"),
    )
    lines += page.wrap(takes, first="     ")
    lines += page.named(say("look-needs"), ", ".join(entry.needs), "     ")
    return lines + harm_lines(page, knowledge, entry)


def harm_lines(page: Page, knowledge: Knowledge, look: Look) -> list[Line]:
    """What a look damages, and what it makes impossible to see later."""
    lines: list[Line] = []
    if look.damages:
        lines += page.wrap(knowledge.say("look-damages"), first="     ")
    spoilt = [attribute_label(knowledge, key) for key in look.spoils]
    return lines + page.named(knowledge.say("look-spoils"), joined(knowledge, spoilt), "     ")


def _answers(knowledge: Knowledge, look: NextLook) -> str:
    """The answers still possible to the question, in the words people read."""
    attribute = next(
        (k for k in look.attributes if knowledge.attributes[k].question == look.question),
        look.attributes[0],
    )
    said = [choice_words(knowledge, attribute, answer) for answer in look.answers]
    return "; ".join(said) if set(look.answers) != {"yes", "no"} else ""
