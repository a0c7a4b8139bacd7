"""The meaning of the assessment screen, not its exact words."""

from dataclasses import replace
from pathlib import Path

import pytest

from advisor import Callout, assess, open_knowledge
from advisor.diagnosis import answered_by, barring
from advisor.report import Page, screen_lines
from advisor.report.words import steps
from tests.report.results import (
    BULGE,
    CALM,
    NOTHING,
    knowledge,
    result_of,
    text_of,
    words_of,
    worked,
)


def screen(text: str) -> str:
    return text_of(screen_lines(Page(), knowledge(), result_of(text)))


def test_the_title_names_leak_and_file() -> None:
    assert screen(CALM).splitlines()[0] == "Wet place L1, in invented.yaml"


def test_parts_stand_in_the_order_of_need() -> None:
    shown = screen(BULGE)
    parts = [
        "STOPS: DO THIS FIRST",
        "STOPS NOT ANSWERED YET",
        "IS IT THROUGH THE CONCRETE?",
        "WHICH WATER?",
        "WHICH PATH?",
        "WHICH CAUSE?",
        "IS IT SETTLED?",
        "WHAT WOULD HOLD?",
        "THE PLAN IN SHORT",
        "WHAT SPEAKS FOR AND AGAINST",
        "WHAT IT HANGS ON",
        "NEXT LOOKS",
        "\nadvisor ",
    ]
    places = [shown.index(part) for part in parts if part in shown]
    assert places == sorted(places)
    missing = {part for part in parts if part not in shown}
    assert missing <= {"STOPS NOT ANSWERED YET"}


def test_a_raised_stop_says_what_to_do_what_is_barred_and_who_releases_it() -> None:
    stop = knowledge().stops["bulging-wall"]
    words = words_of(screen_lines(Page(), knowledge(), result_of(BULGE)))
    before_causes = words[: words.index("WHICH CAUSE?")]
    for said in (f"STOP: {stop.label}", stop.do, steps(knowledge(), stop.bars), stop.released_by):
        assert said in before_causes


def test_an_unanswered_stop_asks_its_question_and_says_where_to_write_the_answer() -> None:
    result = result_of(NOTHING)
    words = words_of(screen_lines(Page(), knowledge(), result))
    for state in result.leaks[0].stops:
        stop = knowledge().stops[state.stop]
        asked = {knowledge().attributes[key].question for key in answered_by(knowledge(), stop.key)}
        assert state.state == "open"
        if stop.asked == "at-the-door" and len(asked) == 1:  # one question stands for several
            assert words.count(f"OPEN: {asked.pop()}") == 1
        else:
            assert f"OPEN: {stop.ask}" in words
    assert f"OPEN: {knowledge().attributes['danger-signs'].question}" in words
    under = words[words.index("Write the answers under: ") : words.index("Looks that answer them:")]
    assert "danger-signs" in under
    assert (
        knowledge().looks["ask-at-the-door"].label in words[: words.index("THROUGH THE CONCRETE")]
    )


def test_no_stop_no_heading() -> None:
    assert result_of(CALM).leaks[0].stops == ()
    assert "STOP" not in screen(CALM)


def test_looks_barred_by_a_raised_stop_are_shown_as_barred() -> None:
    assert screen(BULGE).count("BARRED") == len(result_of(BULGE).leaks[0].next)
    assert "BARRED" not in screen(CALM)


def test_the_look_that_answers_an_open_stop_is_not_barred_by_it() -> None:
    stops = result_of(NOTHING).leaks[0].stops
    door = next(k for k in knowledge().looks.values() if "danger-signs" in k.attributes)
    other = next(k for k in knowledge().looks.values() if "danger-signs" not in k.attributes)
    assert barring(knowledge(), stops, door) == ()
    assert barring(knowledge(), stops, other)


def test_settled_on_a_cause_is_not_called_confirmed() -> None:
    leak = result_of(CALM).leaks[0]
    assert leak.settled_on == "cause"
    label = knowledge().causes[leak.causes[0].cause].label
    assert f"Clear enough to act on, not confirmed: {label}." in screen(CALM)


def test_nothing_known_is_open_and_shows_the_base_rates() -> None:
    shown = screen(NOTHING)
    assert "Open. No cause is clear enough to act on." in shown
    assert "Clear enough" not in shown


def test_one_cause_alone_is_not_called_still_between() -> None:
    calm = result_of(CALM)
    leak = calm.leaks[0]
    leader, *others = leak.causes
    few = tuple(replace(cause, confidence=0.05) for cause in others)
    lone = replace(leak, settled=False, settled_on=None, causes=(leader, *few))
    words = words_of(screen_lines(Page(), knowledge(), replace(calm, leaks=(lone,))))
    assert f"Ahead, but not clear: {knowledge().causes[leader.cause].label}" in words
    assert "Still between" not in words
    two = (replace(leader, confidence=0.5), replace(others[0], confidence=0.4), *few[1:])
    both = replace(lone, causes=two)
    assert "Still between:" in words_of(
        screen_lines(Page(), knowledge(), replace(calm, leaks=(both,)))
    )


def test_settled_on_a_group_says_that_the_cause_is_open() -> None:
    calm = result_of(CALM)
    leak = replace(calm.leaks[0], settled_on="group")
    lines = screen_lines(Page(), knowledge(), replace(calm, leaks=(leak,)))
    label = knowledge().groups[leak.groups[0].group].label
    assert f"not confirmed: the path, {label}. Which cause of it is still open:" in words_of(lines)


def test_small_causes_are_counted_and_those_that_are_out_too() -> None:
    leak = result_of(CALM).leaks[0]
    out = [c for c in leak.causes if c.ruled_out is not None]
    small = [c for c in leak.causes if c.ruled_out is None and c.confidence < 0.01]
    assert out
    assert f"{len(out)} cause" in screen(CALM)
    if small:
        assert f"{len(small)} other cause" in screen(CALM)


@pytest.mark.parametrize("width", [60, 80, 100])
def test_no_line_of_any_worked_case_is_wider_than_the_page(width: int) -> None:
    lines = screen_lines(Page(width), knowledge(), worked())
    assert max(len(line.text) for line in lines) <= width


def test_every_part_of_the_result_reaches_the_screen() -> None:
    words = words_of(screen_lines(Page(), knowledge(), worked()))
    for leak in worked().leaks:
        for conflict in leak.conflicts:
            assert " ".join(conflict.text.split()) in words
        for contributor in leak.contributors:
            assert " ".join(contributor.text.split()) in words
        for look in leak.next:
            assert " ".join(knowledge().looks[look.look].do.split()) in words


def test_no_result_no_screen() -> None:
    empty = replace(worked(), leaks=())
    assert screen_lines(Page(), knowledge(), empty) == []


def test_entries_of_an_own_folder_are_named_at_the_foot(tmp_path: Path) -> None:
    (tmp_path / "sources.yaml").write_text("our-files: {title: Our files, status: own-judgement}\n")
    own = open_knowledge(tmp_path)
    callout = Callout.parse(NOTHING, "invented.yaml", own.attributes)
    words = words_of(screen_lines(Page(), own, assess(callout, own)))
    assert "1 entry of your own folder (our-files)" in words
