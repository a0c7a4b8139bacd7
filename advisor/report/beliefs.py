"""How far each is believed: through the concrete, which water, which path, which cause."""

from advisor.diagnosis import Diagnosis
from advisor.knowledge import Knowledge
from advisor.report.labels import cause_label, group_label, water_label
from advisor.report.lines import Line, Page, counted, heading, joined, percent

SHOWN = 0.01
"""Less than this is counted, not listed."""


def through_lines(page: Page, diagnosis: Diagnosis) -> list[Line]:
    """Is it through the concrete: yes, no, or neither is in the list."""
    through = diagnosis.through
    rows = (("yes", through.yes), ("no", through.no), ("not in this list", through.unlisted))
    lines = heading("is it through the concrete?")
    for label, part in rows:
        lines += page.row(part, label)
    return lines


def water_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Which water, and which waters may stand on the other side."""
    lines = heading("which water?")
    for water in diagnosis.waters:
        if water.confidence >= SHOWN:
            lines += page.row(water.confidence, water_label(knowledge, water.water))
    beyond = [water_label(knowledge, key) for key in diagnosis.other_side]
    return lines + page.named("On the other side may stand", joined(beyond, "or"))


def path_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Which path: the sums over groups of causes."""
    lines = heading("which path?")
    for group in diagnosis.groups:
        if group.confidence >= SHOWN:
            lines += page.row(group.confidence, group_label(knowledge, group.group))
    return lines


def cause_lines(
    page: Page, knowledge: Knowledge, diagnosis: Diagnosis, *, ruled_out: bool = False
) -> list[Line]:
    """Which cause; the small ones counted. ruled_out: list those that are out, with reason."""
    lines = heading("which cause?")
    out = [cause for cause in diagnosis.causes if cause.ruled_out is not None]
    small = 0
    for rank, cause in enumerate(diagnosis.causes):
        if cause.confidence >= SHOWN:
            label = cause_label(knowledge, cause.cause)
            lines += page.row(cause.confidence, label, "plain" if rank else "strong")
        elif cause.ruled_out is None:
            small += 1
    if small:
        lines += page.wrap(f"{counted(small, 'other cause')} under 1 % each.", first="  ")
    if out and not ruled_out:
        lines += page.wrap(f"{counted(len(out), 'cause')} ruled out.", first="  ")
    elif out:
        lines += page.wrap("Ruled out:", first="  ")
        lines += page.items(
            (f"{cause_label(knowledge, c.cause)}: {c.ruled_out}" for c in out), "    "
        )
    return lines


def settled_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Clear enough to act on, or what is still open."""
    lines = heading("is it settled?")
    leader, group = diagnosis.causes[0], diagnosis.groups[0]
    label = cause_label(knowledge, leader.cause)
    if diagnosis.settled_on == "cause":
        lines += page.wrap(
            f"Clear enough to act on, not confirmed: {label}.", first="  ", style="strong"
        )
        lines += _confirmed_by(page, knowledge, leader.cause)
    elif diagnosis.settled_on == "group":
        inside = [
            f"{cause_label(knowledge, c.cause)} {percent(c.confidence)}"
            for c in diagnosis.causes
            if c.group == group.group and c.confidence >= SHOWN
        ]
        lines += page.wrap(
            "Clear enough to act on, not confirmed: the path, "
            f"{group_label(knowledge, group.group)}.",
            first="  ",
            style="strong",
        )
        lines += page.wrap("Which cause of it is still open:", first="  ")
        lines += page.items(inside, "    ")
    else:
        open_still = [
            cause_label(knowledge, c.cause) for c in diagnosis.causes if c.confidence >= 0.1
        ]
        lines += page.wrap("Open. No cause is clear enough to act on.", first="  ", style="strong")
        if len(open_still) == 1:
            lines += page.named("Ahead, but not clear", open_still[0])
        elif open_still:
            lines += [*page.wrap("Still between:", first="  "), *page.items(open_still, "    ")]
    return lines + _what_settles(page, knowledge, diagnosis)


def _confirmed_by(page: Page, knowledge: Knowledge, cause: str) -> list[Line]:
    ways = knowledge.causes[cause].confirmed_by
    if not ways:
        return []
    return [*page.wrap("What would confirm it:", first="  "), *page.items(ways, "    ")]


def _what_settles(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """Only where the cause is open: the look that could change the leader."""
    if diagnosis.settled_on == "cause":
        return []
    telling = next((look for look in diagnosis.next if look.changes_leader), None)
    if telling is None:
        return page.wrap("No single look left would change the leader.", first="  ")
    label = knowledge.looks[telling.look].label
    return page.named("A look that could change the leader", label)
