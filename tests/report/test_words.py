from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.knowledge import STEPS
from advisor.knowledge.repair_entries import ACTIVITIES
from advisor.report.words import duration, of_leaks, steps, telling, times_words
from tests.report.results import knowledge


@pytest.mark.parametrize(
    ("times", "words"),
    [
        (6.0, "6 times as common"),
        (10.0, "10 times as common"),
        (2.0, "twice as common"),
        (1.5, "half as common again"),
        (0.5, "half as common"),
        (0.33, "a third as common"),
        (0.25, "a quarter as common"),
        (0.1, "a tenth as common"),
        (0.02, "50 times rarer"),
        (0.0, "never met"),
        (inf, "met with no other"),
    ],
)
def test_times_in_words(times: float, words: str) -> None:
    assert times_words(knowledge(), times) == words


@given(st.floats(1e-6, 1e6))
def test_more_is_never_called_less(times: float) -> None:
    words = times_words(knowledge(), times)
    fewer = "less" in words or "rarer" in words or words.startswith(("a ", "an ", "half as common"))
    if "again" in words or "more" in words:
        fewer = False
    if words.startswith(("two thirds", "three quarters")):
        fewer = True
    assert fewer == (times < 1)


@given(st.floats(0.002, 1), st.floats(0.002, 1))
def test_counts_are_as_near_as_a_thousand_leaks_can_tell(one: float, other: float) -> None:
    whole, n, m = of_leaks(one, other)
    assert abs(n / whole - one) <= max(0.15 * one, 0.0005)
    assert abs(m / whole - other) <= max(0.15 * other, 0.0005)
    assert whole in (10, 20, 100, 1000)


def test_clear_differences_are_told_in_tens() -> None:
    assert of_leaks(0.8, 0.2) == (10, 8, 2)


def test_every_step_has_its_word() -> None:
    assert all(steps(knowledge(), (step,)) for step in (*STEPS, *ACTIVITIES))
    assert steps(knowledge(), ("all-work", "dig")) == "all work, digging"


def test_durations_say_work_and_waiting() -> None:
    assert duration(knowledge(), 5, 0) == "5 minutes, no waiting"
    assert duration(knowledge(), 1, 1) == "1 minute, then 1 hour of waiting"
    assert duration(knowledge(), 180, 24) == "3 hours, then 24 hours of waiting"
    assert duration(knowledge(), 10, 720) == "10 minutes, then 30 days of waiting"


def test_bits_are_a_word_and_a_number() -> None:
    assert telling(knowledge(), 0.61) == "tells a lot (0.61 bits)"
    assert telling(knowledge(), 0.2) == "tells something (0.20 bits)"
    assert telling(knowledge(), 0.01).startswith("tells hardly anything")
