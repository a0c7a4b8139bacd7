import re
from dataclasses import replace

from advisor.report import brief_lines
from advisor.report.brief import standing
from advisor.report.words import HARDLY
from tests.report.results import BULGE, CALM, NOTHING, TOLD, knowledge, result_of, text_of, worked


def brief(text: str) -> list[str]:
    return [line.text for line in brief_lines(knowledge(), result_of(text))]


def test_it_is_five_lines() -> None:
    heads = ("L1", "Still possible:", "Not consistent:", "Until then:", "Next look:")
    for text in (NOTHING, BULGE, CALM):
        lines = brief(text)
        assert len(lines) == 5
        assert all(line.startswith(head) for line, head in zip(lines, heads, strict=True))


def test_clear_and_not_clear() -> None:
    assert "not clear yet" in brief(NOTHING)[0]
    assert "clear enough to act on, not confirmed" in brief(CALM)[0]


def test_do_and_do_not_come_from_the_stops() -> None:
    until = brief(BULGE)[3]
    stop = knowledge().stops["bulging-wall"]
    assert f"DO ({stop.label}): {' '.join(stop.do.split())}" in until
    assert f"DO NOT, until released by {stop.released_by} and answered: all work" in until
    assert "DO NOT, until answered: all work, going in" in brief(NOTHING)[3]


def test_who_releases_is_said_once() -> None:
    until = brief(BULGE.replace("[bulge]", "[bulge, sag]"))[3]
    assert until.count("released by structural engineer and answered") == 1
    assert until.count("DO (") == 2


def test_a_barred_look_is_said_to_be_barred() -> None:
    assert "Barred until" in brief(BULGE)[4]
    assert "Barred" not in brief(CALM)[4]


def test_no_numbers_of_belief_no_promise_no_blame() -> None:
    text = text_of(brief_lines(knowledge(), worked()))
    assert "%" not in text
    assert "█" not in text
    assert not re.search(r"\b(safe|blame|liable|guilty|fault of)\b", text, re.IGNORECASE)


def test_what_was_never_tested_is_not_called_inconsistent() -> None:
    for cause in result_of(NOTHING).leaks[0].causes:
        if not (cause.for_ or cause.against or cause.needs or cause.ruled_out):
            assert standing(cause) == "not-tested"


def test_what_is_out_is_not_consistent_and_says_why() -> None:
    leak = result_of(CALM).leaks[0]
    out = [c for c in leak.causes if c.ruled_out is not None]
    assert out
    line = brief(CALM)[2]
    for cause in out:
        assert standing(cause) == "not-consistent"
        assert knowledge().causes[cause.cause].label in line
    assert "(not here: movement joints in this part)" in line
    assert "(found: " in line


def test_the_unlisted_is_always_possible() -> None:
    label = knowledge().causes["not-in-this-list"].label
    assert brief(CALM)[1].endswith(f"{label}.")


def test_a_rare_cause_is_not_inconsistent_for_one_weak_word() -> None:
    """Told on the telephone that it is wet after rain: a pipe may leak all the same."""
    causes = result_of(TOLD).leaks[0].causes
    pipe = next(cause for cause in causes if cause.cause == "supply-pipe-leak")
    assert pipe.against
    assert pipe.confidence < 0.01
    assert standing(pipe) == "open"


def test_open_stops_are_asked_in_their_own_words() -> None:
    asked = knowledge().stops["bulging-wall"].ask
    first = next(iter(knowledge().stops.values()))
    assert f"answer first: {first.ask}" in brief(NOTHING)[3]
    assert f"{asked} " in brief(NOTHING)[3]
    assert "?." not in brief(NOTHING)[3]


def test_the_folder_of_the_file_is_not_forwarded() -> None:
    """Its path may name the customer, or the dispute."""
    leak = replace(result_of(CALM).leaks[0], file="/home/me/a-customer/callout.yaml")
    lines = brief_lines(knowledge(), replace(result_of(CALM), leaks=(leak,)))
    assert lines[0].text.startswith("L1 (callout.yaml): ")


def test_findings_that_do_not_fit_together_are_not_passed_over() -> None:
    twice = CALM.replace("wall-foot\n", "[{value: wall foot}, {value: wall head}]\n", 1)
    assert result_of(twice).leaks[0].conflicts
    assert brief(twice)[0].endswith("Some findings do not fit together.")
    assert "fit together" not in brief(CALM)[0]


def test_a_look_that_tells_hardly_anything_is_not_sold_as_more() -> None:
    calm = result_of(CALM)
    first = calm.leaks[0].next[0]

    def last_line(bits: float) -> str:
        leak = replace(calm.leaks[0], next=(replace(first, bits=bits),))
        return brief_lines(knowledge(), replace(calm, leaks=(leak,)))[4].text

    assert last_line(HARDLY / 2).endswith("It would tell hardly anything more.")
    assert "hardly" not in last_line(HARDLY * 2)
