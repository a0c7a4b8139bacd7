"""Where a wet place stands: every status, every way there, and the way back."""

from dataclasses import replace
from datetime import date
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.callout import Callout
from advisor.callout.log_record import LogEntry
from advisor.callout.status import Stand, Status, last_repair, looks_after, stand
from advisor.knowledge import open_knowledge
from tests.callout.logs import EVERY, HEAD, entry, record

SEEN = HEAD.replace("{leak: L1}", "{leak: L1, findings: {member: wall}}")
BODIES = EVERY | {
    "tight": "looked: tight\n    water-up: yes",
    "dry": "looked: tight\n    water-up: no",
    "wet": "looked: same\n    water-up: no",
    "further": "looked: moved-along\n    water-up: unknown",
    "within": "looked: better\n    water-up: yes\n    within-agreed: yes",
    "proved": "looked: tight\n    water-up: yes\n    proof: pump-runs-in-test",
    "held": "closed: held",
}
STATUSES = get_args(Status)


def callout_of(*bodies: str, text: str = "") -> Callout:
    """Each entry a day after the one before; `+` before it: on the same day."""
    day, written = 0, []
    for body in bodies:
        day += not body.startswith("+")
        on = date(2031, 5, 1).toordinal() + day
        named = BODIES[body.removeprefix("+")]
        written.append(entry(named, day=date.fromordinal(on).isoformat()))
    whole = (text or HEAD) + record(*written).removeprefix(HEAD)
    return Callout.parse(whole, "f.yaml", open_knowledge().attributes)


def of(*bodies: str, text: str = "") -> Stand:
    callout = callout_of(*bodies, text=text)
    return stand(callout, callout.leaks[0])


def test_without_a_log() -> None:
    assert of() == Stand("reported", date(2031, 4, 16), reopened=False)
    assert of(text=SEEN).status == "looked-at"
    assert of(text=HEAD.replace("visits: [{date: 2031-04-16}]\n", "")).since is None


@pytest.mark.parametrize("how", ["told", "document", "assumed"])
def test_what_is_only_told_was_not_looked_at(how: str) -> None:
    told = SEEN.replace("member: wall", f"member: {{value: wall, how: {how}}}")
    assert of(text=told).status == "reported"


def test_what_could_not_be_reached_was_not_looked_at() -> None:
    missing = SEEN.replace("member: wall", "member: {missing: no-access}")
    assert of(text=missing).status == "reported"


@pytest.mark.parametrize(
    ("way", "status"),
    [
        ("secured", "secured"),
        ("proposed", "cause-proposed"),
        ("secured proposed", "cause-proposed"),
        ("proposed secured", "cause-proposed"),
        ("proposed confirmed", "cause-confirmed"),
        ("confirmed proposed", "cause-confirmed"),
        ("proposed agreed", "repair-agreed"),
        ("agreed confirmed", "repair-agreed"),
        ("proposed agreed done", "repaired"),
        ("done confirmed proposed", "repaired"),
        ("done +tight", "repaired"),
        ("done +proved", "watching"),
        ("done tight", "watching"),
        ("done dry", "watching"),
        ("done wet", "watching"),
        ("done tight confirmed", "watching"),
        ("done tight agreed", "repair-agreed"),
        ("done wet done", "repaired"),
        ("tight", "reported"),
        ("agreed tight", "repair-agreed"),
        ("told supported", "reported"),
        ("done tight held", "closed"),
        ("closed", "closed"),
        ("closed told", "closed"),
        ("closed confirmed", "closed"),
        ("closed secured", "closed"),
        ("closed tight", "closed"),
        ("closed dry", "closed"),
        ("closed within", "closed"),
        ("closed wet", "reopened"),
        ("closed further", "reopened"),
        ("closed +wet", "reopened"),
        ("wet +closed", "closed"),
        ("closed wet confirmed", "reopened"),
        ("closed wet tight", "reopened"),
        ("closed wet agreed", "repair-agreed"),
        ("closed wet done", "repaired"),
        ("closed wet done tight", "watching"),
        ("closed wet done tight held", "closed"),
        ("closed wet handed-over", "handed-over"),
        ("handed-over", "handed-over"),
        ("handed-over confirmed wet", "handed-over"),
        ("handed-over done", "repaired"),
        ("handed-over closed", "closed"),
    ],
)
def test_the_ways(way: str, status: Status) -> None:
    assert of(*way.split()).status == status


def test_since_is_the_day_of_the_entry_that_made_it_so() -> None:
    assert of("done", "tight", "tight").since == date(2031, 5, 3)
    assert of("closed", "tight", "wet", "wet").since == date(2031, 5, 4)


@pytest.mark.parametrize(
    ("way", "reopened"),
    [
        ("done tight held", False),
        ("done tight held tight", False),
        ("done tight held wet", True),
        ("done tight held wet done tight held", True),
        ("closed done", True),
    ],
)
def test_what_was_reopened_once_stays_known(way: str, reopened: bool) -> None:
    assert of(*way.split()).reopened is reopened


def test_another_wet_place_has_its_own_log() -> None:
    callout = callout_of("done", "tight", "held")
    assert stand(callout, callout.leaks[1]).status == "reported"
    assert last_repair(callout.log, "L2") is None


def test_later_looks_are_those_of_the_last_repair() -> None:
    callout = callout_of("tight", "done", "wet", "done", "+tight", "+proved", "dry")
    repair = last_repair(callout.log, "L1")
    assert repair is not None
    assert repair.day == date(2031, 5, 5)
    assert [(one.day.day, one.proof) for one in looks_after(callout.log, repair)] == [
        (5, "pump-runs-in-test"),
        (6, None),
    ]


def with_log(callout: Callout, log: list[LogEntry]) -> Callout:
    return replace(callout, log=tuple(log))


WAYS = st.lists(st.sampled_from(sorted(BODIES)), max_size=8)


@settings(deadline=None, max_examples=100)
@given(WAYS, st.randoms(use_true_random=False), st.sampled_from([HEAD, SEEN]))
def test_any_log_gives_one_of_the_eleven_in_any_order(way: list[str], random, text: str) -> None:  # type: ignore[no-untyped-def]
    callout = callout_of(*way, text=text)
    found = stand(callout, callout.leaks[0])
    assert len(STATUSES) == 11
    assert found.status in STATUSES
    mixed = list(callout.log)
    random.shuffle(mixed)
    assert stand(with_log(callout, mixed), callout.leaks[0]) == found


@settings(deadline=None, max_examples=50)
@given(WAYS)
def test_nothing_is_reopened_that_was_never_closed(way: list[str]) -> None:
    found = of(*way)
    if found.status == "reopened":
        assert found.reopened
    if found.reopened:
        assert {"closed", "held"} & set(way)
