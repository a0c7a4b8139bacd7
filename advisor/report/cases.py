"""How well worked cases are answered, as lines."""

from collections.abc import Iterable

from advisor.assessment.worked import CaseReport, Half, Miss
from advisor.knowledge import Knowledge
from advisor.report.labels import cause_label
from advisor.report.lines import Line, Page, counted, heading, joined, percent


def case_lines(
    page: Page, knowledge: Knowledge, report: CaseReport, below: Iterable[str] = ()
) -> list[Line]:
    """Blind cases and the others apart, then where none of the true causes leads."""
    lines: list[Line] = []
    for title, half in (
        ("written blind, before the evidence", report.blind),
        ("written knowing the evidence", report.seen),
        ("together", report.together),
    ):
        if half is not None:
            lines += [*heading(title), *_half(page, half)]
    if report.misses:
        lines += heading("another cause leads")
        for miss in report.misses:
            lines += _miss(page, knowledge, miss)
    below = list(below)
    if below:
        lines += [*heading("below the recorded floor", "alarm"), *page.items(below)]
    return lines[1:]


def _half(page: Page, half: Half) -> list[Line]:
    settled = f"{percent(half.settled)} of the cases"
    if half.right_when_settled is not None:
        settled += f"; right in {percent(half.right_when_settled)} of these"
    rows = (
        ("Cases", str(half.cases)),
        ("The true cause leads", percent(half.top_1)),
        ("It is in the first three", percent(half.top_3)),
        ("Its group leads", percent(half.group_top_1)),
        ("Through the concrete or not, right", percent(half.through)),
        ("Mean log loss", f"{half.log_loss:.3f}"),
        ("Clear enough to act on", settled),
    )
    return [line for name, value in rows for line in page.named(name, value)]


def _miss(page: Page, knowledge: Knowledge, miss: Miss) -> list[Line]:
    truth = joined([cause_label(knowledge, cause) for cause in miss.truth])
    blind = ", blind" if miss.blind else ""
    return [
        *page.wrap(f"{miss.file}, {miss.leak}{blind}", first="  - "),
        *page.named("It was", f"{truth}, {percent(miss.confidence)}", "    "),
        *page.named(
            "Leads", f"{cause_label(knowledge, miss.led)}, {percent(miss.led_confidence)}", "    "
        ),
    ]


def case_summary(report: CaseReport) -> str:
    """One line that says whether it is well."""
    faults = counted(len(report.problems), "problem")
    return f"Knowledge {report.knowledge}. {faults}."
