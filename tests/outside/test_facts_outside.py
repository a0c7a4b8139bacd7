"""Intervals, curves and errors that the library tells, against general libraries of statistics.

Wilson's interval and Garwood's: statsmodels (`proportion_confint`, `confint_poisson`), which counts
them by itself, and printed figures. Kaplan-Meier: lifelines. The calibration error: a few lines
from its definition (Naeini, Cooper and Hauskrecht, AAAI 29 (2015) 2901).
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lifelines import KaplanMeierFitter
from statsmodels.stats.proportion import proportion_confint
from statsmodels.stats.rates import confint_poisson

from advisor import open_knowledge
from advisor.library.facts.first_beliefs import ENOUGH, first_beliefs
from advisor.library.facts.holding_facts import what_held
from advisor.library.facts.intervals import garwood, wilson
from advisor.library.facts.paths import paths_of
from advisor.library.store.columns import Words
from tests.library.made_columns import made_columns

KNOWLEDGE = open_knowledge()


@given(st.integers(1, 5000), st.data())
def test_wilson(of: int, data: st.DataObject) -> None:
    right = data.draw(st.integers(0, of))
    low, high = proportion_confint(right, of, alpha=0.05, method="wilson")
    assert wilson(right, of) == pytest.approx((max(low, 0), min(high, 1)), abs=1e-12)
    assert 0 <= wilson(right, of)[0] <= right / of <= wilson(right, of)[1] <= 1


def test_wilson_as_printed() -> None:
    """Newcombe, Statist. Med. 17 (1998) 857, table I, method 3: 81/263, 15/148, 0/20, 1/29."""
    printed = {
        (81, 263): (0.2553, 0.3662),
        (15, 148): (0.0624, 0.1605),
        (0, 20): (0.0, 0.1611),
        (1, 29): (0.0061, 0.1718),
    }
    for counts, ends in printed.items():
        assert wilson(*counts) == pytest.approx(ends, abs=5e-5)


@given(st.integers(0, 3000))
def test_garwood(events: int) -> None:
    low, high = confint_poisson(events, 1.0, method="exact-c", alpha=0.05)
    assert garwood(events) == pytest.approx((0.0 if events == 0 else low, high), rel=1e-9)


def test_garwood_as_printed() -> None:
    """The figures of any table of Poisson limits at 95 %; from memory."""
    assert garwood(0) == pytest.approx((0, 3.689), abs=5e-4)
    assert garwood(1) == pytest.approx((0.0253, 5.572), abs=5e-4)
    assert garwood(10) == pytest.approx((4.795, 18.39), abs=5e-3)


@pytest.mark.parametrize("seed", range(4))
def test_the_share_that_held_of_each_group(seed: int) -> None:
    """All logged as they went: the other library's interval takes no weights."""
    columns = made_columns(KNOWLEDGE, 1500, seed=seed)
    own = Words(("own",), np.zeros(columns.case.size, np.int64))
    columns = replace(columns, origin=own)
    paths = paths_of(KNOWLEDGE, columns)
    held = what_held(KNOWLEDGE, columns, paths)
    failed = np.isfinite(columns.repair_failed)
    until = np.where(failed, columns.repair_failed, columns.repair_held)
    path = Words(paths.path.words, paths.path.at[columns.repair_row])
    compared = 0
    for one in (*held.by_method, *held.by_method_and_path):
        rows = columns.repair_method.are(one.method) & (until > 0)
        if one in held.by_method_and_path:
            rows &= path.are(one.path) if one.path else path.at < 0
        fitted = KaplanMeierFitter().fit(until[rows], failed[rows])
        ends = fitted.confidence_interval_
        for holding in one.kaplan_meier:
            share = float(fitted.predict(holding.days))
            assert holding.share == pytest.approx(share, abs=1e-9)
            assert holding.at_risk == int(np.count_nonzero(until[rows] >= holding.days))
            if 0 < share < 1 and holding.at_risk:
                row = ends.iloc[ends.index.searchsorted(holding.days, side="right") - 1]
                assert (holding.low, holding.high) == pytest.approx(tuple(row), abs=1e-9)
                compared += 1
    assert compared > 100


def test_the_expected_calibration_error() -> None:
    columns = made_columns(KNOWLEDGE, 3000)
    first = first_beliefs(columns)
    assert first.cases >= ENOUGH
    assert first.calibration is not None
    rows = columns.origin.are("own") & (columns.cause.at >= 0)
    told = list(zip(columns.shown_confidence[rows], columns.shown_rank[rows] == 1, strict=True))
    error = 0.0
    for low in range(10):
        part = [(c, r) for c, r in told if low / 10 <= c < (low + 1) / 10]
        if part:
            said, right = np.mean([c for c, _ in part]), np.mean([r for _, r in part])
            error += len(part) / len(told) * abs(said - right)
    assert first.calibration.error == pytest.approx(error, abs=1e-9)
    # Resampled row by row, with nothing drawn as one.
    confidence, right = (np.array(part, dtype=float) for part in zip(*told, strict=True))
    rng = np.random.default_rng(7)
    errors = []
    for _ in range(1000):
        drawn = rng.integers(0, len(told), len(told))
        off = np.bincount((confidence[drawn] * 10).astype(int), right[drawn] - confidence[drawn])
        errors.append(np.abs(off).sum() / len(told))
    ends = np.quantile(errors, (0.025, 0.975))
    assert (first.calibration.low, first.calibration.high) == pytest.approx(ends, abs=0.004)
