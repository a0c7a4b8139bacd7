"""Stops: what bars work until someone with the right to do so releases it."""

from collections.abc import Sequence

from advisor.diagnosis import StopState
from advisor.engine import variables_of
from advisor.knowledge import Knowledge, Look
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
            lines += page.wrap(
                f"Bars {steps(stop.bars)}. If so: {stop.do} Released by: {stop.released_by}.",
                first="    ",
            )
        keys = sorted({key for stop in still_open for key in answered_by(knowledge, stop.stop)})
        lines += page.named("Write the answers under", ", ".join(keys))
    return lines


def answered_by(knowledge: Knowledge, stop: str) -> set[str]:
    """The attributes that a stop asks for."""
    return {v.partition(".")[0] for v in variables_of(knowledge.stops[stop].when)}


def barring(knowledge: Knowledge, stops: Sequence[StopState], look: Look) -> list[str]:
    """Labels of the stops that bar a look: all work, or what breaks the concrete.

    A look that answers an open stop is not barred by it.
    """
    steps_of_look = {"all-work", "drill", "break-out"} if look.damages else {"all-work"}
    return [
        knowledge.stops[stop.stop].label
        for stop in stops
        if steps_of_look & set(stop.bars)
        and not (stop.state == "open" and answered_by(knowledge, stop.stop) & set(look.attributes))
    ]
