"""The lives of the invented wet places: each status is what the log of a record comes to."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from advisor import Callout, open_knowledge
from advisor.callout import log_record as log
from advisor.callout.status import stand
from advisor.library.case import KeptPlace
from advisor.library.moves.lines import from_line
from advisor.library.repairs import spans
from advisor.terms import Place
from cases.demonstration.make_histories import HISTORIES
from cases.demonstration.steps import proved
from cases.demonstration.world import read_world

KNOWLEDGE = open_knowledge()
WORLD = read_world()
CASES = [from_line(line) for line in HISTORIES.read_text(encoding="utf-8").splitlines()]
PLACES = [place for case in CASES for place in case.places]
NOWHERE = Place("", 1, 1)

DAY_0 = date(2031, 4, 16)
RECORD = """
callout: invented
structure: {kind: basement}
visits: [{date: 2031-04-16}]
leaks: [{leak: L1, findings: {wetness: drips}}, {leak: L2, where: somewhere}]
"""
CALLOUT = Callout.parse(RECORD, "invented.yaml", KNOWLEDGE.attributes)


def logged(place: KeptPlace, leak: str) -> Iterator[log.LogEntry]:
    """A log of which the library would keep this place; it must never have been closed before."""

    def at(day: int) -> Any:
        return {"leak": leak, "day": DAY_0 + timedelta(days=day), "place": NOWHERE}

    days = [done.day for done in place.done] + [look.day for look in place.looked]
    if place.confirmed:
        days.append(place.confirmed.day)
    last = max(days, default=0)
    yield from (log.Secured(method=method, **at(0)) for method in place.secured)
    if place.shown or place.status == "cause-proposed":
        nothing: dict[str, Any] = {"causes": {}, "methods": {}, "advised": None, "looks": ()}
        yield log.Proposed(advisor="", knowledge="", settled_on=None, **nothing, **at(0))
    if (told := place.confirmed) is not None:
        yield log.Confirmed(cause=told.cause, how=told.how, role="expert", **at(told.day))
    if place.agreed and place.status != "repair-agreed":
        day = place.done[-1].day if place.done else 0
        yield log.Agreed(method=place.agreed, **at(day))
    yield from (log.Done(method=done.method, **at(done.day)) for done in place.done)
    for look in place.looked:
        said: Any = {"state": look.state, "water_up": look.water_up, "within": look.within}
        yield log.Looked(**said, **at(look.day))
    if place.closed:
        yield log.Closed(because=place.closed.because, **at(place.closed.day))
    if place.agreed and place.status == "repair-agreed":
        yield log.Agreed(method=place.agreed, **at(last + 1))
    if place.status == "handed-over":
        yield log.HandedOver(role="expert", **at(last + 1))


@pytest.mark.parametrize("place", [place for place in PLACES if not place.reopened])
def test_the_status_is_what_the_log_comes_to(place: KeptPlace) -> None:
    seen = CALLOUT.leaks[1] if place.status in ("reported", "secured") else CALLOUT.leaks[0]
    now = stand(replace(CALLOUT, log=tuple(logged(place, seen.key))), seen)
    assert (now.status, now.reopened) == (place.status, False)


def test_what_was_reopened_held_long_and_failed() -> None:
    reopened = [place for place in PLACES if place.reopened]
    assert len(reopened) > 10
    for place in reopened:
        held = [span for span in spans(place) if span.held >= WORLD.closing.after]
        assert any(span.failed is not None for span in held)


def test_what_was_closed_as_held_was_proved() -> None:
    closed = [place for place in PLACES if place.closed and place.closed.because == "held"]
    assert len(closed) > 20
    for place in closed:
        assert spans(place)[-1].held >= WORLD.closing.after
    without = {place.closed.because for place in PLACES if place.closed} - {"held"}
    assert without <= set(log.WITHOUT)
    assert len(without) >= 4


def test_what_has_to_be_proved_depends_on_path_and_kind() -> None:
    rules = KNOWLEDGE.closing.values()
    everything = {proof for rule in rules for proof in rule.proofs}
    for group in KNOWLEDGE.groups:
        for kind in WORLD.kinds:
            asked = [
                rule
                for rule in rules
                if group in (rule.groups or (group,)) and kind in (rule.kinds or (kind,))
            ]
            assert proved(KNOWLEDGE, group, kind, everything)
            assert proved(KNOWLEDGE, group, kind, ()) == (not asked)
