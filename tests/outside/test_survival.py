"""How long repairs held, against two other survival libraries and published examples.

The estimates are formulas in numpy, the log-rank test is scipy's. lifelines and statsmodels are
neither.
"""

import numpy as np
import numpy.typing as npt
import pytest

from advisor.library.facts.survival import interval_censored, kaplan_meier, log_rank

Floats = npt.NDArray[np.float64]
Rows = tuple[Floats, Floats]

# Weeks of remission of 42 children (Freireich and others, Blood 21 (1963) 699), as printed in the
# textbooks of survival; the figures from memory. + (here: not failed) is still in remission.
SIX_MP = [6, 6, 6, 7, 10, 13, 16, 22, 23]
SIX_MP_ON = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
PLACEBO = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23]

# Months to breast retraction (Finkelstein and Wolfe, Biometrics 41 (1985) 933), as printed in the
# data set `cosmesis` of the R package MLEcens; 100 stands for never seen.
RADIOTHERAPY = """
45 100 6 10 0 7 46 100 46 100 7 16 17 100 7 14 37 44 0 8 4 11 15 100 11 15 22 100 46 100 46 100
25 37 46 100 26 40 46 100 27 34 36 44 46 100 36 48 37 100 40 100 17 25 46 100 11 18 38 100 5 12
37 100 0 5 18 100 24 100 36 100 5 11 19 35 17 25 24 100 32 100 33 100 19 26 37 100 34 100 36 100
"""
WITH_CHEMOTHERAPY = """
8 12 0 22 24 31 17 27 17 23 24 30 16 24 13 100 11 13 16 20 18 25 17 26 32 100 23 100 44 48 14 17
0 5 5 8 12 20 11 100 33 40 31 100 13 39 19 32 34 100 13 100 16 24 35 100 15 22 11 17 22 32 10 35
30 34 13 100 10 17 8 21 4 9 11 100 14 19 4 8 34 100 30 36 18 24 16 60 35 39 21 100 11 20 48 100
"""
# The mass in each interval (Fay and Shaw, J. Stat. Software 36 (2010) no. 2); from memory.
MASSES = {
    RADIOTHERAPY: [
        (4, 5, 0.0463),
        (6, 7, 0.0334),
        (7, 8, 0.0887),
        (11, 12, 0.0708),
        (24, 25, 0.0926),
        (33, 34, 0.0818),
        (38, 40, 0.1209),
        (46, np.inf, 0.4656),
    ],
    WITH_CHEMOTHERAPY: [
        (4, 5, 0.0433),
        (5, 8, 0.0433),
        (11, 12, 0.0692),
        (16, 17, 0.1454),
        (18, 19, 0.1411),
        (19, 20, 0.1157),
        (24, 25, 0.0999),
        (30, 31, 0.0709),
        (35, 36, 0.1608),
        (44, 48, 0.0552),
        (48, 60, 0.0552),
    ],
}
FAILING = ["ties", "censored", "all-failed", "few", "one"]
KINDS = [*FAILING, "none-failed"]


def remission() -> tuple[Rows, Rows]:
    six = np.array(SIX_MP + SIX_MP_ON, dtype=float)
    failed = np.array([*SIX_MP, *[np.inf] * len(SIX_MP_ON)], dtype=float)
    placebo = np.array(PLACEBO, dtype=float)
    return (six, failed), (placebo, placebo)


def cosmesis(text: str) -> Rows:
    months = np.array(text.split(), dtype=float).reshape(-1, 2)
    return months[:, 0], np.where(months[:, 1] == 100, np.inf, months[:, 1])


def drawn(seed: int, kind: str) -> Rows:
    """Repairs that were looked at now and then, in whole days; a failure among them if any may."""
    rng = np.random.default_rng(seed)
    size = {"few": 6, "one": 1}.get(kind, 80)
    while True:
        true = rng.exponential(20.0, size)
        first = rng.integers(1, 12, size)
        step = rng.integers(1, 15, size) if kind != "ties" else np.full(size, 6)
        until = rng.integers(5, 25 if kind == "censored" else 120, size)
        held, failed = np.zeros(size), np.full(size, np.inf)
        for row in range(size):
            for look in range(first[row], max(until[row], first[row] + 1), step[row]):
                if look >= true[row]:
                    failed[row] = look
                    break
                held[row] = look
        if kind == "all-failed":
            failed = np.where(np.isfinite(failed), failed, held + 7)
        if kind == "none-failed":
            held, failed = np.maximum(held, 1), np.full(size, np.inf)
        if kind == "none-failed" or np.isfinite(failed).any():
            telling = (held > 0) | np.isfinite(failed)
            return held[telling], failed[telling]


def seen(rows: Rows) -> tuple[Floats, npt.NDArray[np.bool_]]:
    held, failed = rows
    found = np.isfinite(failed)
    return np.where(found, failed, held), found


def days_of(rows: Rows) -> list[int]:
    """Every day up to the last look."""
    return list(range(1, int(seen(rows)[0].max()) + 1))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", range(8))
def test_kaplan_meier_against_lifelines(seed: int, kind: str) -> None:
    from lifelines import KaplanMeierFitter  # noqa: PLC0415 - two seconds to import

    rows = drawn(seed, kind)
    days = days_of(rows)
    theirs = KaplanMeierFitter().fit(*seen(rows), timeline=[0, *days])
    bounds = theirs.confidence_interval_survival_function_.to_numpy()[1:]
    ours = kaplan_meier(*rows, days)
    assert [h.share for h in ours] == pytest.approx(theirs.predict(days).to_numpy(), abs=1e-12)
    table = theirs.event_table["at_risk"]
    for holding, (low, high) in zip(ours, bounds, strict=True):
        # Theirs is 1 to 1 before the first failure and 0 to 0 after the last, ours says more.
        if 0 < holding.share < 1:
            assert (holding.low, holding.high) == pytest.approx((low, high), abs=1e-9)
        assert holding.at_risk == table[table.index >= holding.days].max()


@pytest.mark.parametrize("kind", FAILING)
@pytest.mark.parametrize("seed", range(8))
def test_kaplan_meier_against_statsmodels(seed: int, kind: str) -> None:
    from statsmodels.duration.survfunc import SurvfuncRight  # noqa: PLC0415

    rows = drawn(seed, kind)
    until, found = seen(rows)
    theirs = SurvfuncRight(until, found.astype(int))
    days = [int(day) for day in theirs.surv_times]
    ours = kaplan_meier(*rows, days)
    assert [h.share for h in ours] == pytest.approx(theirs.surv_prob, abs=1e-12)
    assert [h.at_risk for h in ours] == list(theirs.n_risk)


@pytest.mark.parametrize("seed", range(8))
def test_weights_against_whole_cases_written_out(seed: int) -> None:
    """A weight of 3 is the row three times, in another library; 0.25 all over widens by 2."""
    from lifelines import KaplanMeierFitter  # noqa: PLC0415

    rows = drawn(seed, "ties")
    weight = np.random.default_rng(seed).integers(1, 4, rows[0].size).astype(float)
    days = days_of(rows)
    theirs = KaplanMeierFitter().fit(*seen(rows), weights=weight, timeline=[0, *days])
    bounds = theirs.confidence_interval_survival_function_.to_numpy()[1:]
    ours = kaplan_meier(*rows, days, weight)
    quarters = kaplan_meier(*rows, days, np.full(rows[0].size, 0.25))
    whole = kaplan_meier(*rows, days)
    assert [h.share for h in ours] == pytest.approx(theirs.predict(days).to_numpy(), abs=1e-12)
    for number, holding in enumerate(ours):
        if 0 < holding.share < 1:
            assert (holding.low, holding.high) == pytest.approx(tuple(bounds[number]), abs=1e-9)
            double = np.log(np.log(quarters[number].low) / np.log(quarters[number].share))
            single = np.log(np.log(whole[number].low) / np.log(whole[number].share))
            assert double == pytest.approx(2 * single, rel=1e-9)


# Where all failed, masses run to nothing, and theirs takes the logarithm of it: left out.
@pytest.mark.parametrize("kind", ["ties", "censored", "few"])
@pytest.mark.parametrize("seed", range(4))
def test_between_two_looks_against_lifelines(seed: int, kind: str) -> None:
    from lifelines import KaplanMeierFitter  # noqa: PLC0415

    held, failed = rows = drawn(seed, kind)
    # Its intervals are closed; in whole days (3, 5] is [3.5, 5].
    fit = KaplanMeierFitter().fit_interval_censoring(held + 0.5, failed, label="npmle", tol=1e-9)
    table = fit.survival_function_["npmle_lower"]
    looks = [int(day) for day in sorted({*held, *failed[np.isfinite(failed)]})]
    ours = [b.share for b in interval_censored(*rows, looks)]
    theirs = [([1.0, *table[table.index <= day]])[-1] for day in looks]
    assert ours == pytest.approx(theirs, abs=1e-3)


@pytest.mark.parametrize("kind", FAILING)
@pytest.mark.parametrize("seed", range(12))
def test_between_two_looks_nothing_is_more_likely(seed: int, kind: str) -> None:
    """The condition of Gentleman and Geyer, Biometrika 81 (1994) 618: it holds at the maximum only.

    For each innermost interval the sum over the rows that hold it of weight / P(row) is at most
    the weight of all rows, and just that where the interval has mass.
    """
    held, failed = rows = drawn(seed, kind)
    weight = np.random.default_rng(seed).choice([0.25, 1.0], held.size)
    ends = sorted({*held, *failed[np.isfinite(failed)], 0.0})
    shares = [b.lowest for b in interval_censored(*rows, [int(e) for e in ends], weight)]
    pieces = list(zip(ends, [*ends[1:], np.inf], strict=True))
    masses = -np.diff([*shares, 0.0])
    inside = np.array([(held <= a) & (b <= failed) for a, b in pieces]).T
    likely = inside @ masses
    assert likely.min() > 0
    gain = (weight / likely) @ inside / weight.sum()
    assert gain.max() <= 1 + 1e-6
    assert gain[masses > 1e-6] == pytest.approx(1, abs=1e-4)


@pytest.mark.parametrize("kind", ["ties", "censored", "all-failed", "none-failed", "few"])
@pytest.mark.parametrize("seed", range(8))
def test_log_rank_against_lifelines_and_statsmodels(seed: int, kind: str) -> None:
    from lifelines.statistics import logrank_test  # noqa: PLC0415
    from statsmodels.duration.survfunc import survdiff  # noqa: PLC0415

    a, b = drawn(seed, kind), drawn(seed + 100, kind)
    (day_a, found_a), (day_b, found_b) = seen(a), seen(b)
    if not found_a.any() and not found_b.any():
        assert log_rank(a, b) == 1.0
        return
    ours = log_rank(a, b)
    assert ours == pytest.approx(logrank_test(day_a, day_b, found_a, found_b).p_value, abs=1e-12)
    group = np.r_[np.zeros(day_a.size), np.ones(day_b.size)]
    _, p = survdiff(np.r_[day_a, day_b], np.r_[found_a, found_b].astype(int), group)
    assert ours == pytest.approx(p, abs=1e-12)


def test_remission_as_published() -> None:
    six, placebo = remission()
    days = [6, 7, 10, 13, 16, 22, 23]
    published = [0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448]
    errors = [0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346]  # Greenwood's
    ours = kaplan_meier(*six, days)
    assert [h.share for h in ours] == pytest.approx(published, abs=5e-4)
    assert [h.at_risk for h in ours] == [21, 17, 15, 12, 11, 7, 6]
    for holding, error in zip(ours, errors, strict=True):
        # The interval, read back to the error it was made of.
        reach = np.log(np.log(holding.low) / np.log(holding.share)) / 1.959964
        assert -reach * holding.share * np.log(holding.share) == pytest.approx(error, abs=1e-4)
    first = kaplan_meier(*placebo, [1, 2, 5, 8, 23])
    assert [h.share for h in first] == pytest.approx([0.905, 0.810, 0.571, 0.381, 0.0], abs=5e-4)


def test_log_rank_of_remission_as_published() -> None:
    """Chi-squared 16.79 with one degree of freedom; from memory."""
    from statistics import NormalDist  # noqa: PLC0415

    root = NormalDist().inv_cdf(log_rank(*remission()) / 2)
    assert root**2 == pytest.approx(16.79, abs=5e-3)


@pytest.mark.parametrize("text", [RADIOTHERAPY, WITH_CHEMOTHERAPY], ids=["alone", "with"])
def test_cosmesis_as_published(text: str) -> None:
    rows = cosmesis(text)
    assert rows[0].size == (46 if text == RADIOTHERAPY else 48)
    left = 1.0
    for start, end, mass in MASSES[text]:
        (before,) = interval_censored(*rows, [start])
        assert before.lowest == pytest.approx(before.highest) == pytest.approx(left, abs=6e-4)
        left -= mass
        if np.isfinite(end):
            (after,) = interval_censored(*rows, [end])
            assert after.share == pytest.approx(left, abs=6e-4)
    assert left == pytest.approx(0, abs=6e-4)
