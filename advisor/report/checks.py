"""What a check of the knowledge or of the worked cases has to say."""

from collections.abc import Iterable

from advisor.engine import Twins
from advisor.knowledge import Knowledge
from advisor.report.labels import cause_label
from advisor.report.lines import Line, Page, counted
from advisor.terms import Problem


def problem_lines(page: Page, problems: Iterable[Problem]) -> list[Line]:
    """One entry a fault or remark: file, line, key, what is wrong, what was meant."""
    return [line for p in problems for line in page.wrap(str(p), rest="    ")]


def knowledge_lines(page: Page, knowledge: Knowledge) -> list[Line]:
    """That the knowledge is sound, how much there is of it, and its remarks."""
    counts = ", ".join(
        counted(knowledge, what, len(entries))
        for what, entries in (
            ("causes", knowledge.causes),
            ("attributes", knowledge.attributes),
            ("families", knowledge.families),
            ("deductions", knowledge.deductions),
            ("looks", knowledge.looks),
            ("stops", knowledge.stops),
        )
    )
    name = knowledge.say("knowledge-named", knowledge=knowledge.fingerprint)
    lines = page.wrap(f"{name}: {counts}.")
    lines += page.wrap(counted(knowledge, "no-faults-remarks", len(knowledge.remarks)))
    return lines + problem_lines(page, knowledge.remarks)


def separation_lines(page: Page, knowledge: Knowledge, pairs: Iterable[Twins]) -> list[Line]:
    """How far all families together tell each pair of causes apart, weakest first."""
    lines = [Line(knowledge.say("how-far-apart"))]
    for pair in pairs:
        both = f"{cause_label(knowledge, pair.one)} / {cause_label(knowledge, pair.other)}"
        lines += page.wrap(both, first=f"  {pair.decibels:7.1f} dB  ")
    return lines
