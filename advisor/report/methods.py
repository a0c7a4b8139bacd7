"""Methods weighed: what would hold, only if what, and what rules the others out."""

from collections.abc import Sequence

from advisor.knowledge import Knowledge
from advisor.repair import MethodBelief
from advisor.report.history import with_history
from advisor.report.lines import Line, Page, counted, heading, percent

SHOWN = 4
"""Methods listed on the screen of an assessment."""

LEAST = 0.01
"""What is less likely to hold is only named on a sheet, and counted on the screen."""


def method_lines(
    page: Page, knowledge: Knowledge, methods: Sequence[MethodBelief], *, every: bool
) -> list[Line]:
    """What would hold, the most likely first; the others counted. every: list all of them."""
    say = knowledge.say
    lines = heading(say("which-method"))
    free = [m for m in methods if m.ruled_out is None and knowledge.methods[m.method].holds]
    if not free:
        lines += page.wrap(say("no-method-left"), first="  ", style="strong")
    likely = [m for m in free if m.confidence >= LEAST]
    shown = likely if every else (likely or free)[:SHOWN]
    for rank, method in enumerate(shown):
        lines += _method(page, knowledge, method, rank)
    if every:
        faint = "; ".join(_label(knowledge, m) for m in free if m not in shown)
        lines += page.named(say("hardly-likely"), faint)
    if len(free) > len(shown) and not every:
        rest = counted(knowledge, "methods-less-likely", len(free) - len(shown))
        lines += page.wrap(rest, first="  ")
    out = [m for m in methods if m.ruled_out is not None]
    if every:
        return lines + out_lines(page, knowledge, out)
    return lines + page.wrap(counted(knowledge, "methods-out", len(out)), first="  ")


def out_lines(page: Page, knowledge: Knowledge, out: Sequence[MethodBelief]) -> list[Line]:
    """Each with the rule and the finding; those that do nothing for any cause in one line."""
    if not out:
        return []
    say = knowledge.say
    lines = heading(say("methods-ruled-out"))
    nothing = say("holds-with-none")
    idle = [_label(knowledge, m) for m in out if m.ruled_out == nothing]
    by_reason: dict[str, list[str]] = {}
    for m in out:
        if m.ruled_out != nothing:
            by_reason.setdefault(m.ruled_out or "", []).append(_label(knowledge, m))
    if len(by_reason.get(out[0].ruled_out or "", ())) == len(knowledge.methods):
        return lines + page.items([say("every-method", why=out[0].ruled_out)])
    lines += page.items(f"{'; '.join(labels)}. {why}" for why, labels in by_reason.items())
    if idle:
        lines += page.items([f"{'; '.join(idle)}. {nothing}"])
    return lines


def _label(knowledge: Knowledge, method: MethodBelief) -> str:
    return knowledge.methods[method.method].label


def _method(page: Page, knowledge: Knowledge, method: MethodBelief, rank: int) -> list[Line]:
    """The first with all that must be shown, the others with the number of it."""
    figure = percent(knowledge, method.confidence)
    label = with_history(knowledge, _label(knowledge, method), method.book)
    lines = page.row(figure, method.confidence, label, "plain" if rank else "strong")
    unknown = [state.text for state in method.limits if state.state == "unknown"]
    made = [state.text for state in method.limits if state.state == "made"]
    if rank == 0:
        return lines + page.items([*made, *unknown], "      ")
    if unknown:
        lines += page.wrap(counted(knowledge, "only-ifs", len(unknown)), first="      ")
    return lines
