"""Stops: what bars work until someone with the right to do so releases it."""

from collections.abc import Sequence

from advisor.diagnosis import StopState, answered_by
from advisor.knowledge import Knowledge
from advisor.report.lines import Line, Page, heading
from advisor.report.words import steps


def stop_lines(page: Page, knowledge: Knowledge, stops: Sequence[StopState]) -> list[Line]:
    """Raised ones first, then those that nobody has answered; nothing where there is none."""
    raised = [stop for stop in stops if stop.state == "raised"]
    still_open = [stop for stop in stops if stop.state == "open"]
    lines: list[Line] = []
    if raised:
        lines += heading("stops: do this first", "alarm")
        for stop in raised:
            label = knowledge.stops[stop.stop].label
            lines += page.wrap(f"STOP: {label}", first="  ", rest="    ", style="alarm")
            lines += page.named("Do", stop.do, "    ")
            lines += page.named("Barred", steps(stop.bars), "    ")
            lines += page.named("Released by", stop.released_by, "    ")
    if still_open:
        lines += heading("stops not answered yet: each bars until it is answered", "alarm")
        for stop in still_open:
            entry = knowledge.stops[stop.stop]
            lines += page.wrap(f"OPEN: {entry.ask or entry.label}", first="  ", rest="    ")
            lines += page.named("Bars", steps(stop.bars), "    ")
        keys = sorted({key for stop in still_open for key in answered_by(knowledge, stop.stop)})
        lines += page.named("Write the answers under", ", ".join(keys))
        looks = [look.label for look in knowledge.looks.values() if {*look.attributes} & {*keys}]
        lines += page.named("Looks that answer them", "; ".join(looks))
    return lines
