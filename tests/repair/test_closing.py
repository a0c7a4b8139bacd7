"""What a closing as held asks, each gate by itself; and which looks are due after a repair."""

import re
from datetime import date

import pytest

from advisor.callout import Callout
from advisor.callout.log_record import HELD
from advisor.callout.status import stand
from advisor.repair.closing import DueLook, Gate, due_by, due_looks, gates
from tests.callout.logs import entry
from tests.repair.crack import CRACK, knowledge

CRACKED, JOINT, BODY, LINER, DEW = (
    *("early-thermal-crack", "movement-joint-waterstop", "honeycomb", "liner-leak"),
    "surface-condensation",
)
TANK = CRACK.replace("kind: basement", "kind: waste-water-tank")
DONE = entry("done: elastic-resin-injection\n    water-height: 1.2 m", day="2031-05-20")
COLD = entry("looked: tight\n    water-up: yes\n    proof: coldest-weeks", day="2032-01-20")
WET = entry("looked: tight\n    water-up: yes\n    proof: one-wet-season", day="2032-04-20")
LEVEL = entry("looked: tight\n    water-up: yes\n    proof: level-test-passed", day="2032-04-21")
TOLD = entry("told: owner", day="2032-04-22")
SAME = entry("looked: same\n    water-up: no", day="2032-05-01")
TIGHT = entry("looked: tight\n    water-up: yes", day="2032-05-02")


def confirmed(cause: str = CRACKED) -> str:
    how = "how: opened-and-seen\n    role: engineer"
    return entry(f"confirmed: {cause}\n    {how}", day="2031-05-19")


def callout_of(*log: str, text: str = CRACK) -> Callout:
    whole = f"{text}log:\n{''.join(log)}" if log else text
    return Callout.parse(whole, "invented.yaml", knowledge().attributes)


def all_gates(*log: str, text: str = CRACK, stops: tuple[str, ...] = ()) -> tuple[Gate, ...]:
    callout = callout_of(*log, text=text)
    return gates(knowledge(), callout, callout.leaks[0], stops)


def unmet(*log: str, text: str = CRACK, stops: tuple[str, ...] = ()) -> list[str]:
    return [gate.text for gate in all_gates(*log, text=text, stops=stops) if not gate.met]


def due(*log: str, text: str = CRACK) -> dict[str, DueLook]:
    callout = callout_of(*log, text=text)
    return {look.proof: look for look in due_looks(knowledge(), callout, callout.leaks[0])}


def proof(key: str) -> str:
    closing = knowledge().closing[key]
    return knowledge().say("gate-proof", proof=closing.label, keys=", ".join(closing.proofs))


GATES = {
    "gate-stops": knowledge().say("gate-stops", stops="a bulge; gas"),
    "gate-repair": knowledge().say("gate-repair"),
    "gate-tight": knowledge().say("gate-tight"),
    "gate-tight-at": knowledge().say("gate-tight-at", level="1.2 m"),
    "gate-cause": knowledge().say("gate-cause"),
    "gate-owner": knowledge().say("gate-owner"),
    **{key: proof(key) for key in ("wet-season", "cold-season", "level-test")},
}
ALL = (confirmed(), DONE, COLD, WET, TOLD)


def test_all_met_leaves_nothing() -> None:
    assert unmet(*ALL) == []
    assert len(all_gates(*ALL)) == 7


@pytest.mark.parametrize(
    ("without", "gate"),
    [
        (confirmed(), "gate-cause"),
        (COLD, "cold-season"),
        (WET, "wet-season"),
        (TOLD, "gate-owner"),
    ],
)
def test_each_gate_alone_blocks(without: str, gate: str) -> None:
    assert unmet(*(one for one in ALL if one != without)) == [GATES[gate]]


def test_a_stop_alone_blocks_and_is_named() -> None:
    assert unmet(*ALL, stops=("a bulge", "gas")) == [GATES["gate-stops"]]


def test_wet_again_after_all_proofs_blocks_and_so_does_what_was_proved_before_it() -> None:
    seasons = [GATES["wet-season"], GATES["cold-season"]]
    assert unmet(*ALL, SAME) == [GATES["gate-tight-at"], *seasons]
    assert unmet(*ALL, SAME, TIGHT) == seasons


def test_without_a_repair_no_look_counts() -> None:
    left = unmet(*(one for one in ALL if one != DONE))
    names = ("gate-repair", "gate-tight", "wet-season", "cold-season")
    assert left == [GATES[name] for name in names]


def test_a_second_repair_asks_its_own_proofs() -> None:
    again = DONE.replace("2031-05-20", "2032-06-01")
    names = ("gate-tight-at", "wet-season", "cold-season", "gate-owner")
    assert unmet(*ALL, again) == [GATES[name] for name in names]


def test_a_look_too_soon_after_the_repair_proves_nothing() -> None:
    """A wet season is no three days, and a crack log no week: common practice, no source."""
    soon = WET.replace(re.search(r"date: (\S+)", WET)[1], "2031-05-23")  # type: ignore[index]
    assert GATES["wet-season"] in unmet(confirmed(), DONE, COLD, soon, TOLD)
    assert GATES["wet-season"] not in unmet(confirmed(), DONE, COLD, WET, TOLD)


def test_only_the_cause_can_be_said_never_to_have_been_confirmed() -> None:
    assert [gate.text for gate in all_gates(*ALL) if gate.of_the_cause] == [GATES["gate-cause"]]


def test_a_role_other_than_the_owner_is_not_the_owner() -> None:
    assert unmet(*ALL[:-1], entry("told: tenant")) == [GATES["gate-owner"]]


@pytest.mark.parametrize(
    ("height", "met"), [("", True), ("1.2 m", True), ("150 cm", True), ("1.1 m", False)]
)
def test_water_lower_than_before_the_repair_does_not_count(height: str, met: bool) -> None:
    level = f"\n    water-height: {height}" if height else ""
    wet = WET.replace("water-up: yes", f"water-up: yes{level}")
    left = unmet(confirmed(), DONE, COLD, wet, TOLD)
    assert left == ([] if met else [GATES["wet-season"]]), "the cold look still shows it tight"
    assert due(confirmed(), DONE, wet)["one-wet-season"].state == (
        "passed" if met else "not-tested"
    )
    alone = unmet(confirmed(), DONE, wet)
    assert (GATES["gate-tight-at"] in alone) is not met


@pytest.mark.parametrize("water_up", ["no", "unknown"])
def test_dry_without_the_water_up_is_not_tested(water_up: str) -> None:
    log = [one.replace("water-up: yes", f"water-up: {water_up}") for one in (DONE, COLD, WET)]
    names = ("gate-tight-at", "wet-season", "cold-season")
    assert unmet(confirmed(), *log, TOLD) == [GATES[name] for name in names]
    assert due(confirmed(), *log)["one-wet-season"].state == "not-tested"


def test_within_the_agreed_class_is_enough_and_beyond_it_is_not() -> None:
    for judged, left in (("yes", []), ("no", ["gate-tight-at", "wet-season", "cold-season"])):
        wet = WET.replace("tight", f"better\n    within-agreed: {judged}")
        found = unmet(confirmed(), DONE, COLD, wet, TOLD)
        assert found == [GATES[name] for name in left]


def test_what_was_seen_on_the_day_of_the_repair_was_seen_before_it() -> None:
    early = WET.replace("2032-04-20", "2031-05-20").replace("\n    proof: one-wet-season", "")
    assert GATES["gate-tight-at"] in unmet(confirmed(), DONE, early)


@pytest.mark.parametrize(
    ("cause", "text", "asked"),
    [
        (CRACKED, CRACK, ["wet-season", "cold-season"]),
        (JOINT, CRACK, ["wet-season", "cold-season"]),
        (BODY, CRACK, ["wet-season"]),
        (DEW, CRACK, []),
        (BODY, TANK, ["wet-season", "level-test"]),
        (CRACKED, TANK, ["wet-season", "cold-season", "level-test"]),
        (LINER, TANK, ["level-test"]),
        (LINER, CRACK, []),
        ("no-cause-of-ours", CRACK, ["wet-season"]),
    ],
)
def test_the_proof_of_its_kind_is_asked(cause: str, text: str, asked: list[str]) -> None:
    found = unmet(confirmed(cause), text=text)
    assert [key for key in knowledge().closing if GATES[key] in found] == asked


def test_a_level_test_stands_for_the_wet_season() -> None:
    assert unmet(confirmed(BODY), DONE, LEVEL, TOLD, text=TANK) == []
    assert unmet(confirmed(BODY), DONE, WET, TOLD, text=TANK) == [GATES["level-test"]]


def test_before_a_cause_is_confirmed_the_first_leader_says_the_path() -> None:
    answer = "proposed: {advisor: 1, knowledge: x, causes: {honeycomb: 0.6, joint-sealant: 0.4}}"
    later = answer.replace("0.6", "0.1")
    log = entry(answer, day="2031-04-16"), entry(later, day="2031-05-01")
    assert GATES["cold-season"] not in unmet(*log)
    assert GATES["cold-season"] in unmet(*log, confirmed(JOINT))


def test_a_kind_that_is_not_settled_asks_for_all_it_can_be() -> None:
    either = CRACK.replace("kind: basement", "kind: basement or waste-water-tank")
    assert GATES["level-test"] in unmet(confirmed(BODY), text=either)


def test_nothing_is_due_before_a_repair() -> None:
    assert due(confirmed()) == {}


def test_looks_by_date_stand_first_and_by_event_have_none() -> None:
    looks = list(due(confirmed(), DONE).values())
    assert [look.proof for look in looks] == [
        "dry-after-cure",
        "first-high-water",
        "one-wet-season",
        "coldest-weeks",
    ]
    assert (looks[0].first, looks[0].last) == (date(2031, 5, 21), date(2031, 5, 23))
    assert [look.first for look in looks[1:]] == [None, None, None]
    assert {look.state for look in looks} == {"open"}


def test_what_a_closing_asks_is_due_though_the_method_does_not_ask_it() -> None:
    tie = DONE.replace("elastic-resin-injection", "tie-hole-plug")
    assert "one-wet-season" in due(confirmed(BODY), tie)
    assert "coldest-weeks" in due(confirmed(CRACKED), tie)
    assert "level-test-passed" in due(confirmed(BODY), tie, text=TANK)
    assert due(entry("done: no-method-of-ours"), confirmed(DEW)) == {}


@pytest.mark.parametrize(
    ("look", "state"),
    [
        ("looked: tight\n    water-up: yes", "passed"),
        ("looked: tight\n    water-up: no", "not-tested"),
        ("looked: worse\n    water-up: no", "failed"),
    ],
)
def test_a_look_that_names_no_proof_is_the_one_due_on_its_day(look: str, state: str) -> None:
    found = due(confirmed(), DONE, entry(look, day="2031-05-22"))
    assert found["dry-after-cure"].state == state
    assert found["one-wet-season"].state == "open"
    late = due(confirmed(), DONE, entry(look, day="2031-05-24"))
    assert late["dry-after-cure"].state == "open"


def test_by_a_day_only_looks_that_have_begun_by_then() -> None:
    looks = tuple(due(confirmed(), DONE).values())
    assert due_by(looks, None) == looks
    assert due_by(looks, date(2031, 5, 21)) == looks
    assert [look.first for look in due_by(looks, date(2031, 5, 20))] == [None] * 3


@pytest.mark.parametrize("end", [f"closed: {HELD}", "closed: withdrawn", "handed-over: owner"])
def test_nothing_is_due_where_the_case_is_closed_or_in_other_hands(end: str) -> None:
    assert due(confirmed(), DONE, entry(end, day="2032-06-01")) == {}


def test_a_case_that_is_reopened_is_watched_again() -> None:
    log = (*ALL, entry("closed: held", day="2032-04-30"), SAME)
    callout = callout_of(*log)
    assert stand(callout, callout.leaks[0]).status == "reopened"
    assert due(*log)["one-wet-season"].state == "passed"
    assert GATES["gate-tight-at"] in unmet(*log)


def test_the_end_of_the_calendar_breaks_nothing() -> None:
    last = due(confirmed(), DONE.replace("2031-05-20", "9999-12-31"))["dry-after-cure"]
    assert (last.first, last.last) == (date.max, date.max)
