"""Figures in words a person would use. Screen words only: names come from the knowledge."""

from collections.abc import Mapping
from math import inf
from typing import Final

_LEAST: Final = (
    (2.8, "{times:,.0f} times as common"),
    (2.3, "two and a half times as common"),
    (1.71, "twice as common"),
    (1.41, "half as common again"),
    (1.2, "a third more common"),
    (1.03, "a little more common"),
    (1.0, "hardly more common"),
    (0.97, "hardly less common"),
    (0.83, "a little less common"),
    (0.71, "three quarters as common"),
    (0.58, "two thirds as common"),
    (0.42, "half as common"),
    (0.29, "a third as common"),
    (0.225, "a quarter as common"),
    (0.182, "a fifth as common"),
    (0.154, "a sixth as common"),
    (0.133, "a seventh as common"),
    (0.118, "an eighth as common"),
    (0.105, "a ninth as common"),
    (0.095, "a tenth as common"),
)
"""How many times, at least, and its words."""

HARDLY: Final = 0.03
"""A look worth fewer bits tells hardly anything."""

STEP_WORDS: Final[Mapping[str, str]] = {
    "all-work": "all work",
    "enter": "going in",
    "drill": "drilling",
    "break-out": "breaking out",
    "seal": "sealing",
    "rigid-fill": "filling with a rigid material",
    "inject": "injecting",
    "empty": "emptying",
    "dig": "digging",
}

STATUS_WORDS: Final[Mapping[str, str]] = {
    "verified": "read in a stored copy",
    "from-memory": "from memory, not found in stored material",
    "common-practice": "common practice, no source",
    "own-judgement": "the project's own judgement, nobody has measured it",
}

WHO_WORDS: Final[Mapping[str, str]] = {
    "eyes-here": "anyone who stands here",
    "occupant": "the occupant",
    "own-office": "the office",
    "own-technician": "your own technician",
    "owners-file": "the owner's file",
    "worked-out": "nobody: it is worked out",
}


def times_words(times: float) -> str:
    """How much more or less common: `6 times as common`, `a third as common`."""
    if times == 0:
        return "never met"
    if times == inf:
        return "met with no other"
    words = next((words for least, words in _LEAST if times >= least), None)
    return words.format(times=times) if words else f"{1 / times:,.0f} times rarer"


def of_leaks(one: float, other: float) -> tuple[int, int, int]:
    """Two probabilities as counts: (out of how many, one, other), fewest that tell them apart."""
    for whole in (10, 20, 100, 1000):
        counts = round(one * whole), round(other * whole)
        near = all(
            abs(n / whole - p) <= 0.15 * p for n, p in zip(counts, (one, other), strict=True)
        )
        if near and counts[0] != counts[1]:
            return (whole, *counts)
    return 1000, round(one * 1000), round(other * 1000)


def duration(minutes: float, wait_hours: float) -> str:
    """`15 minutes, then 24 hours of waiting`."""
    work = f"{minutes:g} minute{'s' * (minutes != 1)}"
    if minutes >= 120:
        work = f"{minutes / 60:.3g} hours"
    if wait_hours == 0:
        return f"{work}, no waiting"
    if wait_hours < 72:
        return f"{work}, then {wait_hours:g} hour{'s' * (wait_hours != 1)} of waiting"
    return f"{work}, then {wait_hours / 24:.3g} days of waiting"


def telling(bits: float) -> str:
    """What a look is worth: a plain word and the figure."""
    for least, words in ((0.5, "a lot"), (0.15, "something"), (HARDLY, "a little")):
        if bits >= least:
            return f"tells {words} ({bits:.2f} bits)"
    return f"tells hardly anything (under {HARDLY} bits)"


def steps(keys: tuple[str, ...]) -> str:
    """What a stop bars."""
    return ", ".join(STEP_WORDS.get(key, key) for key in keys)


def who(key: str) -> str:
    """Who does it, or can know it."""
    return WHO_WORDS.get(key, key.replace("-", " "))
