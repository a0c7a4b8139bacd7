"""The firm's own history counted into base rates and into the rates of methods.

The shipped figures are the prior, with a weight in cases; the weight is the one that would have
foretold the own cases best, each from those before it. Base rates: a Dirichlet prior for each kind
of structure. Rates: a Beta prior for each line of a method, updated with the share that held for
24 months (interval-censored) times the number of repairs whose fate at 24 months is known.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Final

import numpy as np
import numpy.typing as npt

from advisor.engine.model import Floats
from advisor.knowledge import Knowledge, Method
from advisor.knowledge.library_entries import History
from advisor.knowledge.repair_entries import Holds
from advisor.library.facts.own_counts import (
    TWO_YEARS,
    ConfirmedPlaces,
    ToldRepairs,
    confirmed_places,
    told_repairs,
)
from advisor.library.facts.survival import interval_censored
from advisor.library.store.columns import Columns, Ints

BASE_WEIGHTS: Final = (1000.0, 300.0, 100.0, 30.0, 10.0)
RATE_TIMES: Final = (4.0, 2.0, 1.0, 0.5, 0.25)
"""What the weights are chosen from, the most careful first: it wins where others do no better."""
USUAL_BASE, USUAL_TIMES = 300.0, 1.0
FEWEST: Final = 30
"""Cases below which no weight is chosen: the usual one stands."""
LEAST: Final = 1e-6


def with_history(knowledge: Knowledge, columns: Columns, *, invented: bool = False) -> Knowledge:
    """The knowledge with the own history in it, and with how much of each figure is the book's.

    invented: the cases are those of a demonstration.
    """
    confirmed = confirmed_places(knowledge, columns, _kinds(knowledge))
    repairs = told_repairs(knowledge, columns)
    shipped = _shipped(knowledge)
    weight = _chosen(_foretold_bases(shipped, confirmed), BASE_WEIGHTS, USUAL_BASE, confirmed.count)
    times = _chosen(
        _foretold_rates(knowledge, repairs), RATE_TIMES, USUAL_TIMES, repairs.known_fates
    )
    counts = np.zeros_like(shipped)
    np.add.at(counts, (confirmed.kind, confirmed.cause), confirmed.weight)
    total = weight + counts.sum(axis=1, keepdims=True)
    rates, book = (weight * shipped + counts) / total, weight * shipped / total
    methods, shares = _methods(knowledge, repairs, times)
    kinds = _kinds(knowledge)
    hypotheses = tuple(
        replace(h, base={kind: float(r) for kind, r in zip(kinds, rates[:, i], strict=True) if r})
        for i, h in enumerate(knowledge.model.hypotheses)
    )
    return replace(
        knowledge,
        model=replace(knowledge.model, hypotheses=hypotheses),
        methods=methods,
        history=History(
            invented=invented,
            places=confirmed.count,
            repairs=repairs.known_fates,
            base_weight=weight,
            rate_times=times,
            book_rates=book,
            book_shares=shares,
        ),
    )


def _kinds(knowledge: Knowledge) -> tuple[str, ...]:
    by = knowledge.model.base_by
    return next((v.choices for v in knowledge.model.variables if v.key == by), ("",))


def _shipped(knowledge: Knowledge) -> Floats:
    """(kinds, causes) base rates of the book, each kind summing to 1."""
    rates = np.array(
        [
            [
                h.base.get(kind, 0.0) if isinstance(h.base, Mapping) else h.base
                for kind in _kinds(knowledge)
            ]
            for h in knowledge.model.hypotheses
        ]
    ).T
    return np.asarray(rates / rates.sum(axis=1, keepdims=True))


def _before(group: Ints, amounts: Floats) -> Floats:
    """For each row the sum of the amounts of its group in the rows before it."""
    order = np.argsort(group, kind="stable")
    sums = np.cumsum(amounts[order]) - amounts[order]
    starts = np.r_[True, np.diff(group[order]) != 0] if group.size else np.zeros(0, bool)
    first = sums[starts][np.cumsum(starts) - 1] if group.size else sums
    found = np.empty_like(amounts)
    found[order] = sums - first
    return found


def _foretold_bases(shipped: Floats, confirmed: ConfirmedPlaces) -> list[float]:
    """For each weight how well each case was foretold by the book and those before: log score."""
    kind, cause, weight = confirmed.kind, confirmed.cause, confirmed.weight
    of_kind = _before(kind, weight)
    of_cause = _before(kind * shipped.shape[1] + cause, weight)
    book = shipped[kind, cause]
    return [
        float(weight @ np.log(np.maximum((m * book + of_cause) / (m + of_kind), LEAST)))
        for m in BASE_WEIGHTS
    ]


def _foretold_rates(knowledge: Knowledge, repairs: ToldRepairs) -> list[float]:
    """The same for the lines of the methods, over repairs whose fate at 24 months is known."""
    known = repairs.known
    rate, worth, line = _lines_of(knowledge, repairs)
    rate, worth, line = rate[known], worth[known], line[known]
    held = (repairs.held[known] >= TWO_YEARS).astype(np.float64)
    weight = repairs.weight[known]
    of_line, of_held = _before(line, weight), _before(line, weight * held)
    scores = []
    for times in RATE_TIMES:
        says = (times * worth * rate + of_held) / (times * worth + of_line)
        says = np.clip(np.where(held > 0, says, 1 - says), LEAST, 1.0)
        scores.append(float(weight @ np.log(says)))
    return scores


def _chosen(scores: list[float], weights: tuple[float, ...], usual: float, cases: int) -> float:
    """The weight with the best score; of equals the most careful one."""
    if cases < FEWEST:
        return usual
    return weights[int(np.argmax(scores))]


def _lines(knowledge: Knowledge, method: Method) -> Iterator[tuple[Holds, tuple[int, ...]]]:
    """Each line of a method with the causes it counts for: a cause's own line beats its group's."""
    own = {name for line in method.holds for name in line.named if name in knowledge.causes}
    for line in method.holds:
        yield (
            line,
            tuple(
                number
                for number, cause in enumerate(knowledge.causes.values())
                if cause.key in line.named or (cause.group in line.named and cause.key not in own)
            ),
        )


def _lines_of(knowledge: Knowledge, repairs: ToldRepairs) -> tuple[Floats, Floats, Ints]:
    """For each repair the rate and weight of its line, and the line's number; 0 and -1 for none.

    Lines count through all methods, as `_lines` gives them.
    """
    shape = len(knowledge.methods), len(knowledge.causes)
    rate, worth = np.zeros(shape), np.full(shape, LEAST)
    number = np.full(shape, -1, dtype=np.int64)
    count = 0
    for i, method in enumerate(knowledge.methods.values()):
        for line, causes in _lines(knowledge, method):
            places = list(causes)
            rate[i, places], worth[i, places], number[i, places] = line.rate, line.weight, count
            count += 1
    at = repairs.method, repairs.cause
    return rate[at], worth[at], number[at]


def _methods(
    knowledge: Knowledge, repairs: ToldRepairs, times: float
) -> tuple[dict[str, Method], dict[str, dict[str, float]]]:
    """The methods with their rates updated, and what share of each is the book's."""
    causes = tuple(knowledge.causes)
    methods: dict[str, Method] = {}
    shares: dict[str, dict[str, float]] = {}
    of_line = _lines_of(knowledge, repairs)[2]
    in_order = np.argsort(of_line, kind="stable")
    starts = np.searchsorted(of_line, np.arange(of_line.max(initial=-1) + 2), sorter=in_order)
    rows_of = dict(enumerate(np.split(in_order, starts)[1:-1]))
    known_weight = np.where(repairs.known, repairs.weight, 0.0)
    count = 0
    for key, method in knowledge.methods.items():
        lines = []
        for line, named in _lines(knowledge, method):
            rows = rows_of.get(count, in_order[:0])
            count += 1
            own = float(known_weight[rows].sum())
            worth = times * line.weight
            rate = line.rate
            if own > 0:
                rate = (worth * line.rate + own * _share_held(repairs, rows)) / (worth + own)
            lines.append(replace(line, rate=rate, weight=worth + own))
            for cause in named:
                shares.setdefault(key, {})[causes[cause]] = worth / (worth + own)
        methods[key] = replace(method, holds=tuple(lines))
    return methods, shares


def _share_held(repairs: ToldRepairs, rows: npt.NDArray[np.intp]) -> float:
    """The share that held for 24 months. A failure lies between two looks: taken on the day it
    was found, those that failed in between would count as having held."""
    (after,) = interval_censored(
        repairs.held[rows], repairs.failed[rows], (TWO_YEARS,), repairs.weight[rows]
    )
    return after.share
