"""How well worked cases are answered, as lines."""

from collections.abc import Iterable

from advisor.assessment.worked import CaseReport, Half, Miss
from advisor.knowledge import Knowledge
from advisor.report.labels import cause_label
from advisor.report.lines import Line, Page, heading, joined, percent


def case_lines(
    page: Page, knowledge: Knowledge, report: CaseReport, below: Iterable[str] = ()
) -> list[Line]:
    """Blind cases and the others apart, then where none of the true causes leads."""
    lines: list[Line] = []
    for title, half in (
        ("cases-blind", report.blind),
        ("cases-seen", report.seen),
        ("cases-together", report.together),
    ):
        if half is not None:
            lines += [*heading(knowledge.say(title)), *_half(page, knowledge, half)]
    if report.misses:
        lines += heading(knowledge.say("cases-missed"))
        for miss in report.misses:
            lines += _miss(page, knowledge, miss)
    below = list(below)
    if below:
        lines += [*heading(knowledge.say("below-the-floor"), "alarm"), *page.items(below)]
    return lines[1:]


def _half(page: Page, knowledge: Knowledge, half: Half) -> list[Line]:
    say = knowledge.say

    def part(value: float) -> str:
        return percent(knowledge, value)

    settled = say("cases-settled", part=part(half.settled))
    if half.right_when_settled is not None:
        settled += f"; {say('cases-settled-right', part=part(half.right_when_settled))}"
    rows = (
        (say("cases-counted"), str(half.cases)),
        (say("cases-top-1"), part(half.top_1)),
        (say("cases-top-3"), part(half.top_3)),
        (say("cases-group-top-1"), part(half.group_top_1)),
        (say("cases-through"), part(half.through)),
        (say("cases-log-loss"), f"{half.log_loss:.3f}"),
        (say("cases-clear"), settled),
    )
    lines = [line for name, value in rows for line in page.named(name, value)]
    if half.acceptable is None or half.forbidden is None:
        return lines
    counted = say("cases-of", part=part(half.acceptable), count=half.with_methods)
    lines += page.named(say("cases-acceptable"), counted)
    return lines + page.named(say("cases-forbidden"), part(half.forbidden))


def _miss(page: Page, knowledge: Knowledge, miss: Miss) -> list[Line]:
    say = knowledge.say
    truth = joined(knowledge, [cause_label(knowledge, cause) for cause in miss.truth])
    led = cause_label(knowledge, miss.led)
    blind = f", {say('case-blind')}" if miss.blind else ""
    return [
        *page.wrap(f"{miss.file}, {miss.leak}{blind}", first="  - "),
        *page.named(say("case-was"), f"{truth}, {percent(knowledge, miss.confidence)}", "    "),
        *page.named(say("case-led"), f"{led}, {percent(knowledge, miss.led_confidence)}", "    "),
    ]
