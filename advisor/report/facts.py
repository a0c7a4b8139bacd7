"""Pages of attributes, needs, deductions and families."""

from math import isfinite

from advisor.engine import variables_of
from advisor.knowledge import Knowledge
from advisor.report.families import family_lines
from advisor.report.labels import (
    attribute_label,
    cause_label,
    condition_words,
    passing_words,
)
from advisor.report.lines import Line, Page, joined, one_of_these
from advisor.report.words import who
from advisor.terms import Attribute, say_number


def attribute_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """The question, its answers, who can know it, and what reads it."""
    attribute, say = knowledge.attributes[key], knowledge.say
    knowers = [who(knowledge, knower) for knower in attribute.who]
    lines = [
        *page.wrap(attribute.label, style="strong"),
        *page.named(say("question"), attribute.question, ""),
        *page.named(say("how-to-check"), attribute.check, ""),
        *page.named(say("who-can-know"), one_of_these(knowledge, knowers), ""),
        *page.named(say("belongs-to"), say(f"block-{attribute.of}"), ""),
        *page.named(say("answer"), _answer(knowledge, attribute), ""),
    ]
    if attribute.kind in ("choice", "several"):
        lines += page.items(f"{choice.key}: {choice.label}" for choice in attribute.choices)
    if key in knowledge.applies:
        lines += page.named(
            say("applies-when"), condition_words(knowledge, knowledge.applies[key]), ""
        )
    lines += _unsure_when(page, knowledge, key)
    return lines + _reads(page, knowledge, key)


def _answer(knowledge: Knowledge, attribute: Attribute) -> str:
    say = knowledge.say
    if attribute.kind != "number":
        return say(f"answer-{attribute.kind}")
    limits = [
        say(key, limit=say_number(limit))
        for key, limit in (("answer-from", attribute.lowest), ("answer-to", attribute.highest))
        if isfinite(limit)
    ]
    return " ".join([say("number-in", unit=attribute.unit or "count"), *limits])


def _unsure_when(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    variable = next((v for v in knowledge.model.variables if v.key.partition(".")[0] == key), None)
    if variable is None or variable.unsure_when is None:
        return []
    return page.named(
        knowledge.say("unsure-when"), condition_words(knowledge, variable.unsure_when), ""
    )


def _reads(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What settles an attribute, and what reads it."""

    def own(variables: frozenset[str]) -> bool:
        return any(v.partition(".")[0] == key for v in variables)

    deduced = [d.key for d in knowledge.deductions.values() if own(frozenset(v for v, _ in d.then))]
    deductions = [d.key for d in knowledge.deductions.values() if own(variables_of(d.when))]
    families = [f.key for f in knowledge.families.values() if own(frozenset([f.family.variable]))]
    needs = [n.key for n in knowledge.needs.values() if own(variables_of(n.when))]
    stops = [s.key for s in knowledge.stops.values() if own(variables_of(s.when))]
    looks = [k.key for k in knowledge.looks.values() if key in k.attributes]
    rows = (
        ("looks-answering", looks),
        ("settled-by-deductions", deduced),
        ("read-by-families", families),
        ("read-by-deductions", deductions),
        ("read-by-needs", needs),
        ("read-by-stops", stops),
    )
    return [
        line
        for title, keys in rows
        for line in page.named(knowledge.say(title), joined(knowledge, keys), "")
    ]


def need_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A need, how common it is, and the causes that are out without it."""
    need, say = knowledge.needs[key], knowledge.say
    causes = [cause_label(knowledge, c.key) for c in knowledge.causes.values() if key in c.needs]
    return [
        *page.wrap(need.label, style="strong"),
        *page.named(say("need-is-there-when"), condition_words(knowledge, need.when), ""),
        *page.named(say("need-share"), say("of-100", count=f"{need.share * 100:.3g}"), ""),
        *page.wrap(say("need-rules-out")),
        *page.items(causes or [say("none")]),
        *page.named(say("need-reads-again"), need.again or "", ""),
    ]


def deduction_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """When it fires, and what then can no longer be."""
    deduction = knowledge.deductions[key]
    lines = page.named(knowledge.say("when"), condition_words(knowledge, deduction.when), "")
    for variable, struck in deduction.then:
        label = attribute_label(knowledge, variable)
        every = next(v.choices for v in knowledge.model.variables if v.key == variable)
        left = passing_words(knowledge, variable, frozenset(every) - struck)
        lines += page.named(knowledge.say("then"), f"{label}: {left}", "")
    return lines


def family_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A family with its whole table."""
    entry = knowledge.families[key]
    return [
        *page.wrap(entry.label, style="strong"),
        *family_lines(page, knowledge, entry),
    ]
