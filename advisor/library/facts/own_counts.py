"""Own cases as numbers in the order of time: confirmed causes by kind, and what repairs told."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from advisor.engine.model import Floats
from advisor.knowledge import Knowledge
from advisor.library.facts.survival import MONTHS
from advisor.library.store.columns import Columns, Ints, Words

TWO_YEARS: Final = MONTHS[24]


@dataclass(frozen=True, slots=True)
class ConfirmedPlaces:
    """Places whose cause was confirmed, in the order of time: numbers of kinds and causes."""

    kind: Ints
    cause: Ints
    weight: Floats

    @property
    def count(self) -> int:
        return self.kind.size


@dataclass(frozen=True, slots=True)
class ToldRepairs:
    """Repairs of places whose cause was confirmed, in the order of time. failed: inf for none."""

    method: Ints
    cause: Ints
    held: Floats
    failed: Floats
    weight: Floats

    @property
    def known(self) -> npt.NDArray[np.bool_]:
        """Whose fate after 24 months is known."""
        return (self.failed <= TWO_YEARS) | (self.held >= TWO_YEARS)

    @property
    def known_fates(self) -> int:
        return int(self.known.sum())


def _numbers(words: Words, keys: tuple[str, ...]) -> Ints:
    """For each row the number of its word among the keys; -1 for none of them."""
    place = {key: i for i, key in enumerate(keys)}
    of_word = np.array([*(place.get(word, -1) for word in words.words), -1], dtype=np.int64)
    return np.asarray(of_word[words.at])


def _in_time(columns: Columns) -> Ints:
    """Rows in the order of quarters; those of one quarter as they were added."""
    order = {word: i for i, word in enumerate(sorted(columns.quarter.words))}
    of_word = np.array([*(order[word] for word in columns.quarter.words), -1], dtype=np.int64)
    return np.asarray(np.argsort(of_word[columns.quarter.at], kind="stable"))


def _weights(knowledge: Knowledge, columns: Columns) -> Floats:
    of_word = np.array([*(knowledge.weights.history[w] for w in columns.origin.words), 0.0])
    return np.asarray(of_word[columns.origin.at])


def confirmed_places(
    knowledge: Knowledge, columns: Columns, kinds: tuple[str, ...]
) -> ConfirmedPlaces:
    kind = _numbers(columns.kind, kinds)
    cause = _numbers(columns.cause, tuple(knowledge.causes))
    rows = _in_time(columns)
    rows = rows[(kind[rows] >= 0) & (cause[rows] >= 0)]
    return ConfirmedPlaces(kind[rows], cause[rows], _weights(knowledge, columns)[rows])


def told_repairs(knowledge: Knowledge, columns: Columns) -> ToldRepairs:
    method = _numbers(columns.repair_method, tuple(knowledge.methods))
    cause = _numbers(columns.cause, tuple(knowledge.causes))[columns.repair_row]
    rank = np.empty(columns.case.size, dtype=np.int64)
    rank[_in_time(columns)] = np.arange(columns.case.size)
    rows = np.argsort(rank[columns.repair_row], kind="stable")
    failed = np.where(np.isnan(columns.repair_failed), np.inf, columns.repair_failed)
    told = (columns.repair_held > 0) | np.isfinite(failed)
    rows = rows[((method >= 0) & (cause >= 0) & told)[rows]]
    weight = _weights(knowledge, columns)[columns.repair_row]
    held = columns.repair_held.astype(np.float64)
    return ToldRepairs(method[rows], cause[rows], held[rows], failed[rows], weight[rows])
