"""A language made up by letters: what is left in ours are keys, units and names of files.

Every phrase and every word of every entry is laid over with other letters. Whatever still
stands in ours on a page was never a phrase.
"""

import json
import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from advisor import Callout
from advisor.assessment import Assessment, assess_all, reasons
from advisor.assessment.worked import read_cases, score
from advisor.diagnosis import Conflict
from advisor.engine import separations
from advisor.knowledge import Knowledge, open_knowledge
from advisor.knowledge.wording import EACH, WORDS, Words
from advisor.report import (
    Page,
    brief_lines,
    entry_lines,
    knowledge_lines,
    known_keys,
    list_lines,
    screen_lines,
    separation_lines,
)
from advisor.report.cases import case_lines
from advisor.terms import Listing, Mapping, Node, all_units
from advisor.water import FORMULAS
from tests.report.results import BULGE, CALM, NOTHING, TOLD, worked_files

OTHER = str.maketrans(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ",
    "абцдефгхийклмнопқрстувўхызАБЦДЕФГХИЙКЛМНОПҚРСТУВЎХЫЗ",
)
NUMBER = re.compile(r"\d[\d.]*e[-+]\d+")
OURS = re.compile(r"[a-z]+(?:[-.][a-z0-9]+)*", re.I)


def other(text: str) -> str:
    """The text in other letters, but for what stands in braces."""
    parts = re.split(r"(\{[a-z]+\})", text)
    return "".join(p if p.startswith("{") else p.translate(OTHER) for p in parts)


def reworded(node: Node, words: Words | None) -> Any:
    """The words of a part, in other letters."""
    if isinstance(node, Listing):
        return [reworded(item, None) for item in node.items]
    if not isinstance(node, Mapping):
        return other(node.text)
    found = {}
    for key, inner in node.entries:
        deeper = (words or {}).get(key.text, (words or {}).get(EACH, ""))
        if isinstance(deeper, str) or key.text == "source":
            continue
        if isinstance(inner, Mapping) != bool(deeper):
            continue
        made = reworded(inner, deeper or None)
        if made:
            found[key.text] = made
    return found


@pytest.fixture(scope="module")
def strange(tmp_path_factory: pytest.TempPathFactory) -> Knowledge:
    """The shipped knowledge in other letters."""
    folder = tmp_path_factory.mktemp("strange")
    for section, entries in open_knowledge().sections.items():
        words = WORDS[section]
        written = {
            key: reworded(entry.node, {EACH: None} if key == "stories" else words)
            for key, entry in entries.items()
        }
        path = folder / ("" if section == "phrases" else "wording") / section / "all.yaml"
        path.parent.mkdir(parents=True)
        lines = [f"{k}: {json.dumps(v, ensure_ascii=False)}" for k, v in written.items() if v]
        path.write_text("\n".join(lines), encoding="utf-8")
    return open_knowledge(folder)


@cache
def keys_and_units() -> frozenset[str]:
    """All that may be written in a file, in any language."""
    plain = open_knowledge()
    keys = {key for entries in plain.sections.values() for key in entries}
    keys |= {c.key for a in plain.attributes.values() for c in a.choices} | {"other-side"}
    for unit in all_units():
        keys |= {unit.symbol, unit.one}
    return frozenset({*keys, *(word for key in keys for word in OURS.findall(key))})


def left_in_ours(texts: list[str], *, names: tuple[str, ...] = ()) -> set[str]:
    """Words in our letters that are neither key nor unit nor the name of a file."""
    found = set()
    for text in texts:
        for name in names:
            text = text.replace(name, "")  # noqa: PLW2901 - what is left of it
        found |= {w for w in OURS.findall(NUMBER.sub("", text)) if w not in keys_and_units()}
    return {w for w in found if not all(part in keys_and_units() for part in w.split("."))}


def without_a_wording(knowledge: Knowledge, key: str) -> tuple[str, ...]:
    """Words of an entry that `wording/` has no place for yet: they stand in lists of parts, in a
    permit, or are the name by which the firm's own file is searched."""
    texts: list[str] = []
    if key in knowledge.methods:
        texts += [one.because for one in knowledge.methods[key].worse]
    if key in knowledge.cautions:
        caution = knowledge.cautions[key]
        texts += [t for f in caution.limits for t in (f.what, f.value, f.where, f.dated)]
        if caution.permit is not None:
            texts += [caution.permit.what, caution.permit.issued_by]
    if key in knowledge.materials:
        texts.append(knowledge.materials[key].certificate)
    return tuple(sorted(filter(None, texts), key=len, reverse=True))


def wide(lines: list[Any]) -> list[str]:
    return [line.text for line in lines]


@cache
def callouts() -> tuple[Callout, ...]:
    plain = open_knowledge()
    short = [Callout.parse(text, "f.yaml", plain.attributes) for text in (NOTHING, TOLD, BULGE)]
    seen = [Callout.read(p, plain.attributes) for p in worked_files() if p.parent.name == "seen"]
    return (*short, Callout.parse(CALM, "f.yaml", plain.attributes), *seen[:8])


def result(knowledge: Knowledge) -> Assessment:
    return assess_all(callouts(), knowledge)


def named(assessment: Assessment) -> tuple[str, ...]:
    """What people called their files and wet places, and what named this result."""
    names = {name for leak in assessment.leaks for name in (leak.file, Path(leak.file).name)}
    names |= {f" {leak.leak} " for leak in assessment.leaks}
    ends = {f" {leak.leak}," for leak in assessment.leaks} | {assessment.knowledge}
    return tuple(sorted(names | ends | {"L1"}, key=len, reverse=True))


PAGE = Page(10_000)


def test_the_screen_with_all_reasons(strange: Knowledge) -> None:
    found = result(strange)
    told = [reasons(strange, c, place) for c in callouts() for place in c.leaks]
    for steps in (told, None):
        lines = screen_lines(PAGE, strange, found, reasons=steps)
        assert left_in_ours(wide(lines), names=named(found)) <= {"x"}  # the sign of times


def test_the_brief(strange: Knowledge) -> None:
    found = result(strange)
    assert left_in_ours(wide(brief_lines(strange, found)), names=named(found)) == set()


def test_the_texts_of_the_result(strange: Knowledge) -> None:
    found = result(strange)
    texts = []
    for leak in found.leaks:
        texts += [line.text for c in leak.causes for line in (*c.for_, *c.against)]
        texts += [line.text for c in leak.causes for line in c.needs]
        texts += [c.ruled_out or "" for c in leak.causes]
        texts += [contributor.text for contributor in leak.contributors]
        texts += [conflict.text for conflict in leak.conflicts]
        texts += [text for stop in leak.stops for text in (stop.do, stop.released_by)]
        texts += [look.question for look in leak.next]
        texts += [state.text for method in leak.methods for state in method.limits]
        texts += [text or "" for m in leak.methods for text in (m.only_if, m.ruled_out)]
        texts += [leak.plan.tight, *(part.when or "" for part in leak.plan.horizons)]
        steps = [s for part in (*leak.plan.horizons, *leak.plan.waiting) for s in part.steps]
        texts += [step.do for step in steps]
        texts += [amount.from_ for step in steps for amount in step.quantities]
        texts += [proof.when for proof in leak.plan.proof]
    assert left_in_ours(texts, names=named(found)) == set()


def test_all_that_decides_stays(strange: Knowledge) -> None:
    ours, theirs = result(open_knowledge()), result(strange)
    for one, two in zip(ours.leaks, theirs.leaks, strict=True):
        assert [(c.cause, c.confidence) for c in one.causes] == [
            (c.cause, c.confidence) for c in two.causes
        ]
        assert [(k.look, k.bits, k.minutes) for k in one.next] == [
            (k.look, k.bits, k.minutes) for k in two.next
        ]
        assert [(s.stop, s.state, s.bars) for s in one.stops] == [
            (s.stop, s.state, s.bars) for s in two.stops
        ]
        assert one.hangs_on == two.hangs_on
        assert [(m.method, m.confidence) for m in one.methods] == [
            (m.method, m.confidence) for m in two.methods
        ]
        assert one.plan.method == two.plan.method
        assert one.plan.load == two.plan.load


def test_every_page_of_the_knowledge(strange: Knowledge) -> None:
    files = {e.place.file for part in strange.sections.values() for e in part.values()}
    names = tuple(sorted(files, key=len, reverse=True))
    for key in known_keys(strange):
        lines = wide(entry_lines(PAGE, strange, key))
        known = (*names, *without_a_wording(strange, key))
        assert left_in_ours(lines, names=known) <= {"YYYY-MM-DD", "MM-DD", "YYYY"}, key


def test_lists_checks_and_worked_cases(strange: Knowledge) -> None:
    plain_remarks = replace(strange)  # remarks are told about files, in our words
    plain_remarks.__dict__["remarks"] = ()
    cases, _ = read_cases([worked_files()[0].parent.parent / "seen"], strange)
    report = score(cases, strange)
    lines = [
        *list_lines(PAGE, strange),
        *knowledge_lines(PAGE, plain_remarks),
        *separation_lines(PAGE, strange, separations(strange.model)),
        *case_lines(PAGE, strange, report),
    ]
    names = tuple(name for miss in report.misses for name in (miss.file, f" {miss.leak}"))
    names += tuple(f" {name}:" for name in FORMULAS)
    assert left_in_ours(wide(lines), names=(*names, strange.fingerprint)) <= {"dB"}


def test_conflicts_of_every_kind_are_told_in_the_other_words(strange: Knowledge) -> None:
    conflicts: list[Conflict] = [c for leak in result(strange).leaks for c in leak.conflicts]
    assert all(not left_in_ours([c.text]) for c in conflicts)
