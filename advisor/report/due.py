"""Where records stand, and the looks that are due, on the screen."""

from advisor.assessment.due import LookDue, PlaceStand, RecordStand
from advisor.knowledge import Knowledge
from advisor.report.lines import Line, Page


def record_lines(page: Page, knowledge: Knowledge, record: RecordStand) -> list[Line]:
    """Where each wet place of a record stands, its looks that are due, and its dates."""
    say = knowledge.say
    head = say("due-record", callout=record.callout, file=record.file)
    lines = page.wrap(head, style="head", rest="  ")
    for place in record.leaks:
        lines += page.wrap(_stands(knowledge, place), first="  ")
        for look in place.due:
            lines += page.wrap(_due(knowledge, look), first="    - ")
        if not place.due:
            lines += page.wrap(say("due-nothing"), first="    - ")
        if place.before_closing:
            lines += page.wrap(say("due-gates"), first="    ")
            lines += page.items(place.before_closing, "      ")
        dates = "; ".join(say("due-date", what=one.what, day=one.date) for one in place.dates)
        lines += page.wrap(say("due-dates", dates=dates), first="    ", rest="      ")
    return lines


def _stands(knowledge: Knowledge, place: PlaceStand) -> str:
    status = knowledge.say(f"stands-{place.status}")
    if place.since is None:
        return knowledge.say("due-stand-no-day", leak=place.leak, status=status)
    return knowledge.say("due-stand", leak=place.leak, status=status, day=place.since)


def _due(knowledge: Knowledge, look: LookDue) -> str:
    say, proof = knowledge.say, knowledge.proofs[look.proof]
    text = knowledge.looks[look.look].label
    if look.water_up:
        text += f", {say('due-water-up')}"
    state = say(f"due-{look.state}")
    if look.first is not None:
        return say("due-by-date", first=look.first, last=look.last, look=text, state=state)
    return say("due-by-event", when=proof.label, look=text, state=state)
