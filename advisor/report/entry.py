"""One entry of the knowledge as a page: what a practitioner reads to judge it."""

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Final

from advisor.knowledge import Knowledge
from advisor.report.causes import cause_page, group_page, structure_page, water_page
from advisor.report.facts import attribute_page, deduction_page, family_page, need_page
from advisor.report.library_pages import closing_page, keeping_page
from advisor.report.lines import Line, Page, joined
from advisor.report.plain import texts
from advisor.report.repair_pages import (
    caution_page,
    limit_page,
    material_page,
    method_page,
    moment_page,
    proof_page,
    quantity_page,
)
from advisor.report.steps import contributor_page, look_page, stop_page

Body = Callable[[Page, Knowledge, str], list[Line]]

KINDS: Final[Mapping[str, Body]] = {
    "causes": cause_page,
    "groups": group_page,
    "waters": water_page,
    "structures": structure_page,
    "attributes": attribute_page,
    "needs": need_page,
    "deductions": deduction_page,
    "ranges": deduction_page,
    "families": family_page,
    "contributors": contributor_page,
    "looks": look_page,
    "stops": stop_page,
    "methods": method_page,
    "limits": limit_page,
    "moments": moment_page,
    "quantities": quantity_page,
    "materials": material_page,
    "cautions": caution_page,
    "proofs": proof_page,
    "closing": closing_page,
    "keeping": keeping_page,
}
"""The parts of the knowledge that can be shown, in this order, besides sources."""


def known_keys(knowledge: Knowledge) -> Iterable[str]:
    """Every key that can be shown."""
    for section in (*KINDS, "sources"):
        yield from knowledge.sections[section]


def called(knowledge: Knowledge, words: str) -> str | None:
    """The first key whose label, or another name of it, has these words in it."""
    sought = f" {' '.join(_words(words))} "
    if not sought.strip():
        return None
    for section in KINDS:
        for key, entry in knowledge.sections[section].items():
            names = (*texts(entry.get("label")), *texts(entry.get("also-called")))
            if any(sought in f" {' '.join(_words(name))} " for name in names):
                return key
    return None


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.casefold().replace("_", " "))


def entry_lines(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """All entries of that key: a key may be that of a group and of a water. Else no line."""
    lines: list[Line] = []
    say = knowledge.say
    for section, body in KINDS.items():
        entry = knowledge.sections[section].get(key)
        if entry is None:
            continue
        lines += [Line("")] if lines else []
        kind, place = say(f"kind-{section}"), entry.place
        head = say("entry-head", key=key, kind=kind, file=place.file, line=place.line)
        lines += page.wrap(head, rest="  ", style="head")
        lines += body(page, knowledge, key)
        lines += [Line(""), *page.named(say("because"), " ".join(texts(entry.get("because"))), "")]
        lines += _sources(page, knowledge, texts(entry.get("source")))
    if key in knowledge.sources:
        lines += [Line("")] if lines else []
        lines += _source_page(page, knowledge, key)
    return lines


def _sources(page: Page, knowledge: Knowledge, keys: Iterable[str]) -> list[Line]:
    lines = [Line(knowledge.say("sources"))]
    for key in keys:
        source = knowledge.sources[key]
        status = knowledge.say(f"status-{source.status}")
        lines += page.wrap(f"{source.title} ({status})", first="  - ")
    return lines


def _source_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    source, say = knowledge.sources[key], knowledge.say
    citing = [
        name
        for section in KINDS
        for name, entry in knowledge.sections[section].items()
        if key in texts(entry.get("source"))
    ]
    return [
        *page.wrap(f"{key}, {say('kind-sources')}", rest="  ", style="head"),
        *page.named(say("source-title"), source.title, ""),
        *page.named(say("source-status"), say(f"status-{source.status}"), ""),
        *page.named(
            say("rest-on-source"), joined(knowledge, sorted(set(citing))) or say("none"), ""
        ),
    ]
