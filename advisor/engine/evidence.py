"""From settled values to evidence: which readings are still possible, and what they say.

Evidence of a family = P(what its reading can still be | hypothesis), the sum over the
readings not yet known to be false, after slips: a finding is right with a given
probability, else it is any reading by share. Kept as the log of how many times the
share alone it is, so that all left, or a hypothesis not mentioned, is exactly 0.

Every set of readings a family can be left with, sure or not, is a row of one big
table made once; a family's evidence for a million rows is then one look-up each.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

import numpy as np

from advisor.engine.circuit import Ints, ints
from advisor.engine.model import Bools, Family, Floats

TABLED_READINGS = 13
"""Up to here all sets of readings are tabled (2^13 sets); a longer family is worked out anew."""

MOST_READINGS = 62
"""A state, its set of readings and one bit more, is a signed 64-bit number."""

CHUNK = 32
"""Rows whose evidence is gathered at a time: it stays in the processor's nearest cache."""


@dataclass(frozen=True, slots=True)
class Readings:
    """possible: (families, rows) bits of readings not struck out (all bits: not read);
    sure: (families, rows)."""

    possible: Ints
    sure: Bools


@dataclass(frozen=True, slots=True)
class StateTable:
    """log_times: (states, hypotheses); log_share, telling: (states,). A state: 2 x set + sure."""

    log_times: Floats
    log_share: Floats
    telling: Floats


@dataclass(frozen=True, slots=True)
class Evidence:
    """The families' tables end to end; `first` is where each begins, -1 where it has none."""

    families: tuple[Family, ...]
    right: tuple[float, float]
    """How often an unsure and a sure finding is right."""
    table: StateTable
    first: Ints
    in_stories: Ints
    """Families that tell stories, story by story; each begins at one of `story_starts`."""
    story_starts: Ints
    story_sizes: Ints

    def look_up(self, readings: Readings) -> tuple[StateTable, Ints]:
        """A table and, per family and row, the state's row in it: (families, rows)."""
        states = 2 * readings.possible + readings.sure
        where = states + self.first[:, None]
        long = np.flatnonzero(self.first < 0)
        if not long.size:
            return self.table, where
        tables, end = [self.table], self.table.log_share.size
        for i in long:
            met, place = np.unique(states[i], return_inverse=True)
            tables.append(work_out_states(self.families[i], met, self.right))
            where[i] = end + place
            end += met.size
        return _end_to_end(tables), where

    def weights(self, table: StateTable, where: Ints) -> Floats:
        """(families, rows): log-weight of each family, below 1 where its story is told already.

        1 / (1 + (k - 1) / 2), where k adds up how much each read family of the story
        tells (share struck out / (1 - largest share left)), at least 1.
        """
        weights = np.ones(where.shape)
        if self.in_stories.size:
            each = table.telling[where[self.in_stories]]
            told = np.maximum(np.add.reduceat(each, self.story_starts, axis=0), 1.0)
            story = 1 / (1 + 0.5 * (told - 1))
            weights[self.in_stories] = np.repeat(story, self.story_sizes, axis=0)
        return weights


def add_up(table: StateTable, where: Ints, weights: Floats) -> Floats:
    """(rows, hypotheses): weighted log evidence of all families."""
    rows = where.shape[1]
    total = np.empty((rows, table.log_times.shape[1]))
    places, weights = np.ascontiguousarray(where.T), np.ascontiguousarray(weights.T)[:, None, :]
    for start in range(0, rows, CHUNK):
        part = slice(start, start + CHUNK)
        each = table.log_times.take(places[part], axis=0)
        total[part] = np.matmul(weights[part], each)[:, 0]
    return total


def work_out_states(family: Family, states: Ints, right: tuple[float, float]) -> StateTable:
    """What states of one family say: slipped probabilities over the shares, in logs."""
    sets = states >> 1
    bits = ((sets[:, None] >> np.arange(len(family.readings))) & 1).astype(np.float64)
    whole = sets == (1 << len(family.readings)) - 1
    left = bits @ family.shares
    divisor = np.where(left > 0, left, 1.0)
    rightness = np.where(states & 1, right[1], right[0])[:, None]
    with np.errstate(divide="ignore"):
        log = np.log(rightness * (bits @ family.likelihood) / divisor[:, None] + (1 - rightness))
    log[:, ~family.mentioned] = 0.0
    log[whole] = 0.0
    largest = (bits * family.shares).max(axis=1)
    return StateTable(
        log_times=log,
        log_share=np.log(np.where(whole, 1.0, divisor)),
        telling=np.where(whole, 0.0, (1 - left) / (1 - largest)),
    )


def make_evidence(families: Sequence[Family], right: tuple[float, float], width: int) -> Evidence:
    """Tables for all families that are short enough. right: (unsure, sure).

    Raises ValueError for over 62 readings.
    """
    tables = [StateTable(np.zeros((1, width)), np.zeros(1), np.zeros(1))]
    first, end = [], 1
    for family in families:
        size = len(family.readings)
        if size > MOST_READINGS:
            raise ValueError(f"{family.key}: at most {MOST_READINGS} readings, found {size}")
        if size > TABLED_READINGS:
            first.append(-1)
            continue
        states = np.arange(2 << size, dtype=np.intp)
        tables.append(work_out_states(family, states, right))
        first.append(end)
        end += states.size
    stories: dict[str, list[int]] = {}
    for i, family in enumerate(families):
        if family.story is not None:
            stories.setdefault(family.story, []).append(i)
    sizes = [len(members) for members in stories.values()]
    return Evidence(
        families=tuple(families),
        right=right,
        table=_end_to_end(tables),
        first=np.array(first, dtype=np.intp),
        in_stories=ints([i for members in stories.values() for i in members]),
        story_starts=ints([0, *accumulate(sizes)][:-1]),
        story_sizes=ints(sizes),
    )


def _end_to_end(tables: Sequence[StateTable]) -> StateTable:
    return StateTable(
        np.concatenate([t.log_times for t in tables]),
        np.concatenate([t.log_share for t in tables]),
        np.concatenate([t.telling for t in tables]),
    )
