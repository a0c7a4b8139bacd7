"""Everything for and against every cause, with the factors that multiply up to its belief."""

from collections.abc import Mapping
from math import inf

from advisor.assessment import Reasons, Step
from advisor.diagnosis import CauseBelief, Diagnosis
from advisor.knowledge import Knowledge
from advisor.report.evidence import evidence_words, need_words
from advisor.report.labels import cause_label
from advisor.report.lines import Line, Page, heading, percent
from advisor.report.words import times_words

TOLD = 3
"""The differences from the leader that are named under `why not`."""


def reason_lines(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    """One block a cause: base rate, needs, evidence, product, and why it does not lead."""
    leader = diagnosis.causes[0]
    total = sum(map(weight, diagnosis.causes))
    lines = heading(knowledge.say("every-cause"))
    lines += page.wrap(knowledge.say("how-weights-come"), first="  ")
    for cause in diagnosis.causes:
        lines += _cause(page, knowledge, cause, leader, total)
    return lines


def weight(cause: CauseBelief) -> float:
    """Base rate x needs x evidence."""
    product = cause.base_rate
    for times in (
        *(need.times for need in cause.needs),
        *(line.times for line in (*cause.for_, *cause.against)),
    ):
        product *= times
    return product


def _cause(
    page: Page, knowledge: Knowledge, cause: CauseBelief, leader: CauseBelief, total: float
) -> list[Line]:
    label, say = cause_label(knowledge, cause.cause), knowledge.say
    lines = [Line("")]
    lines += page.wrap(
        f"{label}, {percent(knowledge, cause.confidence)}", first="  ", rest="    ", style="strong"
    )
    if cause.ruled_out is not None:
        lines += page.named(say("ruled-out"), cause.ruled_out, "    ")
    lines += _factor(page, cause.base_rate, say("base-rate"))
    for need in cause.needs:
        lines += _factor(page, need.times, need_words(knowledge, need))
    for title, found in ((say("for-it"), cause.for_), (say("against-it"), cause.against)):
        if found:
            lines += page.wrap(title, first="    ")
        for line in found:
            lines += _factor(page, line.times, evidence_words(knowledge, line))
    lines += _factor(page, weight(cause), say("weight", total=_figure(total)), "= ")
    if cause.cause != leader.cause and cause.ruled_out is None:
        lines += _why_not(page, knowledge, cause, leader)
    return lines


def _factor(page: Page, value: float, text: str, sign: str = "x ") -> list[Line]:
    return page.wrap(text, first=f"      {sign}{_figure(value):>8}  ")


def _figure(value: float) -> str:
    return f"{value:.3g}"


def _why_not(
    page: Page, knowledge: Knowledge, cause: CauseBelief, leader: CauseBelief
) -> list[Line]:
    """What tells the leader from this cause: findings more common with the leader."""
    here, there = _times(cause), _times(leader)
    texts = {key: text for key, (_, text) in (*here.items(), *there.items())}
    ratios = {
        key: _ratio(there.get(key, (1.0, ""))[0], here.get(key, (1.0, ""))[0]) for key in texts
    }
    telling = sorted((k for k in ratios if ratios[k] > 1.2), key=lambda k: (-ratios[k], k))[:TOLD]
    name = cause_label(knowledge, leader.cause)
    if telling:
        lines = page.wrap(knowledge.say("why-not", cause=name), first="    ")
        return lines + page.items(
            (f"{times_words(knowledge, ratios[key])} – {texts[key]}" for key in telling), "      "
        )
    base = leader.base_rate / cause.base_rate
    if base > 1.2:
        outset = knowledge.say("why-not-rarer", cause=name, times=times_words(knowledge, base))
        return page.wrap(outset, first="    ")
    return page.wrap(knowledge.say("why-not-nothing", cause=name), first="    ")


def _times(cause: CauseBelief) -> Mapping[str, tuple[float, str]]:
    """Factor and text by what was read; of several families on one thing the product."""
    found = {f"need {need.need}": (need.times, need.text) for need in cause.needs}
    for line in (*cause.for_, *cause.against):
        times, _ = found.get(line.attribute, (1.0, ""))
        found[line.attribute] = (times * line.times, line.text)
    return found


def step_lines(page: Page, knowledge: Knowledge, reasons: Reasons) -> list[Line]:
    """What followed from what was found, what one more finding would settle, what is silent."""
    lines: list[Line] = []
    for title, steps in (
        (knowledge.say("what-followed"), reasons.fired),
        (knowledge.say("what-would-follow"), reasons.waiting),
    ):
        lines += heading(title) if steps else []
        for step in steps:
            lines += _step(page, knowledge, step)
    if reasons.silent:
        lines += heading(knowledge.say("evidence-not-read"))
        lines += page.items(reasons.silent)
    return lines


def _step(page: Page, knowledge: Knowledge, step: Step) -> list[Line]:
    conflict = "" if step.state in ("true", "unknown") else f", {step.state}"
    return [
        *page.wrap(f"{step.then} ({step.deduction}{conflict})", first="  - "),
        *page.items(step.tests, "      "),
        *page.named(knowledge.say("because"), step.because, "      "),
    ]


def _ratio(one: float, other: float) -> float:
    return one / other if other else inf
