"""An outcome logged into the text of a record: the first answer is kept, and nothing is lost."""

from collections.abc import Mapping
from datetime import date

import pytest

from advisor import assess
from advisor.assessment.logging import LEAST, Logged, logged, open_gates
from advisor.callout import Callout
from advisor.callout.log_reader import KINDS
from advisor.callout.log_record import WITHOUT, Confirmed, Done, Looked, Proposed
from advisor.diagnosis import stops_now
from advisor.repair.log_keys import log_problems
from advisor.terms import Faulty
from tests.repair.crack import CRACK, RESIN, changed, knowledge

TWO = CRACK + "  - leak: L2\n    findings: {member: floor}\n"
DONE = {"done": RESIN, "date": "2031-05-20"}
LOOKED = {"looked": "tight", "water-up": "yes", "date": "2031-06-20"}
CONFIRMED = {
    "confirmed": "early-thermal-crack",
    "how": "opened-and-seen",
    "role": "engineer",
    "date": "2031-05-20",
}


def log(text: str, **answers: str) -> Logged:
    return logged(knowledge(), text, "f.yaml", {k.replace("_", "-"): v for k, v in answers.items()})


def logs(text: str, *many: Mapping[str, str]) -> str:
    for answers in many:
        text = log(text, **answers).text
    return text


def refused(text: str, answers: Mapping[str, object]) -> list[str]:
    with pytest.raises(Faulty) as caught:
        logged(knowledge(), text, "f.yaml", answers)
    return [str(problem) for problem in caught.value.problems]


REPAIRED = logs(CRACK, DONE)
"""With the first answer and a repair in its log."""


def first_answer(text: str) -> Proposed:
    found = Callout.parse(text, "f.yaml", knowledge().attributes).log[0]
    assert isinstance(found, Proposed)
    return found


def test_what_the_advisor_answers_is_written_down_first() -> None:
    done = log(CRACK, **DONE)
    assert done.added == ("proposed", "done")
    proposed, repair = done.callout.log
    assert isinstance(proposed, Proposed)
    assert isinstance(repair, Done)
    assert (proposed.day, repair.day) == (date(2031, 4, 16), date(2031, 5, 20))
    result = assess(Callout.parse(CRACK, "f.yaml"), knowledge()).leaks[0]
    assert proposed.causes == {
        c.cause: round(c.confidence, 4) for c in result.causes if c.confidence >= LEAST
    }
    assert proposed.methods == {
        m.method: round(m.confidence, 4) for m in result.methods if m.confidence >= LEAST
    }
    assert sum(proposed.causes.values()) == pytest.approx(1, abs=0.02)
    assert (proposed.advised, proposed.knowledge) == (RESIN, knowledge().fingerprint)
    assert proposed.looks == tuple(look.look for look in result.next)
    assert (proposed.stops, proposed.settled_on) == ((), result.settled_on)


def test_stops_that_were_open_are_kept_with_it() -> None:
    raised = CRACK.replace("danger-signs: []", "danger-signs: [bulge]")
    assert first_answer(log(raised, **DONE).text).stops == ("bulging-wall",)


def test_the_first_answer_is_never_changed_when_more_is_found() -> None:
    first = first_answer(REPAIRED)
    more = changed(REPAIRED, **{"crack-width": "0.1 mm", "wetness": None, "deposits": "[rust]"})
    again = log(more, **LOOKED)
    assert again.added == ("looked",)
    assert first_answer(again.text) == first_answer(more)
    assert first_answer(again.text).causes == first.causes
    asked = log(again.text, proposed="now", words="after the core")
    assert asked.added == ("proposed",)
    last = asked.callout.log[-1]
    assert isinstance(last, Proposed)
    assert last.words == "after the core"
    assert last.causes != first.causes, "what is known now is answered now"
    assert first_answer(asked.text).causes == first.causes


def test_a_file_without_visits_takes_the_day_of_the_entry() -> None:
    bare = "callout: X\nstructure: {kind: basement}\nleaks: [{leak: L1}]\n"
    assert [one.day for one in log(bare, **DONE).callout.log] == [date(2031, 5, 20)] * 2
    assert log(bare, proposed="now", date="2031-05-01").callout.log[0].day == date(2031, 5, 1)
    assert refused(bare, {"proposed": "now"}) == ["date: the day is missing; expected YYYY-MM-DD"]


def test_an_answer_that_is_asked_for_takes_the_day_that_is_said() -> None:
    assert log(REPAIRED, proposed="now").callout.log[-1].day == date(2031, 4, 16)
    said = log(REPAIRED, proposed="now", date="2031-08-01").callout.log[-1]
    assert said.day == date(2031, 8, 1)


def test_each_wet_place_has_its_own_first_answer() -> None:
    text = log(TWO, leak="L2", **DONE).text
    both = log(text, leak="L1", **DONE)
    assert both.added == ("proposed", "done")
    assert [one.leak for one in both.callout.log] == ["L2", "L2", "L1", "L1"]
    named = CRACK.replace("leak: L1", "leak: by-the-lift")
    assert log(named, leak="by the lift", **DONE).callout.log[-1].leak == "by-the-lift"


def test_which_of_several_wet_places_must_be_said() -> None:
    assert refused(TWO, DONE) == ["--leak: the wet place is missing; expected one of L1, L2"]
    assert refused(TWO, {**DONE, "leak": "L3"}) == [
        'f.yaml: leak: there is no wet place "L3"; expected one of L1, L2'
    ]


def test_answers_become_lists_and_tables() -> None:
    text = log(
        CRACK,
        **{"quantities.elastic-polyurethane-resin": "12,5 L", "quantities.packer-count": "14"},
        **DONE,
    ).text
    done = log(
        text, **CONFIRMED, contributors="honeycomb, poor-curing", present="owner,  site manager ,"
    )
    repair, cause = done.callout.log[1:]
    assert isinstance(repair, Done)
    assert repair.quantities == {"elastic-polyurethane-resin": "12,5 L", "packer-count": "14"}
    assert isinstance(cause, Confirmed)
    assert cause.contributors == ("honeycomb", "poor-curing")
    assert cause.present == ("owner", "site-manager")
    looked = log(done.text, **LOOKED, **{"readings.crack-width": "0,3 mm"}).callout.log[-1]
    assert isinstance(looked, Looked)
    assert looked.readings == {"crack-width": "0,3 mm"}


def test_packers_go_in_as_rows() -> None:
    rows = [{"packer": "1", "pressure": "20 bar"}, {"packer": "2", "ended": "full"}]
    done = logged(knowledge(), CRACK, "f.yaml", {**DONE, "packers": rows}).callout.log[-1]
    assert isinstance(done, Done)
    assert [(one.packer, one.pressure, one.ended) for one in done.packers] == [
        ("1", 20, ""),
        ("2", None, "full"),
    ]


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"done": "gel-injektion"}, 'log: there is no method "gel-injektion"'),
        ({"secured": "tape"}, 'log: there is no method "tape"'),
        ({"agreed": "tape"}, 'log: there is no method "tape"'),
        ({**DONE, "quantities.gell": "3 L"}, 'log: there is no quantity or material "gell"'),
        ({**CONFIRMED, "confirmed": "honeycom"}, 'log: there is no cause "honeycom"'),
        ({**CONFIRMED, "contributors": "rain"}, 'log: there is no contributor or cause "rain"'),
        ({**CONFIRMED, "confirmed": "not in this list"}, "words: what it was is not said"),
        ({"supported": "honeycom"}, 'log: there is no cause "honeycom"'),
        ({**LOOKED, "proof": "wet-season"}, 'log: there is no proof "wet-season"'),
        ({**LOOKED, "readings.crackwidth": "1 mm"}, 'log: there is no attribute "crackwidth"'),
        ({**LOOKED, "readings.crack-width": "1"}, "crack-width: the unit is missing"),
        ({**LOOKED, "looked": "tigt"}, 'looked: "tigt" is not known here'),
        ({**LOOKED, "date": "20.6.2031"}, 'date: "20.6.2031" is no date; expected a date'),
        ({**LOOKED, "date": "2031-02-30"}, "date: there is no day 2031-02-30"),
        ({**LOOKED, "date": "2031-05-01"}, "looked: no repair is logged up to 2031-05-01"),
        ({"foo": "1", "told": "owner"}, '--set: "foo" is nothing that can be logged; expected'),
        ({"quantities": "3 L", **DONE}, '--set: "quantities" is nothing that can be logged'),
        ({"quantities.": "3 L", **DONE}, '--set: "quantities." is nothing that can be logged'),
        ({"told": "owner", **DONE}, "--set: told and done in one entry; expected one of secured,"),
        ({"words": "so"}, "--set: what is logged is missing; expected one of secured,"),
        ({"proposed": "now", "how": "document"}, "how: this does not go with it; expected"),
        ({"told": "owner", "how": "document"}, "how: this key is not known here; expected one"),
    ],
)  # fmt: skip
def test_what_cannot_be_logged_is_told_without_a_line_that_is_not_there(
    answers: dict[str, str], said: str
) -> None:
    answers = {"date": "2031-05-20", **answers}
    (told,) = refused(REPAIRED, answers)
    assert told.startswith(said)


def test_what_was_expected_and_the_nearest_are_told_too() -> None:
    (told,) = refused(REPAIRED, {"date": "2031-05-20", "done": "gel-injektion"})
    assert told.endswith('that `advisor knowledge list` shows; did you mean "gel-injection"?')
    (told,) = refused(REPAIRED, {"quantities": "3 L", **DONE})
    assert told.endswith("expected quantities.KEY=VALUE")


def test_the_day_is_asked_for() -> None:
    assert refused(REPAIRED, {"told": "owner"}) == ["date: the day is missing; expected YYYY-MM-DD"]


def test_all_that_is_wrong_is_told_at_once() -> None:
    wrong = {"looked": "tigt", "water-up": "high", "date": "soon", "proof": "?"}
    assert len(refused(REPAIRED, wrong)) == 4
    assert len(refused(REPAIRED, {"foo": "1", "bar": "2"})) == 4


def test_a_repair_before_the_pour_is_refused() -> None:
    poured = CRACK.replace("{kind: basement,", "{kind: basement, pour-date: 2030-06-01,")
    (told,) = refused(poured, {**DONE, "date": "2030-05-01"})
    assert told == "date: 2030-05-01 is before the pour; expected a day from 2030-06-01 on"


def test_water_that_is_up_and_lower_than_before_is_refused() -> None:
    text = log(CRACK, **DONE, water_height="1.2 m").text
    (told,) = refused(text, {**LOOKED, "water-height": "80 cm"})
    assert told == (
        "water-height: 0.8 m is lower than before the repair, 1.2 m; expected water-up=no"
    )
    assert log(text, **{**LOOKED, "water-up": "no"}, water_height="80 cm")


def test_a_look_without_a_repair_is_a_visit_but_not_where_a_case_was_closed() -> None:
    assert "no repair is logged up to" in refused(CRACK, LOOKED)[0]
    closed = log(CRACK, closed="nothing-found", date="2031-05-01").text
    assert log(closed, **{**LOOKED, "looked": "same"}).added == ("looked",)


def test_a_fault_that_was_there_before_blocks_no_entry_and_one_of_the_file_is_told() -> None:
    old = REPAIRED + "  - {leak: L1, date: 2031-05-21, secured: our-own-way}\n"
    before = Callout.parse(old, "f.yaml", knowledge().attributes)
    assert len(log_problems(knowledge(), before)) == 1
    assert log(old, **LOOKED).added == ("looked",)
    (told,) = refused(REPAIRED.replace("kind: basement", "kind: basment"), LOOKED)
    assert told.startswith("f.yaml:4:")


SEASONS = (
    {**LOOKED, "date": "2032-01-20", "proof": "coldest-weeks"},
    {**LOOKED, "date": "2032-04-20", "proof": "one-wet-season"},
    {"told": "owner", "date": "2032-04-21"},
)
HELD = {"closed": "held", "date": "2032-05-01"}
PROVED = logs(REPAIRED, *SEASONS)


def test_a_closing_as_held_tells_every_gate_that_is_not_met() -> None:
    told = refused(REPAIRED, {**HELD, "cause-confirmed": "never"})
    assert len(told) == 4
    assert all(one.startswith("f.yaml: log: not yet closed as held; expected ") for one in told)
    unmet = open_gates(knowledge(), *_first(REPAIRED))
    assert len(unmet) == 5, "with the cause"


def _first(text: str):  # type: ignore[no-untyped-def]
    callout = Callout.parse(text, "f.yaml", knowledge().attributes)
    return callout, callout.leaks[0]


def test_a_closing_as_held_needs_the_cause_or_says_that_it_was_never_confirmed() -> None:
    (told,) = refused(PROVED, HELD)
    assert told.endswith("expected the cause is confirmed, or said never to have been")
    assert log(PROVED, **HELD, cause_confirmed="never").added == ("closed",)
    assert logs(PROVED, CONFIRMED, HELD)


def test_what_is_proved_after_the_day_of_closing_does_not_count() -> None:
    early = {**HELD, "date": "2032-03-01", "cause-confirmed": "never"}
    told = refused(PROVED, early)
    assert [one.partition("expected ")[2][:20] for one in told] == [
        "a full wet season wi",
        "the owner was told",
    ]


@pytest.mark.parametrize("signs", ["[]", "[bulge]", "unknown"])
def test_stops_are_those_of_the_whole_answer(signs: str) -> None:
    text = CRACK.replace("danger-signs: []", f"danger-signs: {signs}")
    again = "  - {date: 2031-05-20, danger-signs: []}\nleaks:\n"
    for callout in (_first(text)[0], _first(text.replace("leaks:\n", again))[0]):
        leak = callout.leaks[0]
        assert stops_now(knowledge(), callout, leak) == assess(callout, knowledge()).leaks[0].stops


def test_a_raised_stop_blocks_a_closing_as_held() -> None:
    raised = PROVED.replace("danger-signs: []", "danger-signs: [bulge]")
    (told,) = refused(raised, {**HELD, "cause-confirmed": "never"})
    assert told.endswith(f"now: {knowledge().stops['bulging-wall'].label}")


@pytest.mark.parametrize("why", WITHOUT)
def test_a_stated_reason_needs_no_gate(why: str) -> None:
    assert log(CRACK, closed=why, date="2031-04-17").callout.log[-1].day == date(2031, 4, 17)


def test_gates_are_asked_only_while_a_repair_is_watched() -> None:
    assert open_gates(knowledge(), *_first(CRACK)) == ()
    closed = log(PROVED, **HELD, cause_confirmed="never").text
    assert open_gates(knowledge(), *_first(closed)) == ()


def test_every_kind_can_be_logged_and_stays_readable() -> None:
    answers = {
        "secured": {"secured": "relief-pipe"},
        "agreed": {"agreed": RESIN, "by": "owner, engineer"},
        "done": DONE,
        "confirmed": CONFIRMED,
        "supported": {"supported": "early-thermal-crack"},
        "looked": LOOKED,
        "told": {"told": "owner"},
        "closed": {"closed": "refused"},
        "handed-over": {"handed-over": "structural engineer"},
    }
    assert answers.keys() == KINDS.keys()
    text = CRACK
    for kind, said in answers.items():
        before = text
        new = log(text, **{"date": "2031-06-20", "words": "so: # it is", **said})
        text = new.text
        assert new.added[-1] == kind
        assert text.startswith(before)
        assert new.callout.log[-1].words == "so: # it is"
    assert len(new.callout.log) == 1 + len(KINDS)
