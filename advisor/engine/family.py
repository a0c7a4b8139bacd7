"""From words to tables: P(reading | hypothesis) of one family.

share: how often a reading is met where the hypothesis is not mentioned.
times: how many times that. Readings that a hypothesis does not mention divide what
is left in proportion to their shares.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from advisor.engine.model import Bools, Floats

WHOLE_WITHIN = 0.001
"""A table given whole sums to 1 within this, and is then made to sum to 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """times the share. at_most: a word's ceiling for P(reading | hypothesis); None: exact."""

    times: float
    at_most: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A word that was cut so that the probability stays under its ceiling."""

    reading: str
    hypothesis: str
    asked: float
    given: float


@dataclass(frozen=True, slots=True)
class TableResult:
    """likelihood: (readings, hypotheses); faults: (reading or None, hypothesis or None, text)."""

    likelihood: Floats
    mentioned: Bools
    cuts: tuple[Cut, ...]
    faults: tuple[tuple[str | None, str | None, str], ...]


def build_table(
    readings: Sequence[str],
    shares: Sequence[float],
    hypotheses: Sequence[str],
    times: Mapping[str, Mapping[str, Weight]],
    *,
    least_left: float = 0.02,
) -> TableResult:
    """times: hypothesis -> reading -> Weight. Every fault is listed, none stops the others."""
    faults: list[tuple[str | None, str | None, str]] = []
    cuts: list[Cut] = []
    share = np.array(shares, dtype=np.float64)
    if (share <= 0).any():
        faults += [
            (r, None, "the share is above 0")
            for r, s in zip(readings, shares, strict=True)
            if s <= 0
        ]
    if abs(share.sum() - 1) > WHOLE_WITHIN:
        faults.append((None, None, f"the shares sum to 1, here they sum to {share.sum():.4g}"))
    share = share / share.sum() if share.sum() > 0 else share
    table = np.repeat(share[:, None], len(hypotheses), axis=1)
    mentioned = np.zeros(len(hypotheses), dtype=np.bool_)
    for column, hypothesis in enumerate(hypotheses):
        said = times.get(hypothesis)
        if not said:
            continue
        mentioned[column] = True
        numbers = [said.get(r) for r in readings]
        p = np.zeros(len(readings))
        for i, (reading, weight) in enumerate(zip(readings, numbers, strict=True)):
            if weight is None:
                continue
            p[i], fault, cut = _probability(share[i], weight)
            if fault:
                faults.append((reading, hypothesis, fault))
            if cut:
                cuts.append(
                    Cut(
                        reading=reading,
                        hypothesis=hypothesis,
                        asked=weight.times,
                        given=p[i] / share[i],
                    )
                )
        place, fault = _fill(p, readings, share, numbers, least_left)
        if fault:
            faults.append((None if place is None else readings[place], hypothesis, fault))
        table[:, column] = p
    return TableResult(table, mentioned, tuple(cuts), tuple(faults))


def _probability(share: float, weight: Weight) -> tuple[float, str | None, bool]:
    """P(reading | hypothesis), what is wrong with it, and whether a word was cut.

    After a fault the share stands in, so that one mistake is told once.
    """
    asked = share * weight.times
    if weight.times < 0:
        return share, f"times is 0 or more, here {weight.times:g}", False
    if weight.at_most is None or weight.times <= 1:
        return asked, None, False
    if share > weight.at_most:
        text = f"a share of {share:.4g} is above {weight.at_most:g}, the most this word can give"
        return share, text, False
    return min(asked, weight.at_most), None, asked > weight.at_most


def _fill(
    p: Floats,
    readings: Sequence[str],
    share: Floats,
    said: Sequence[Weight | None],
    least_left: float,
) -> tuple[int | None, str | None]:
    """Divide what is left among the readings not mentioned; say what cannot be, and of which."""
    silent = np.array([w is None for w in said])
    exact = [i for i, w in enumerate(said) if w is not None and w.at_most is None]
    total, most = float(p.sum()), 1 - least_left
    if silent.any():
        if total <= most + 1e-12:
            p[silent] = (1 - total) * share[silent] / share[silent].sum()
            return None, None
        parts = [f"{readings[i]} {p[i]:.3g}" for i, w in enumerate(said) if w is not None]
        text = (
            f"the readings it mentions sum to {total:.4g} ({' + '.join(parts)}), at most {most:g}"
            " while others are left unmentioned"
        )
        if not exact:
            return None, text
        last = exact[-1]
        largest = max((most - (total - p[last])) / share[last], 0)
        return last, f"{text}; the largest possible number there is {largest:.4g}"
    if len(exact) < len(said):
        return None, "words leave a reading unmentioned; a whole table is given in numbers"
    if abs(total - 1) > WHOLE_WITHIN:
        return None, f"a whole table sums to 1, here it sums to {total:.6g}"
    p /= total
    return None, None
