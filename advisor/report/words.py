"""Figures in words a person would use. The words stand in the phrases of the knowledge."""

from math import inf, nextafter
from typing import Final, Literal

from advisor.diagnosis import three_figures
from advisor.knowledge import Knowledge, read_aloud
from advisor.report.lines import counted
from advisor.terms import Range, say_range

_LEAST: Final = (
    (2.8, "times"),
    (2.3, "two-and-a-half"),
    (1.71, "twice"),
    (1.41, "half-again"),
    (1.2, "third-more"),
    (1.03, "little-more"),
    (1.0, "hardly-more"),
    (0.97, "hardly-less"),
    (0.83, "little-less"),
    (0.71, "three-quarters"),
    (0.58, "two-thirds"),
    (0.42, "half"),
    (0.29, "third"),
    (0.225, "quarter"),
    (0.182, "fifth"),
    (0.154, "sixth"),
    (0.133, "seventh"),
    (0.118, "eighth"),
    (0.105, "ninth"),
    (0.095, "tenth"),
)
"""How many times, at least, and the phrase for it; under the last one it is so much rarer."""

HARDLY: Final = 0.03
"""A look worth fewer bits tells hardly anything."""


def times_words(
    knowledge: Knowledge, times: float, what: Literal["common", "likely"] = "common"
) -> str:
    """How much more or less common: `6 times as common`, `a third as common`."""
    if times in (0, inf):
        return knowledge.say(f"{what}-{'with-no-other' if times else 'never'}")
    step = next((step for least, step in _LEAST if times >= least), "rarer")
    if step in ("times", "rarer"):
        count = times if step == "times" else 1 / times
        return knowledge.say(f"{what}-{step}", times=f"{count:,.0f}")
    return knowledge.say(f"{what}-{step}")


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


def duration(knowledge: Knowledge, minutes: float, wait_hours: float) -> str:
    """`15 minutes, then 24 hours of waiting`."""
    work = counted(knowledge, "minutes", minutes)
    if minutes >= 120:
        work = counted(knowledge, "hours", _rounded(minutes / 60))
    if wait_hours == 0:
        return knowledge.say("no-waiting", work=work)
    wait = counted(knowledge, "hours", wait_hours)
    if wait_hours >= 72:
        wait = counted(knowledge, "days", _rounded(wait_hours / 24))
    return knowledge.say("then-waiting", work=work, wait=wait)


def _rounded(number: float) -> float:
    """To three figures."""
    return float(f"{number:.3g}")


def telling(knowledge: Knowledge, bits: float) -> str:
    """What a look is worth: a plain word and the figure."""
    for least, words in ((0.5, "a-lot"), (0.15, "something"), (HARDLY, "a-little")):
        if bits >= least:
            return knowledge.say(f"tells-{words}", bits=f"{bits:.2f}")
    return knowledge.say("tells-hardly-anything", bits=HARDLY)


def steps(knowledge: Knowledge, keys: tuple[str, ...]) -> str:
    """What a stop bars."""
    return ", ".join(knowledge.say(f"step-{key}") for key in keys)


def who(knowledge: Knowledge, key: str) -> str:
    """Who does it, or can know it; for a look that may be any text."""
    known = f"who-{key}"
    return knowledge.say(known) if known in knowledge.phrases else key.replace("-", " ")


def range_words(knowledge: Knowledge, low: float, high: float, unit: str) -> str:
    """Low to high with the unit, to three figures; one number where they are the same."""
    ends = three_figures(Range(low, nextafter(high, inf)))
    return read_aloud(knowledge, say_range(ends, unit))
