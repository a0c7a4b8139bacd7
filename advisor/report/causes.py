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
from advisor.report.lines import Line, Page, joined
from advisor.report.plain import texts

_THROUGH = {
    "yes": "The water comes through the concrete.",
    "no": "The water does not come through the concrete.",
    "unlisted": "It is left open whether the water comes through the concrete.",
}


def cause_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What it is, how common, what it needs, where evidence lies, and every family on it."""
    cause = knowledge.causes[key]
    group = knowledge.groups[cause.group]
    lines = [
        *page.wrap(cause.label, style="strong"),
        *page.named("Also called", ", ".join(cause.also_called), ""),
        *page.named("Group", f"{group.label}. {_THROUGH[group.through]}", ""),
        *page.named("Water", water_label(knowledge, cause.water), ""),
    ]
    if cause.within:
        inside = joined([cause_label(knowledge, other) for other in cause.within])
        lines += page.named("A fault within", inside, "")
    lines += _how_common(page, knowledge, cause)
    needs = [knowledge.needs[need] for need in cause.needs]
    if needs:
        lines += page.wrap("Needs, or it is ruled out:")
        lines += page.items(f"{n.label}: {condition_words(knowledge, n.when)}" for n in needs)
    lines += page.named("Where evidence lies", cause.evidence, "")
    if cause.confirmed_by:
        lines += [*page.wrap("How it is confirmed:"), *page.items(cause.confirmed_by)]
    if cause.confused_with:
        lines += page.wrap("Confused with, and how to tell apart:")
        lines += page.items(
            f"{cause_label(knowledge, other)}: {how}" for other, how in cause.confused_with.items()
        )
    return lines + evidence_of_cause(page, knowledge, key)


def _how_common(page: Page, knowledge: Knowledge, cause: Cause) -> list[Line]:
    if not isinstance(cause.base_rate, Mapping):
        return page.named("How common, before anything is found", _of_100(cause.base_rate), "")
    lines = page.wrap("How common, of 100 leaks that are called in, before anything is found:")
    rates = ", ".join(
        f"{_structure_label(knowledge, kind)} {rate * 100:.3g}"
        for kind, rate in cause.base_rate.items()
    )
    lines += page.wrap(rates, first="  ")
    missing = [k for k in knowledge.sections["structures"] if k not in cause.base_rate]
    labels = [_structure_label(knowledge, kind) for kind in missing]
    return lines + page.named("Does not occur in", joined(labels))


def _of_100(rate: float) -> str:
    return f"{rate * 100:.3g} of 100 leaks"


def _structure_label(knowledge: Knowledge, kind: str) -> str:
    return " ".join(texts(knowledge.sections["structures"][kind].get("label")))


def group_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A group, and the causes in it."""
    group = knowledge.groups[key]
    causes = [c.label for c in knowledge.causes.values() if c.group == key]
    lines = [*page.wrap(group.label, style="strong"), *page.wrap(_THROUGH[group.through])]
    return [*lines, *page.wrap("Causes in it:"), *page.items(causes or ["none"])]


def water_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A water, when it can be there, and the causes that bring it."""
    water = knowledge.waters[key]
    lines = page.wrap(water.label, style="strong")
    if water.possible_when is not None:
        lines += page.named(
            "Can stand on the other side, unless known false",
            condition_words(knowledge, water.possible_when),
            "",
        )
    if key == OTHER_SIDE:
        beyond = [w.label for w in knowledge.waters.values() if w.possible_when is not None]
        lines += page.named("One of", joined(beyond, "or"), "")
    causes = [c.label for c in knowledge.causes.values() if c.water == key]
    if causes:
        lines += [*page.wrap("Causes with this water:"), *page.items(causes)]
    return lines


def structure_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A kind of structure, and how common each cause is there."""
    rates = {c.key: _rate_in(c, key) for c in knowledge.causes.values()}
    ordered = sorted(rates, key=lambda cause: (-rates[cause], cause))
    lines = page.wrap(_structure_label(knowledge, key), style="strong")
    lines += page.wrap("Of 100 leaks that are called in, before anything is found:")
    for cause in ordered:
        group = group_label(knowledge, knowledge.causes[cause].group)
        label = f"{cause_label(knowledge, cause)} ({group})"
        count = f"{rates[cause] * 100:.3g}" if rates[cause] else "does not occur"
        lines += page.wrap(f"{count}: {label}", first="  - ")
    return lines


def _rate_in(cause: Cause, kind: str) -> float:
    rate = cause.base_rate
    return rate.get(kind, 0.0) if isinstance(rate, Mapping) else rate
