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
    say = knowledge.say
    lines: list[Line] = []
    if raised:
        lines += heading(say("stops-raised"), "alarm")
        for stop in raised:
            stopped = say("stop-raised", stop=knowledge.stops[stop.stop].label)
            lines += page.wrap(stopped, first="  ", rest="    ", style="alarm")
            lines += page.named(say("do"), stop.do, "    ")
            lines += page.named(say("barred"), steps(knowledge, stop.bars), "    ")
            lines += page.named(say("released-by"), stop.released_by, "    ")
    if still_open:
        lines += heading(say("stops-open"), "alarm")
        for question, bars in _questions(knowledge, still_open).items():
            lines += page.wrap(say("stop-open", question=question), first="  ", rest="    ")
            lines += page.named(say("bars"), steps(knowledge, bars), "    ")
        keys = sorted({key for stop in still_open for key in answered_by(knowledge, stop.stop)})
        lines += page.named(say("write-answers-under"), ", ".join(keys))
        looks = [look.label for look in knowledge.looks.values() if {*look.attributes} & {*keys}]
        lines += page.named(say("looks-that-answer"), "; ".join(looks))
    return lines


def _questions(knowledge: Knowledge, stops: Sequence[StopState]) -> dict[str, tuple[str, ...]]:
    """What is asked, each once, and what it bars while nobody answers.

    At the door one question may stand for several stops.
    """
    found: dict[str, dict[str, None]] = {}
    for state in stops:
        stop, asks = knowledge.stops[state.stop], answered_by(knowledge, state.stop)
        question = stop.ask or stop.label
        if stop.asked == "at-the-door" and len(asks) == 1:
            question = knowledge.attributes[next(iter(asks))].question
        found.setdefault(question, {}).update(dict.fromkeys(state.bars))
    return {question: tuple(bars) for question, bars in found.items()}
