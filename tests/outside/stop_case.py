"""One way to raise a stop, as the tables of conditions write it."""

from collections.abc import Mapping
from typing import NamedTuple

RAISED, OPEN, NEITHER = "raised", "open", "neither"
Answers = Mapping[str, str]
NOTHING: Answers = {}


class Case(NamedTuple):
    """One way to raise a stop, and what it is without.

    finding: raises it; answer: the same asked and found otherwise; beside: what stays in both;
    unanswered: the state where nobody has said anything but `beside`.
    """

    stop: str
    finding: Answers
    answer: Answers
    unanswered: str
    beside: Answers = NOTHING


def door(stop: str, attribute: str, choice: str) -> Case:
    """Asked at the door: one choice of several, or yes."""
    if choice == "yes":
        return one(stop, attribute, ("yes", "no"), OPEN)
    return one(stop, attribute, (f"[{choice}]", "[]"), OPEN)


def one(
    stop: str,
    attribute: str,
    said: tuple[str, str],
    unanswered: str,
    beside: Answers = NOTHING,
) -> Case:
    """One attribute, said in two ways: the first raises it, the second closes it."""
    raises, closes = said
    return Case(stop, {attribute: raises}, {attribute: closes}, unanswered, beside)


def of_several(
    stop: str, attribute: str, choices: str, unanswered: str, beside: Answers
) -> list[Case]:
    """Each of these choices alone raises it."""
    return [
        one(stop, attribute, (f"[{choice}]", "[]"), unanswered, beside)
        for choice in choices.split()
    ]
