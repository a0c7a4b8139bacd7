"""What speaks for and against the leading causes, and what they leave unexplained."""

from collections.abc import Iterable, Sequence
from typing import Literal

from advisor.diagnosis import CauseBelief, Diagnosis, Evidence, NeedFactor
from advisor.knowledge import Knowledge
from advisor.report.labels import attribute_label, cause_label
from advisor.report.lines import Line, Page, counted, heading, percent
from advisor.report.words import times_words

LEADERS = 3
LEADING = 0.1
"""The first three causes believed this much are explained on the first screen."""

WORTH_SAYING = 1.1
"""Evidence that changes the odds by less is counted, not listed."""


def leaders(diagnosis: Diagnosis) -> Sequence[CauseBelief]:
    """The causes that are explained: the first, and up to two more above 10 %."""
    first, *others = diagnosis.causes[:LEADERS]
    return [first, *(cause for cause in others if cause.confidence > LEADING)]


def evidence_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """For and against each leader, strongest first."""
    say = knowledge.say
    lines = heading(say("for-and-against"))
    lines += page.wrap(say("how-common-each"), first="  ")
    for cause in leaders(diagnosis):
        label = cause_label(knowledge, cause.cause)
        title = f"{label}, {percent(knowledge, cause.confidence)}"
        lines += page.wrap(title, first="  ", rest="    ", style="strong")
        with_it = [need for need in cause.needs if need.times > 1]
        against = [need for need in cause.needs if need.times < 1]
        lines += _side(page, knowledge, "for-it", cause.for_, with_it)
        lines += _side(page, knowledge, "against-it", cause.against, against)
        if not (cause.for_ or cause.against or cause.needs):
            lines += page.wrap(say("nothing-speaks"), first="    ")
    return lines


def _side(
    page: Page,
    knowledge: Knowledge,
    side: Literal["for-it", "against-it"],
    found: Sequence[Evidence],
    needs: Sequence[NeedFactor],
) -> list[Line]:
    told = [e for e in found if not 1 / WORTH_SAYING < e.times < WORTH_SAYING]
    lines = page.items((evidence_words(knowledge, e) for e in told), "      ")
    lines += page.items((need_words(knowledge, n) for n in needs), "      ")
    if len(told) < len(found):
        more = counted(knowledge, f"hardly-{side}", len(found) - len(told))
        lines += page.wrap(more, first="      ")
    return [*page.wrap(knowledge.say(side), first="    "), *lines] if lines else []


def evidence_words(knowledge: Knowledge, line: Evidence) -> str:
    """The finding, and how much more or less common it is."""
    return f"{line.text} – {times_words(knowledge, line.times)}"


def need_words(knowledge: Knowledge, line: NeedFactor) -> str:
    """What the cause needs, and what its state does."""
    return f"{line.text} – {times_words(knowledge, line.times, 'likely')}"


def unexplained_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """What was found and is met a third as often, or less, with the leader."""
    if not diagnosis.unexplained:
        return []
    leader = diagnosis.causes[0]
    label = cause_label(knowledge, leader.cause)
    lines = heading(knowledge.say("left-unexplained"))
    found = [e for e in leader.against if e.attribute in diagnosis.unexplained]
    return lines + page.items(
        knowledge.say("common-with", finding=evidence_words(knowledge, e), cause=label)
        for e in found
    )


def hangs_on_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """The findings that carry the answer."""
    say = knowledge.say
    lines = heading(say("hangs-on"))
    if not diagnosis.hangs_on:
        return lines + page.wrap(say("hangs-on-nothing"), first="  ")
    part = percent(knowledge, knowledge.weights.hangs_on)
    lines += page.wrap(say("hangs-on-these", part=part), first="  ")
    return lines + page.items(_labels(knowledge, diagnosis.hangs_on))


def _labels(knowledge: Knowledge, keys: Iterable[str]) -> list[str]:
    return [attribute_label(knowledge, key) for key in keys]
