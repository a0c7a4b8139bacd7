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
from advisor.report.lines import Line, Page, joined
from advisor.report.lists import BLOCKS
from advisor.report.words import who
from advisor.terms import Attribute, say_number


def attribute_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """The question, its answers, who can know it, and what reads it."""
    attribute = knowledge.attributes[key]
    lines = [
        *page.wrap(attribute.label, style="strong"),
        *page.named("Question", attribute.question, ""),
        *page.named("How to check", attribute.check, ""),
        *page.named("Who can know it", joined([who(w) for w in attribute.who], "or"), ""),
        *page.named("Belongs to", BLOCKS[attribute.of], ""),
        *page.named("Answer", _answer(attribute), ""),
    ]
    if attribute.kind in ("choice", "several"):
        lines += page.items(f"{choice.key}: {choice.label}" for choice in attribute.choices)
    if key in knowledge.applies:
        lines += page.named("Applies when", condition_words(knowledge, knowledge.applies[key]), "")
    lines += _unsure_when(page, knowledge, key)
    return lines + _reads(page, knowledge, key)


def _answer(attribute: Attribute) -> str:
    if attribute.kind != "number":
        words = {
            "choice": "one of these, or several with `or` between them",
            "several": "all of these that are there",
            "yes-no": "yes or no",
            "date": "a date, YYYY-MM-DD",
            "text": "a text",
        }
        return words[attribute.kind]
    limits = [
        f"{word} {say_number(limit)}"
        for word, limit in (("from", attribute.lowest), ("to", attribute.highest))
        if isfinite(limit)
    ]
    return " ".join(["a number in", attribute.unit or "count", *limits])


def _unsure_when(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    variable = next((v for v in knowledge.model.variables if v.key.partition(".")[0] == key), None)
    if variable is None or variable.unsure_when is None:
        return []
    return page.named("Unsure when", condition_words(knowledge, variable.unsure_when), "")


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
    return [
        *page.named("Looks that answer it", joined(looks), ""),
        *page.named("Settled by the deductions", joined(deduced), ""),
        *page.named("Read by the families", joined(families), ""),
        *page.named("Read by the deductions", joined(deductions), ""),
        *page.named("Read by the needs", joined(needs), ""),
        *page.named("Read by the stops", joined(stops), ""),
    ]


def need_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A need, how common it is, and the causes that are out without it."""
    need = knowledge.needs[key]
    causes = [cause_label(knowledge, c.key) for c in knowledge.causes.values() if key in c.needs]
    return [
        *page.wrap(need.label, style="strong"),
        *page.named("It is there when", condition_words(knowledge, need.when), ""),
        *page.named("Share of structures that have it", f"{need.share * 100:.3g} of 100", ""),
        *page.wrap("Where it is known to be missing, these causes are ruled out:"),
        *page.items(causes or ["none"]),
        *page.named("Reads again what a family reads", need.again or "", ""),
    ]


def deduction_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """When it fires, and what then can no longer be."""
    deduction = knowledge.deductions[key]
    lines = page.named("When", condition_words(knowledge, deduction.when), "")
    for variable, struck in deduction.then:
        label = attribute_label(knowledge, variable)
        every = next(v.choices for v in knowledge.model.variables if v.key == variable)
        left = passing_words(knowledge, variable, frozenset(every) - struck)
        lines += page.named("Then", f"{label}: {left}", "")
    return lines


def family_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """A family with its whole table."""
    entry = knowledge.families[key]
    return [
        *page.wrap(entry.label, style="strong"),
        *family_lines(page, knowledge, entry),
    ]
