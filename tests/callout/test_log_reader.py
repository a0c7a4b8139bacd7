"""The log of a callout file: every kind is read, every fault is told with its place."""

from datetime import date

import pytest

from advisor.callout import log_record as kinds
from advisor.callout.log_reader import CHOICES, KINDS
from advisor.terms import Faulty
from tests.callout.conftest import Parse
from tests.callout.logs import EVERY, FULL, HEAD, PROPOSED, entry, record


def faults(parse: Parse, text: str) -> list[str]:
    with pytest.raises(Faulty) as caught:
        parse(text)
    return [str(problem) for problem in caught.value.problems]


def test_every_kind_is_read(parse: Parse) -> None:
    found = {type(one): one for one in parse(FULL).log}
    assert len(found) == len(EVERY) == len(KINDS) + 1
    for one in found.values():
        assert (one.leak, one.day, one.words) == ("L1", date(2031, 5, 20), "a, b: # c")
    answer = found[kinds.Proposed]
    assert isinstance(answer, kinds.Proposed)
    assert (answer.advisor, answer.knowledge, answer.settled_on) == ("0.1.0", "abc123", "group")
    assert answer.causes == {"early-thermal-crack": 0.5, "honeycomb": 0.25}
    assert answer.methods == {"gel-injection": 0.4}
    assert (answer.advised, answer.looks, answer.stops) == (
        "gel-injection",
        ("see-the-place",),
        (),
    )
    agreed = found[kinds.Agreed]
    assert isinstance(agreed, kinds.Agreed)
    assert (agreed.method, agreed.by) == ("gel-injection", ("owner", "engineer"))
    done = found[kinds.Done]
    assert isinstance(done, kinds.Done)
    assert done.quantities == {"acrylate-gel": "12,5 L", "packers": "14"}
    assert (done.conditions, done.deviations) == ("8 °C # wet", "none")
    assert done.water_height == pytest.approx(1.3)
    assert done.packers == (
        kinds.Packer(packer="1", pressure=20, volume=0.5, minutes=3, ended="full"),
        kinds.Packer(packer="2"),
    )
    confirmed = found[kinds.Confirmed]
    assert isinstance(confirmed, kinds.Confirmed)
    assert (confirmed.cause, confirmed.how, confirmed.role) == (
        "honeycomb",
        "opened-and-seen",
        "engineer",
    )
    assert (confirmed.contributors, confirmed.present) == (("poor-curing",), ("owner", "crew"))
    assert confirmed.accepted_by == "owner"
    looked = found[kinds.Looked]
    assert isinstance(looked, kinds.Looked)
    assert (looked.state, looked.water_up, looked.within) == ("moved-along", "yes", False)
    assert (looked.water_height, looked.proof) == (1.5, "one-wet-season")
    assert looked.readings == {"flow": "2 L/h"}
    closed, handed = found[kinds.Closed], found[kinds.HandedOver]
    assert isinstance(closed, kinds.Closed)
    assert isinstance(handed, kinds.HandedOver)
    assert (closed.because, closed.never_confirmed) == ("no-access", True)
    assert handed.role == "structural-engineer"


def test_what_is_not_said_is_nothing(parse: Parse) -> None:
    (done, looked) = parse(
        record(entry("done: gel-injection"), entry("looked: tight\n    water-up: unknown"))
    ).log
    assert isinstance(done, kinds.Done)
    assert (done.words, done.quantities, done.water_height, done.packers) == ("", {}, None, ())
    assert isinstance(looked, kinds.Looked)
    assert (looked.within, looked.proof, looked.holds) == (None, None, None)


@pytest.mark.parametrize("log", ["", "log:\n", "log: []\n"])
def test_no_log_is_an_empty_one(parse: Parse, log: str) -> None:
    assert parse(HEAD + log).log == ()


@pytest.mark.parametrize(
    ("state", "within", "water_up", "holds"),
    [
        ("tight", "", "yes", True),
        ("tight", "", "no", None),
        ("tight", "", "unknown", None),
        ("same", "", "no", False),
        ("better", "", "yes", False),
        ("better", "yes", "yes", True),
        ("better", "yes", "no", None),
        ("tight", "no", "yes", False),
    ],
)
def test_dry_counts_only_with_the_water_up(
    parse: Parse, state: str, within: str, water_up: str, holds: bool | None
) -> None:
    judged = f"\n    within-agreed: {within}" if within else ""
    (looked,) = parse(record(entry(f"looked: {state}\n    water-up: {water_up}{judged}"))).log
    assert isinstance(looked, kinds.Looked)
    assert looked.holds is holds


FAULTS = {
    "told": "what was logged is missing; expected one of secured, agreed, done",
    "loked: tight": "what was logged is missing; expected one of secured, agreed, done, confirmed,"
    ' supported, looked, told, closed, handed-over; did you mean "looked"?',
    "done: gel-injection\n    looked: tight": "done and looked in one entry",
    "done: Gel!": 'done: "Gel!" is no key; expected a word in lower-case letters, digits and'
    ' hyphens; did you mean "gel"?',
    "done:": "done: nothing is written here",
    "done: gel\n    water-hight: 1 m": "water-hight: this key is not known here; expected one of"
    " leak, date, words, done, quantities, conditions, deviations, water-height, packers; did you"
    ' mean "water-height"?',
    "done: gel\n    water-height: 1": "water-height: the unit is missing; expected a unit: ",
    "done: gel\n    water-height: over 3 m": "water-height: this has one end only; expected such"
    " as 3 m or 2-4 m",
    "done: gel\n    water-height: unknown": "water-height: nothing is known of it; expected no"
    " such key at all",
    "done: gel\n    water-height: 3 bar": '"bar" is a unit of pressure, not of length',
    "done: gel\n    water-height: 9000 m": "9000 m cannot be; expected -500 to 500 m",
    "done: gel\n    quantities: [1]": "quantities: a list stands here",
    "done: gel\n    conditions: wet # cold": 'conditions: a comment (" #") may have cut this text',
    "done: gel\n    packers: [{pressure: 2 bar}]": "packer: this key is missing; expected packer:",
    "done: gel\n    packers: [{packer: 1, minutes: -1}]": "minutes: -1 minutes cannot be",
    "confirmed: honeycomb\n    how: seen\n    role: x": 'how: "seen" is not known here; expected'
    " one of opened-and-seen, separating-test, document, experts-opinion",
    "confirmed: honeycomb\n    how: document": "role: this key is missing; expected role: who"
    " confirmed it, as a role",
    "looked: tigt\n    water-up: yes": 'looked: "tigt" is not known here; expected one of tight,'
    ' better, same, worse, moved-along; did you mean "tight"?',
    "looked: tight": "water-up: this key is missing; expected water-up: one of yes, no, unknown",
    "looked: tight\n    water-up: yes\n    within-agreed: maybe": '"maybe" is neither; expected'
    " yes or no",
    "closed: fixed": 'closed: "fixed" is not known here; expected one of held,',
    "closed: held\n    cause-confirmed: yes": 'cause-confirmed: "yes" is not known here;'
    " expected never",
    "proposed: {knowledge: x}": "advisor: this key is missing; expected advisor: its version",
    "proposed: {advisor: 1, knowledge: x, causes: {a: 1.5}}": "a: 1.5 is no share; expected a"
    " number from 0 to 1",
    "proposed: {advisor: 1, knowledge: x, settled-on: all}": "settled-on:",
}


@pytest.mark.parametrize("body", FAULTS)
def test_a_fault_is_told_with_its_place(parse: Parse, body: str) -> None:
    text = record(entry("told: owner"), entry(body))
    (told,) = faults(
        parse, text if body != "told" else record("  - {leak: L1, date: 2031-05-20}\n")
    )
    assert FAULTS[body] in told
    assert told.startswith("f.yaml:")
    line = int(told.split(":")[1])
    assert line > HEAD.count("\n") + 1


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"leak": "L3"}, 'leak: there is no wet place "L3"; expected one of L1, L2'),
        ({"leak": "L 1!"}, 'leak: "L 1!" is no name'),
        ({"day": "20.5.2031"}, 'date: "20.5.2031" is no date; expected a date as YYYY-MM-DD; did'
         ' you mean "2031-05-20"?'),
        ({"day": "2029-12-31"}, "date: 2029-12-31 is before the pour; expected a day from"
         " 2030-01-01 on"),
        ({"words": "[a]"}, "words: a list stands here"),
    ],
)  # fmt: skip
def test_what_every_entry_has_is_checked(parse: Parse, wrong: dict[str, str], said: str) -> None:
    (told,) = faults(parse, record(entry("told: owner", **wrong)))
    assert said in told


def test_a_day_after_the_last_visit_is_what_a_log_is_for(parse: Parse) -> None:
    assert parse(record(entry("told: owner", day="2041-01-01"))).log[0].day == date(2041, 1, 1)


def test_an_entry_without_place_and_day_tells_both(parse: Parse) -> None:
    told = faults(parse, record("  - told: owner\n"))
    assert [": leak: " in told[0], ": date: " in told[1], len(told)] == [True, True, 2]


def test_all_faults_of_all_entries_are_told_at_once(parse: Parse) -> None:
    packers = "done: gel\n    packers: [{packer: 1, minutes: x}, {packer: 2, volume: 1 bar}, {}]"
    told = faults(parse, record(entry("closed: so"), entry(packers, leak="L9"), "  - so\n"))
    lines = [int(one.split(":")[1]) for one in told]
    assert len(told) == 6
    assert sorted(set(lines)) == [8, 9, 12, 13]


def test_a_log_that_is_no_list_is_told(parse: Parse) -> None:
    (told,) = faults(parse, HEAD + "log: nothing\n")
    assert 'log: "nothing" stands here; expected a list' in told


def test_choices_are_what_the_readers_take(parse: Parse) -> None:
    for word in CHOICES["looked"]:
        assert parse(record(entry(f"looked: {word}\n    water-up: yes"))).log
    for word in CHOICES["closed"]:
        assert parse(record(entry(f"closed: {word}"))).log
    for word in CHOICES["how"]:
        assert parse(record(entry(f"confirmed: crack\n    how: {word}\n    role: owner"))).log


def test_a_proposed_answer_has_no_other_keys(parse: Parse) -> None:
    (told,) = faults(parse, record(entry(f"{PROPOSED}\n    how: document")))
    assert "how: this key is not known here; expected one of leak, date, words, proposed" in told
