"""How far each is believed: through the concrete, which water, which path, which cause."""

from advisor.diagnosis import Diagnosis
from advisor.knowledge import Knowledge
from advisor.report.history import with_history
from advisor.report.labels import cause_label, group_label, water_label
from advisor.report.lines import Line, Page, counted, heading, one_of_these, percent

SHOWN = 0.01
"""Less than this is counted, not listed."""


def through_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Is it through the concrete: yes, no, or neither is in the list."""
    through, say = diagnosis.through, knowledge.say
    rows = ((say("yes"), through.yes), (say("no"), through.no))
    lines = heading(say("is-it-through"))
    for label, part in (*rows, (say("neither-is-listed"), through.unlisted)):
        lines += page.row(percent(knowledge, part), part, label)
    return lines


def water_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Which water, and which waters may stand on the other side."""
    lines = heading(knowledge.say("which-water"))
    for water in diagnosis.waters:
        if water.confidence >= SHOWN:
            figure, label = (
                percent(knowledge, water.confidence),
                water_label(knowledge, water.water),
            )
            lines += page.row(figure, water.confidence, label)
    beyond = [water_label(knowledge, key) for key in diagnosis.other_side]
    return lines + page.named(knowledge.say("on-the-other-side"), one_of_these(knowledge, beyond))


def path_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Which path: the sums over groups of causes."""
    lines = heading(knowledge.say("which-path"))
    for group in diagnosis.groups:
        if group.confidence >= SHOWN:
            figure, label = (
                percent(knowledge, group.confidence),
                group_label(knowledge, group.group),
            )
            lines += page.row(figure, group.confidence, label)
    return lines


def cause_lines(
    page: Page, knowledge: Knowledge, diagnosis: Diagnosis, *, ruled_out: bool = False
) -> list[Line]:
    """Which cause; the small ones counted. ruled_out: list those that are out, with reason."""
    lines = heading(knowledge.say("which-cause"))
    out = [cause for cause in diagnosis.causes if cause.ruled_out is not None]
    small = 0
    for rank, cause in enumerate(diagnosis.causes):
        if cause.confidence >= SHOWN:
            label = with_history(knowledge, cause_label(knowledge, cause.cause), cause.book)
            figure = percent(knowledge, cause.confidence)
            lines += page.row(figure, cause.confidence, label, "plain" if rank else "strong")
        elif cause.ruled_out is None:
            small += 1
    if small:
        lines += page.wrap(counted(knowledge, "small-causes", small), first="  ")
    if out and not ruled_out:
        lines += page.wrap(counted(knowledge, "causes-out", len(out)), first="  ")
    elif out:
        lines += page.wrap(knowledge.say("these-are-out"), first="  ")
        lines += page.items(
            (f"{cause_label(knowledge, c.cause)}: {c.ruled_out}" for c in out), "    "
        )
    return lines


def settled_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Clear enough to act on, or what is still open."""
    say = knowledge.say
    lines = heading(say("is-it-settled"))
    leader, group = diagnosis.causes[0], diagnosis.groups[0]
    label = cause_label(knowledge, leader.cause)
    if diagnosis.settled_on == "cause":
        lines += page.wrap(say("settled-on-cause", cause=label), first="  ", style="strong")
        lines += _confirmed_by(page, knowledge, leader.cause)
    elif diagnosis.settled_on == "group":
        inside = [
            f"{cause_label(knowledge, c.cause)} {percent(knowledge, c.confidence)}"
            for c in diagnosis.causes
            if c.group == group.group and c.confidence >= SHOWN
        ]
        lines += page.wrap(
            say("settled-on-path", path=group_label(knowledge, group.group)),
            first="  ",
            style="strong",
        )
        lines += page.wrap(say("cause-still-open"), first="  ")
        lines += page.items(inside, "    ")
    else:
        open_still = [
            cause_label(knowledge, c.cause) for c in diagnosis.causes if c.confidence >= 0.1
        ]
        lines += page.wrap(say("not-settled"), first="  ", style="strong")
        if len(open_still) == 1:
            lines += page.named(say("ahead-but-not-clear"), open_still[0])
        elif open_still:
            lines += [*page.wrap(say("still-between"), first="  "), *page.items(open_still, "    ")]
    return lines + _what_settles(page, knowledge, diagnosis)


def _confirmed_by(page: Page, knowledge: Knowledge, cause: str) -> list[Line]:
    ways = knowledge.causes[cause].confirmed_by
    if not ways:
        return []
    return [*page.wrap(knowledge.say("what-confirms"), first="  "), *page.items(ways, "    ")]


def _what_settles(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Only where the cause is open: the look that could change the leader."""
    if diagnosis.settled_on == "cause":
        return []
    telling = next((look for look in diagnosis.next if look.changes_leader), None)
    if telling is None:
        return page.wrap(knowledge.say("no-look-changes-leader"), first="  ")
    label = knowledge.looks[telling.look].label
    return page.named(knowledge.say("a-look-changes-leader"), label)
