"""The screen of an assessment, in the order a technician needs it: stops first."""

from collections.abc import Sequence

from advisor.assessment import Assessment, LeakResult, Reasons
from advisor.diagnosis import Diagnosis
from advisor.knowledge import Knowledge
from advisor.report.beliefs import (
    cause_lines,
    path_lines,
    settled_lines,
    through_lines,
    water_lines,
)
from advisor.report.evidence import evidence_lines, hangs_on_lines, unexplained_lines
from advisor.report.history import history_lines, invented_mark
from advisor.report.lines import Line, Page, counted, heading
from advisor.report.looks import look_lines
from advisor.report.methods import method_lines
from advisor.report.plan import plan_in_short
from advisor.report.reasons import reason_lines, step_lines
from advisor.report.stops import stop_lines
from advisor.report.sums import worked_out_lines

OWN_NAMED = 6
"""Entries of an own folder that are named at the foot; there may be hundreds."""


def screen_lines(
    page: Page,
    knowledge: Knowledge,
    assessment: Assessment,
    *,
    reasons: Sequence[Reasons] | None = None,
) -> list[Line]:
    """All wet places, one below the other.

    reasons: one a wet place, to see everything for and against every cause; None for the
    leaders only.
    """
    lines = invented_mark(page, knowledge)
    steps = reasons if reasons is not None else [None] * len(assessment.leaks)
    for leak, step in zip(assessment.leaks, steps, strict=True):
        lines += [*_leak(page, knowledge, leak, step), Line("")]
    return lines + _footer(page, knowledge, assessment) if assessment.leaks else []


def _leak(
    page: Page, knowledge: Knowledge, leak: LeakResult, reasons: Reasons | None
) -> list[Line]:
    why = evidence_lines(page, knowledge, leak)
    if reasons is not None:
        why = [*reason_lines(page, knowledge, leak), *step_lines(page, knowledge, reasons)]
    return [
        *page.wrap(
            knowledge.say("wet-place", leak=leak.leak, file=leak.file), rest="  ", style="head"
        ),
        *stop_lines(page, knowledge, leak.stops),
        *through_lines(page, knowledge, leak),
        *water_lines(page, knowledge, leak),
        *path_lines(page, knowledge, leak),
        *cause_lines(page, knowledge, leak, ruled_out=reasons is not None),
        *settled_lines(page, knowledge, leak),
        *method_lines(page, knowledge, leak.methods, every=reasons is not None),
        *plan_in_short(page, knowledge, leak.plan),
        *why,
        *unexplained_lines(page, knowledge, leak),
        *worked_out_lines(page, knowledge, leak.worked_out, whole=reasons is not None),
        *_contributors(page, knowledge, leak),
        *_conflicts(page, knowledge, leak),
        *hangs_on_lines(page, knowledge, leak),
        *look_lines(page, knowledge, leak.next, leak.stops),
        *_similar(page, knowledge, leak),
    ]


def _similar(page: Page, knowledge: Knowledge, leak: LeakResult) -> list[Line]:
    if leak.similar is None:
        return []
    # Only who asks for them waits for it.
    from advisor.report.similar import similar_lines  # noqa: PLC0415

    return similar_lines(page, knowledge, leak.similar)


def _contributors(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    if not diagnosis.contributors:
        return []
    lines = heading(knowledge.say("what-makes-it-worse"))
    return lines + page.items(
        knowledge.say(f"contributor-{c.state}", contributor=c.text) for c in diagnosis.contributors
    )


def _conflicts(page: Page, knowledge: Knowledge, diagnosis: Diagnosis) -> list[Line]:
    if not diagnosis.conflicts:
        return []
    lines = heading(knowledge.say("unfit"), "alarm")
    return lines + page.items(conflict.text for conflict in diagnosis.conflicts)


def _named(knowledge: Knowledge) -> str:
    """The entries of the own folder, so that a reader sees whose figures moved the answer."""
    names = [d.key.rpartition(" ")[2] for d in knowledge.differences if d.key]
    if not names:
        return ""
    return f" ({', '.join(names[:OWN_NAMED])}{', ...' * (len(names) > OWN_NAMED)})"


def _footer(page: Page, knowledge: Knowledge, assessment: Assessment) -> list[Line]:
    say = knowledge.say
    remarks = assessment.remarks[len(knowledge.differences) :]
    made_by = say("made-by", advisor=assessment.advisor, knowledge=assessment.knowledge)
    if knowledge.changed:
        made_by += f", {counted(knowledge, 'own-entries', knowledge.changed)}{_named(knowledge)}"
    return [
        *history_lines(page, knowledge),
        *page.items(say("remark", remark=remark) for remark in remarks),
        *page.wrap(f"{made_by}. {say('no-proof')}", style="faint"),
    ]
