"""Pages of causes, groups, waters and kinds of structure."""

from collections.abc import Mapping

from advisor.knowledge import OTHER_SIDE, Cause, Knowledge
from advisor.report.families import evidence_of_cause
from advisor.report.labels import (
    cause_label,
    condition_words,
    group_label,
    water_label,
)
from advisor.report.lines import Line, Page, joined, one_of_these
from advisor.report.plain import texts


def cause_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What it is, how common, what it needs, where evidence lies, and every family on it."""
    cause = knowledge.causes[key]
    group, say = knowledge.groups[cause.group], knowledge.say
    through = say(f"through-{group.through}")
    lines = [
        *page.wrap(cause.label, style="strong"),
        *page.named(say("also-called"), ", ".join(cause.also_called), ""),
        *page.named(say("group"), f"{group.label}. {through}", ""),
        *page.named(say("water"), water_label(knowledge, cause.water), ""),
    ]
    if cause.within:
        inside = joined(knowledge, [cause_label(knowledge, other) for other in cause.within])
        lines += page.named(say("fault-within"), inside, "")
    lines += _how_common(page, knowledge, cause)
    needs = [knowledge.needs[need] for need in cause.needs]
    if needs:
        lines += page.wrap(say("needs-or-out"))
        lines += page.items(f"{n.label}: {condition_words(knowledge, n.when)}" for n in needs)
    lines += page.named(say("where-evidence-lies"), cause.evidence, "")
    if cause.confirmed_by:
        lines += [*page.wrap(say("how-confirmed")), *page.items(cause.confirmed_by)]
    if cause.confused_with:
        lines += page.wrap(say("confused-with"))
        lines += page.items(
            f"{cause_label(knowledge, other)}: {how}" for other, how in cause.confused_with.items()
        )
    return lines + evidence_of_cause(page, knowledge, key)


def _how_common(page: Page, knowledge: Knowledge, cause: Cause) -> list[Line]:
    say = knowledge.say
    if not isinstance(cause.base_rate, Mapping):
        common = say("of-100-leaks", count=f"{cause.base_rate * 100:.3g}")
        return page.named(say("how-common"), common, "")
    lines = page.wrap(say("how-common-by-kind"))
    rates = ", ".join(
        f"{_structure_label(knowledge, kind)} {rate * 100:.3g}"
        for kind, rate in cause.base_rate.items()
    )
    lines += page.wrap(rates, first="  ")
    missing = [k for k in knowledge.sections["structures"] if k not in cause.base_rate]
    labels = [_structure_label(knowledge, kind) for kind in missing]
    return lines + page.named(say("does-not-occur-in"), joined(knowledge, labels))


def _structure_label(knowledge: Knowledge, kind: str) -> str:
    return " ".join(texts(knowledge.sections["structures"][kind].get("label")))


def group_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A group, and the causes in it."""
    group = knowledge.groups[key]
    causes = [c.label for c in knowledge.causes.values() if c.group == key]
    say = knowledge.say
    through = say(f"through-{group.through}")
    lines = [*page.wrap(group.label, style="strong"), *page.wrap(through)]
    return [*lines, *page.wrap(say("causes-in-it")), *page.items(causes or [say("none")])]


def water_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A water, when it can be there, and the causes that bring it."""
    water, say = knowledge.waters[key], knowledge.say
    lines = page.wrap(water.label, style="strong")
    if water.possible_when is not None:
        lines += page.named(
            say("can-stand-there"),
            condition_words(knowledge, water.possible_when),
            "",
        )
    if key == OTHER_SIDE:
        beyond = [w.label for w in knowledge.waters.values() if w.possible_when is not None]
        lines += page.named(say("water-one-of"), one_of_these(knowledge, beyond), "")
    causes = [c.label for c in knowledge.causes.values() if c.water == key]
    if causes:
        lines += [*page.wrap(say("causes-with-this-water")), *page.items(causes)]
    return lines


def structure_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A kind of structure, and how common each cause is there."""
    rates = {c.key: _rate_in(c, key) for c in knowledge.causes.values()}
    ordered = sorted(rates, key=lambda cause: (-rates[cause], cause))
    lines = page.wrap(_structure_label(knowledge, key), style="strong")
    lines += page.wrap(knowledge.say("how-common-each-cause"))
    for cause in ordered:
        group = group_label(knowledge, knowledge.causes[cause].group)
        label = f"{cause_label(knowledge, cause)} ({group})"
        count = f"{rates[cause] * 100:.3g}" if rates[cause] else knowledge.say("does-not-occur")
        lines += page.wrap(f"{count}: {label}", first="  - ")
    return lines


def _rate_in(cause: Cause, kind: str) -> float:
    rate = cause.base_rate
    return rate.get(kind, 0.0) if isinstance(rate, Mapping) else rate
