"""Columns of many invented places, made at once and seeded; no database stands behind them."""

from collections.abc import Sequence

import numpy as np

from advisor.knowledge import Knowledge
from advisor.library.store.columns import Columns, Ints, Words

MOST_USED = 6
"""So many methods are taken for most of the repairs on one path."""


def made_columns(knowledge: Knowledge, places: int, seed: int = 1) -> Columns:
    """Two places in three cases; looks about the days that are usual, with days more or less."""
    rng = np.random.default_rng(seed)
    case = np.sort(rng.integers(0, max(places * 2 // 3, 1), places))
    cases = int(case.max(initial=0)) + 1

    def drawn(words: Sequence[str], known: float = 1.0) -> Words:
        at = rng.integers(0, len(words), places)
        return Words(tuple(words), np.where(rng.random(places) < known, at, -1))

    def of_case(words: Sequence[str]) -> Words:
        return Words(tuple(words), rng.integers(0, len(words), cases)[case])

    causes = tuple(knowledge.causes)
    kinds = [choice.key for choice in knowledge.attributes["kind"].choices]
    cause, confidence = drawn(causes, 0.8), rng.beta(3, 1.5, places)
    right = rng.random(places) < confidence
    status = drawn(["closed", "watching", "reopened", "looked-at"])
    repair_row = np.sort(rng.integers(0, places, places))
    method, held, failed = _repairs(knowledge, cause.at[repair_row], rng)
    return Columns(
        case=case,
        place_id=np.arange(places),
        place=np.ones(places, np.int64),
        site=of_case([f"site-{number}" for number in range(max(cases // 3, 1))]),
        kind=of_case(kinds),
        quarter=of_case([f"{year}-Q{number}" for year in range(2015, 2030) for number in (1, 3)]),
        origin=of_case(["own", "own", "from-records", "remembered"]),
        visits=rng.integers(0, 6, cases)[case],
        status=status,
        cause=cause,
        how=Words((), np.full(places, -1)),
        contributors=Words((), np.full(places, -1)),
        method=Words((), np.full(places, -1)),
        closed_because=Words(("held",), np.where(status.are("closed"), 0, -1)),
        reopened=(status.are("reopened")).astype(np.int64),
        first_day=np.zeros(places, np.int64),
        closed_day=np.where(status.are("closed"), rng.integers(30, 1500, places), np.nan),
        shown_best=Words(causes, np.where(right & (cause.at >= 0), cause.at, drawn(causes).at)),
        shown_rank=np.where(
            cause.at < 0, np.nan, np.where(right, 1, rng.integers(2, len(causes), places))
        ),
        shown_confidence=confidence,
        repair_row=repair_row,
        repair_method=method,
        repair_held=held,
        repair_failed=failed,
    )


def _repairs(
    knowledge: Knowledge, cause: Ints, rng: np.random.Generator
) -> tuple[Words, Ints, np.ndarray[tuple[int], np.dtype[np.float64]]]:
    methods = tuple(knowledge.methods)
    groups = list(knowledge.groups)
    path = np.array(
        [groups.index(one.group) if one.group in groups else 0 for one in knowledge.causes.values()]
        + [0]
    )[cause]
    usual = (path * 3 + rng.integers(0, MOST_USED, cause.size)) % len(methods)
    odd = rng.random(cause.size) < 0.001
    method = np.where(odd, rng.integers(0, len(methods), cause.size), usual)
    looks = np.cumsum(rng.integers([60, 70, 160, 330], [120, 110, 200, 400], (cause.size, 4)), 1)
    lasted = rng.exponential(1500, cause.size)[:, None]
    seen = np.arange(4) < rng.integers(0, 5, cause.size)[:, None]
    held = np.where(seen & (looks < lasted), looks, 0).max(axis=1)
    failing = np.where(seen & (looks >= lasted), looks, 10**6).min(axis=1)
    return Words(methods, method), held, np.where(failing < 10**6, failing, np.nan).astype(float)
