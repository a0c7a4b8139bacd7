"""What speaks for and against the leading causes, and what they leave unexplained."""

from collections.abc import Iterable, Sequence

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
    lines = heading("what speaks for and against")
    lines += page.wrap(
        "How common each finding is with this cause, against leaks in general:", first="  "
    )
    for cause in leaders(diagnosis):
        label = cause_label(knowledge, cause.cause)
        title = f"{label}, {percent(cause.confidence)}"
        lines += page.wrap(title, first="  ", rest="    ", style="strong")
        lines += _side(page, "for it", cause.for_, [n for n in cause.needs if n.times > 1])
        lines += _side(page, "against it", cause.against, [n for n in cause.needs if n.times < 1])
        if not (cause.for_ or cause.against or cause.needs):
            lines += page.wrap("nothing found speaks for or against it", first="    ")
    return lines


def _side(
    page: Page, title: str, found: Sequence[Evidence], needs: Sequence[NeedFactor]
) -> list[Line]:
    told = [e for e in found if not 1 / WORTH_SAYING < e.times < WORTH_SAYING]
    lines = page.items((evidence_words(e) for e in told), "      ")
    lines += page.items((need_words(n) for n in needs), "      ")
    if len(told) < len(found):
        counts = counted(len(found) - len(told), "more finding")
        lines += page.wrap(f"{counts} hardly {title.removesuffix(' it')} it", first="      ")
    return [*page.wrap(title, first="    "), *lines] if lines else []


def evidence_words(line: Evidence) -> str:
    """The finding, and how much more or less common it is."""
    return f"{line.text} – {times_words(line.times)}"


def need_words(line: NeedFactor) -> str:
    """What the cause needs, and what its state does."""
    return f"{line.text} – {times_words(line.times).replace('common', 'likely')}"


def unexplained_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """What was found and is met a third as often, or less, with the leader."""
    if not diagnosis.unexplained:
        return []
    leader = diagnosis.causes[0]
    label = cause_label(knowledge, leader.cause)
    lines = heading("what the leader leaves unexplained")
    found = [e for e in leader.against if e.attribute in diagnosis.unexplained]
    lines += page.items(f"{e.text} – {times_words(e.times)} with: {label}" for e in found)
    return lines


def hangs_on_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """The findings that carry the answer."""
    lines = heading("what it hangs on")
    if not diagnosis.hangs_on:
        return lines + page.wrap("No single finding carries the answer alone.", first="  ")
    lines += page.wrap(
        "Check these first. Without any one of them another cause leads, or the leader falls "
        f"under {knowledge.weights.hangs_on:.0%} of its belief:".replace("%", " %"),
        first="  ",
    )
    return lines + page.items(_labels(knowledge, diagnosis.hangs_on))


def _labels(knowledge: Knowledge, keys: Iterable[str]) -> list[str]:
    return [attribute_label(knowledge, key) for key in keys]
