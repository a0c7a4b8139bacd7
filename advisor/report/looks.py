"""The next looks: what to do, what it takes, and what it is worth."""

from collections.abc import Sequence

from advisor.diagnosis import NextLook, StopState, barring
from advisor.knowledge import Knowledge, Look
from advisor.report.labels import attribute_label, choice_label
from advisor.report.lines import Line, Page, heading, joined
from advisor.report.words import duration, telling, who


def look_lines(
    page: Page, knowledge: Knowledge, looks: Sequence[NextLook], stops: Sequence[StopState]
) -> list[Line]:
    """The most telling looks in order; barred ones are shown as barred."""
    lines = heading("next looks, the most telling a minute first")
    if not looks:
        return lines + page.wrap("No look that is left would tell more.", first="  ")
    for number, look in enumerate(looks, 1):
        lines += _look(page, knowledge, number, look, stops)
    return lines


def _look(
    page: Page, knowledge: Knowledge, number: int, look: NextLook, stops: Sequence[StopState]
) -> list[Line]:
    entry = knowledge.looks[look.look]
    lines = page.wrap(entry.label, first=f"  {number}. ", style="strong")
    if bars := barring(knowledge, stops, entry):
        named = [knowledge.stops[stop].label for stop in bars]
        which = joined(named) if len(bars) < 3 else f"{len(bars)} of the stops above"
        lines += page.named("BARRED until answered or released", which, "     ", "alarm")
    lines += page.named("Do", entry.do, "     ")
    lines += page.named("Question", look.question, "     ")
    lines += page.named("It can be", _answers(knowledge, look), "     ")
    lines += page.named("Write it under", ", ".join(look.attributes), "     ")
    change = "could change the leader" if look.changes_leader else "would not change the leader"
    lines += page.wrap(
        f"{duration(look.minutes, look.wait_hours)}; by {who(entry.who)}; "
        f"{telling(look.bits)}; {change}.",
        first="     ",
    )
    lines += page.named("Needs", ", ".join(entry.needs), "     ")
    return lines + harm_lines(page, knowledge, entry)


def harm_lines(page: Page, knowledge: Knowledge, look: Look) -> list[Line]:
    """What a look damages, and what it makes impossible to see later."""
    lines: list[Line] = []
    if look.damages:
        lines += page.wrap("Damages the concrete or its finish. Ask before.", first="     ")
    spoilt = [attribute_label(knowledge, key) for key in look.spoils]
    return lines + page.named("Spoils, so look at it before", joined(spoilt), "     ")


def _answers(knowledge: Knowledge, look: NextLook) -> str:
    """The answers still possible to the question, in the words people read."""
    attribute = next(
        (k for k in look.attributes if knowledge.attributes[k].question == look.question),
        look.attributes[0],
    )
    said = [choice_label(knowledge, attribute, answer) for answer in look.answers]
    return "; ".join(said) if set(look.answers) != {"yes", "no"} else ""
