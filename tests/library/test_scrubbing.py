"""From a record to a kept case: what stays, what becomes a label, a band or a day, what goes."""

from functools import cache
from typing import Any

import pytest

from advisor import Callout, open_knowledge
from advisor.knowledge import Knowledge
from advisor.library.case import Closed, Confirmed, Done, KeptPlace, Looked, Packer
from advisor.library.scrub.scrubbing import OTHER, Scrubbed, scrubbed

KEY, OTHER_KEY = bytes(range(32)), bytes(32)
PRIVATE = """\
private:
  owner: {name: Jan Novák, phone: "+49 171 5550123"}
  crew: Team Nord
  plant: [Kraus Mischwerk, Werk 2]
  contractor: Brightmoor Sealing Ltd
  address: Rosengarten 7
"""
VISITS = "visits:\n  - {date: 2031-05-20}\n  - {date: 2031-04-16}\n"
RECORD = f"""\
callout: K-117
{PRIVATE}structure: {{kind: basement, pour-date: 2029-01-10, agreed-scheme: scheme of Novák}}
{VISITS}leaks:
  - leak: L1
    where: Novák's cellar, 3 m from the door
    findings:
      crack-width: {{value: 0.3 mm, note: seen by Novák}}
      first-wet: 2030-11-02
log:
"""
ANSWER = (
    "proposed: {advisor: 0.1.0, knowledge: 12ab34cd56ef, settled-on: cause, "
    "causes: {wall-foot-joint: 0.8, cold-joint: 0.2}, methods: {gel-injection: 0.7}, "
    "advised: gel-injection, looks: [crack-card, hammer-survey]}"
)


@cache
def knowledge() -> Knowledge:
    return open_knowledge()


def done(text: str, key: bytes = KEY, **how: Any) -> Scrubbed:
    callout = Callout.parse(text, "invented.yaml", knowledge().attributes)
    return scrubbed(knowledge(), callout, key, **how)


def logged(*entries: str, record: str = RECORD, **how: Any) -> Scrubbed:
    lines = "".join(f"  - {{leak: L1, {entry}}}\n" for entry in entries)
    return done(record + lines if lines else record.removesuffix("log:\n"), **how)


def place(*entries: str, **how: Any) -> KeptPlace:
    return logged(*entries, **how).case.places[0]


@pytest.mark.parametrize(
    ("day", "quarter"),
    [
        *(("2031-01-01", "2031-Q1"), ("2031-03-31", "2031-Q1"), ("2031-04-01", "2031-Q2")),
        *(("2031-09-30", "2031-Q3"), ("2031-10-01", "2031-Q4"), ("2031-12-31", "2031-Q4")),
    ],
)
def test_of_the_calendar_only_the_quarter_stays(day: str, quarter: str) -> None:
    record = RECORD.replace(VISITS, f"visits:\n  - {{date: {day}}}\n")
    case = logged(record=record).case
    assert case.quarter == quarter
    assert "-".join(day.split("-")[1:]) not in case.model_dump_json()


def test_days_count_from_the_first_visit_whatever_stands_first() -> None:
    kept = place(
        "date: 2031-06-15, done: gel-injection",
        "date: 2031-04-16, secured: water-stop-foam",
        "date: 2031-04-20, confirmed: wall-foot-joint, how: document, role: owner",
        "date: 2032-04-16, looked: tight, water-up: yes",
        f"date: 2031-05-20, {ANSWER}",
    )
    assert kept.shown is not None
    assert kept.confirmed is not None
    days = (kept.shown.day, kept.confirmed.day, kept.done[0].day, kept.looked[0].day)
    assert days == (34, 4, 60, 366)
    assert logged().case.visits == 2


def test_without_a_visit_days_count_from_the_first_entry() -> None:
    record = "callout: A\nstructure: {kind: basement}\nleaks:\n  - {leak: L1}\nlog:\n"
    entries = ("date: 2031-07-02, done: gel-injection", "date: 2031-07-01, told: owner")
    kept = logged(*entries, record=record)
    assert kept.case.quarter == "2031-Q3"
    assert kept.case.places[0].done[0].day == 1
    assert logged(record=record).case.quarter is None


def test_labels_tell_the_same_name_again_in_other_case_and_spacing() -> None:
    labels = logged().case.labels
    assert labels.keys() == {"crew", "plant", "contractor", "site"}
    assert all(label.startswith(f"{kind}-") for kind, label in labels.items())
    again = RECORD.replace("Team Nord", "TEAM   nord ").replace("Rosengarten 7", "rosengarten  7")
    assert logged(record=again).case.labels == labels
    other = logged(record=RECORD.replace("Team Nord", "Team Süd")).case.labels
    assert other["crew"] != labels["crew"]
    assert {**other, "crew": ""} == {**labels, "crew": ""}


def test_one_name_in_two_trades_has_two_labels() -> None:
    labels = logged(record=RECORD.replace("Brightmoor Sealing Ltd", "Team Nord")).case.labels
    assert labels["crew"].partition("-")[2] != labels["contractor"].partition("-")[2]


def test_another_key_changes_all_labels_and_the_token_and_nothing_else() -> None:
    one, other = logged().case, logged(key=OTHER_KEY).case
    assert one.case != other.case
    assert one.labels.keys() == other.labels.keys()
    assert not set(one.labels.values()) & set(other.labels.values())
    blank = {"case": "0" * 32, "labels": {}}
    assert one.model_copy(update=blank) == other.model_copy(update=blank)


def test_the_token_hangs_on_the_callout_alone() -> None:
    changed = RECORD.replace("kind: basement", "kind: tunnel").replace(PRIVATE, "")
    assert logged(record=changed).case.case == logged().case.case
    assert logged(record=RECORD.replace("K-117", "K-118")).case.case != logged().case.case


def test_roles_outside_the_list_become_other() -> None:
    kept = logged(
        "date: 2031-04-20, confirmed: wall-foot-joint, how: document, role: jan-novak, "
        "present: [owner, mister-novak, his-sister, expert], accepted-by: novak"
    )
    assert kept.case.places[0].confirmed == Confirmed(
        day=4,
        cause="wall-foot-joint",
        how="document",
        role=OTHER,
        present=("owner", OTHER, "expert"),
        accepted_by=OTHER,
    )
    assert kept.removed["role"] == 4


NOTED = (
    "date: 2031-04-20, done: gel-injection, conditions: Novák held the lamp., deviations: none",
    "date: 2031-05-20, looked: tight, water-up: yes, words: wet line is gone",
)


def test_notes_are_dropped_and_counted() -> None:
    kept = logged(*NOTED)
    assert kept.removed["note"] == 3
    assert kept.case.places[0].note is None
    assert "wet line" not in kept.case.model_dump_json()
    assert "lamp" not in kept.case.model_dump_json()


def test_notes_are_kept_scrubbed_where_somebody_says_yes() -> None:
    asked: list[str] = []

    def ask(note: str) -> bool:
        asked.append(note)
        return "lamp" not in note

    kept = logged(*NOTED, ask=ask)
    wet, lamp, gone = (
        "[name] cellar, 3 m from the door",
        "[name] held the lamp. none",
        "wet line is gone",
    )
    assert sorted(asked) == sorted([wet, lamp, gone])
    first = kept.case.places[0]
    assert (first.note, first.done[0].note, first.looked[0].note) == (wet, None, gone)
    assert (kept.removed["note"], kept.removed["name"]) == (1, 2)


def test_what_the_record_calls_itself_and_who_released_stand_in_no_note() -> None:
    record = RECORD.replace("leak: L1", "leak: Dvorak-cellar").replace("K-117", "Elmcroft-9")
    record = record.replace("Novák's cellar, 3 m", "Elmcroft 9, of Zimt and Dvořák, 3 m")
    record = record.replace("owner: {", "Lenz Ilse: tenant\n  owner: {")
    record = record.replace("the door", "the door of Lenz").removesuffix("log:\n")
    record += "releases:\n  - {stop: bulging-wall, role: engineer, name: Xaver Zimt, "
    record += "date: 2031-05-01, words: propped}\n"
    (first,) = done(record, ask=lambda _: True).case.places
    assert first.note is not None
    assert first.note.endswith("of [name] and [name], 3 m from the door of [name]")
    assert "lmcroft" not in first.note


def test_a_note_too_long_to_be_read_is_dropped() -> None:
    record = RECORD.replace("Novák's cellar", "wet and " * 600)
    kept = logged(record=record, ask=lambda _: True)
    assert kept.case.places[0].note is None
    assert kept.removed["note"] == 1


def test_it_is_closed_only_while_it_is() -> None:
    repair, close = "date: 2031-04-20, done: gel-injection", "date: 2031-09-01, closed: refused"
    kept = place(repair, close)
    assert (kept.status, kept.closed) == ("closed", Closed(day=138, because="refused"))
    kept = place(repair, close, "date: 2031-10-01, looked: same, water-up: yes")
    assert (kept.status, kept.closed, kept.reopened) == ("reopened", None, True)
    again = "date: 2031-12-01, closed: withdrawn"
    kept = place(repair, close, "date: 2031-10-01, looked: same, water-up: yes", again)
    assert kept.closed == Closed(day=229, because="withdrawn")


def test_water_above_is_told_against_the_level_before_the_repair() -> None:
    kept = place(
        "date: 2031-04-20, done: gel-injection, water-height: 1.2 m",
        "date: 2031-05-20, looked: tight, water-up: yes, water-height: 1.5 m",
        "date: 2031-06-20, looked: tight, water-up: yes, water-height: 0.9 m",
        "date: 2031-07-20, looked: tight, water-up: unknown",
    )
    assert [(one.water_above, one.water_up) for one in kept.looked] == [
        *((0.3, "yes"), (-0.3, "no"), (None, "unknown")),
    ]
    assert "1.2" not in kept.model_dump_json()


def test_what_cannot_be_read_is_left_out_and_counted() -> None:
    kept = logged(
        "date: 2031-04-20, done: gel-injection, quantities: {epoxy-resin: 3 L, coats: Jan Novák, "
        "jan-novak: 2 L}, packers: [{packer: Novák 1, pressure: 20 bar, volume: 0.5 L, minutes: 4, "
        "ended: Novák said stop}]",
        "date: 2031-05-20, looked: tight, water-up: yes, readings: {crack-width: 0.2 mm, "
        "not-seen: Novák, wall-height: ask Novák, jan-novak: 2, place-level: 3 m}",
    )
    first = kept.case.places[0]
    unit = knowledge().materials["epoxy-resin"].unit
    assert unit == "L"
    assert first.done == (
        Done(
            day=4,
            method="gel-injection",
            quantities={"epoxy-resin": "3 L"},
            packers=(Packer(pressure=20, volume=0.5, minutes=4),),
        ),
    )
    assert first.looked == (
        Looked(day=34, state="tight", water_up="yes", readings={"crack-width": "0.2 mm"}),
    )
    assert kept.removed["unreadable"] == 2 + 4


def test_texts_and_dates_are_absent() -> None:
    kept = logged(*NOTED)
    told = kept.case.model_dump_json()
    assert kept.case.places[0].findings.keys() >= {"crack-width", "kind"}
    assert not {"agreed-scheme", "pour-date", "first-wet"} & kept.case.places[0].findings.keys()
    for part in ("ovák", "2031-0", "2029", "2030", "K-117", "L1", "Rosengarten", "Nord"):
        assert part not in told


def test_what_was_removed_is_told_by_kind() -> None:
    photos = RECORD.replace("    where:", "    photos: [novak.jpg, b.png]\n    where:")
    kept = logged(*NOTED, record=photos)
    removed = dict(kept.removed)
    assert removed.pop("band") >= 1  # ages worked out from the dates
    assert removed == {"private": 5, "date": 4, "note": 3, "photo": 2}
    assert logged(record=photos, photos=1).removed["photo"] == 1
    assert "photo" not in logged(record=photos, photos=2).removed


def test_the_kind_of_structure_is_the_one_told_last() -> None:
    """The last line of the file is not the last word: the later day is, and what corrects it."""
    kinds = "kind: [{value: lift-pit, visit: 1}, {value: tunnel, visit: 1, corrects: 1}"
    record = RECORD.replace("kind: basement", f"{kinds}, {{value: basement, visit: 2}}]")
    assert done(record.removesuffix("log:\n")).case.kind == "tunnel"
