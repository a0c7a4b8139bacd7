from math import isclose

from advisor import Callout
from advisor.assessment import reasons
from advisor.report import Page, screen_lines
from advisor.report.reasons import weight
from tests.report.results import CALM, knowledge, result_of, words_of, worked


def everything(text: str) -> str:
    callout = Callout.parse(text, "invented.yaml")
    told = [reasons(knowledge(), callout, leak) for leak in callout.leaks]
    return words_of(screen_lines(Page(), knowledge(), result_of(text), reasons=told))


def test_the_factors_shown_multiply_up_to_the_belief() -> None:
    for leak in worked().leaks:
        total = sum(map(weight, leak.causes))
        assert all(
            isclose(weight(c) / total, c.confidence, rel_tol=0, abs_tol=1e-9) for c in leak.causes
        )


def test_every_cause_is_explained_also_those_that_are_out() -> None:
    words = everything(CALM)
    for cause in result_of(CALM).leaks[0].causes:
        assert knowledge().causes[cause.cause].label in words
        for line in (*cause.for_, *cause.against):
            assert " ".join(line.text.split()) in words
        if cause.ruled_out is not None:
            assert " ".join(cause.ruled_out.split()) in words


def test_every_cause_that_is_not_out_says_why_it_does_not_lead() -> None:
    leak = result_of(CALM).leaks[0]
    left = [c for c in leak.causes[1:] if c.ruled_out is None]
    words = everything(CALM)
    told = words.count("Why not this?") + words.count("Nothing found tells this from")
    assert told == len(left)


def test_what_is_silent_and_what_would_follow_is_said() -> None:
    callout = Callout.parse(CALM, "invented.yaml")
    told = reasons(knowledge(), callout, callout.leaks[0])
    words = everything(CALM)
    for step in (*told.fired, *told.waiting):
        assert f"({step.deduction}" in words
    for label in told.silent:
        assert label in words
