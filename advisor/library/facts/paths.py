"""Which path and which water each wet place is put under, and what that rests on."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from advisor.callout.log_record import Without
from advisor.knowledge import Knowledge
from advisor.library.facts.counting import Bools
from advisor.library.store.columns import Columns, Ints, Words

_CLOSED_SO: Final[Without] = "not-through-the-structure"


@dataclass(frozen=True, slots=True)
class Paths:
    """One row for each wet place. path: a group of causes.

    confirmed: a cause was confirmed, and is what the row rests on. Else it rests on the cause
    that led when the advisor answered. Neither is there, or the knowledge does not know the
    cause: no path and no water.
    """

    path: Words
    water: Words
    confirmed: Bools


def paths_of(knowledge: Knowledge, columns: Columns) -> Paths:
    """What was confirmed wins."""
    confirmed = columns.cause.at >= 0
    groups, waters = (
        {cause.key: getattr(cause, part) for cause in knowledge.causes.values()}
        for part in ("group", "water")
    )

    def placed(named: dict[str, str]) -> Words:
        words = tuple(dict.fromkeys(named.values()))
        numbers = {word: number for number, word in enumerate(words)}
        of = {cause: numbers[word] for cause, word in named.items()}
        at = np.where(confirmed, _turned(columns.cause, of), _turned(columns.shown_best, of))
        return Words(words, at)

    return Paths(placed(groups), placed(waters), confirmed)


def not_through(knowledge: Knowledge, columns: Columns) -> Bools:
    """The rows that were closed because the water does not come through the structure, or whose
    confirmed cause does not."""
    outside = {
        cause.key: 1
        for cause in knowledge.causes.values()
        if cause.group in knowledge.groups and knowledge.groups[cause.group].through == "no"
    }
    confirmed_so = _turned(columns.cause, outside) == 1
    return np.asarray(columns.closed_because.are(_CLOSED_SO) | confirmed_so)


def _turned(words: Words, numbers: dict[str, int]) -> Ints:
    """For each row the number of its word; -1 where there is none."""
    of = np.array([*(numbers.get(word, -1) for word in words.words), -1], np.int64)
    return np.asarray(of[words.at])
