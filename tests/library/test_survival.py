"""How long repairs held: what any estimate has to keep, on rows of any make."""

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.library.facts.survival import FEW, interval_censored, kaplan_meier, log_rank, silent

Floats = npt.NDArray[np.float64]
DAYS = [0, 1, 5, 20, 21, 40, 91, 365, 730]
WEIGHTS = st.sampled_from([0.25, 0.5, 1.0])


def row(held: int, after: int | None) -> tuple[float, float, float]:
    return float(held), np.inf if after is None else float(held + after), 1.0


ROW = st.builds(
    lambda held, after, weight: (*row(held, after)[:2], weight),
    st.integers(0, 60),
    st.none() | st.integers(1, 40),
    WEIGHTS,
)
ROWS = st.lists(ROW, min_size=1, max_size=25)


def columns(rows: list[tuple[float, float, float]]) -> tuple[Floats, Floats, Floats]:
    held, failed, weight = np.array(rows, dtype=float).reshape(-1, 3).T
    return held, failed, weight


@settings(deadline=None)  # the first draw waits for the libraries
@given(ROWS)
def test_shares_fall_and_lie_within_their_interval(rows: list[tuple[float, float, float]]) -> None:
    held, failed, weight = columns(rows)
    found = kaplan_meier(held, failed, DAYS, weight)
    for one in found:
        assert 0 <= one.low <= one.share <= one.high <= 1
    shares = [one.share for one in found]
    assert shares == sorted(shares, reverse=True)
    between = interval_censored(held, failed, DAYS, weight)
    for one in between:
        assert 0 <= one.lowest <= one.share <= one.highest <= 1
    for name in ("lowest", "share", "highest"):
        falling = [getattr(one, name) for one in between]
        assert falling == sorted(falling, reverse=True)


@settings(deadline=None)
@given(ROWS, st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_matter(
    rows: list[tuple[float, float, float]], random: object
) -> None:
    mixed = list(rows)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    a, b = columns(rows), columns(mixed)
    for one, other in zip(
        kaplan_meier(*a[:2], DAYS, a[2]), kaplan_meier(*b[:2], DAYS, b[2]), strict=True
    ):
        assert (one.share, one.low, one.high) == pytest.approx(
            (other.share, other.low, other.high), abs=1e-9
        )
        assert (one.at_risk, one.few) == (other.at_risk, other.few)
    assert interval_censored(*a[:2], DAYS, a[2]) == interval_censored(*b[:2], DAYS, b[2])


@settings(deadline=None)
@given(ROWS, st.integers(0, 24))
def test_a_repair_that_failed_after_all_never_raises_a_share(
    rows: list[tuple[float, float, float]], which: int
) -> None:
    held, failed, weight = columns([(max(h, 1.0), f, w) for h, f, w in rows])
    at = which % held.size
    worse = failed.copy()
    worse[at] = min(failed[at], held[at]) if np.isinf(failed[at]) else failed[at]
    before = kaplan_meier(held, failed, DAYS, weight)
    after = kaplan_meier(held, worse, DAYS, weight)
    for one, other in zip(before, after, strict=True):
        assert other.share <= one.share + 1e-12


@settings(deadline=None)
@given(ROWS)
def test_rows_written_out_count_as_their_weight(rows: list[tuple[float, float, float]]) -> None:
    """Quarters times four are whole rows; the share does not change, the interval gets narrower."""
    held, failed, weight = columns(rows)
    times = np.rint(weight * 4).astype(int)
    whole = np.repeat(held, times), np.repeat(failed, times)
    shares = [h.share for h in kaplan_meier(*whole, DAYS)]
    found = kaplan_meier(held, failed, DAYS, weight)
    assert [h.share for h in found] == pytest.approx(shares, abs=1e-9)
    for one, other in zip(found, kaplan_meier(*whole, DAYS), strict=True):
        assert one.low <= other.low + 1e-9
        assert one.high >= other.high - 1e-9
    for a, b in zip(
        interval_censored(held, failed, DAYS, weight), interval_censored(*whole, DAYS), strict=True
    ):
        assert (a.lowest, a.highest) == pytest.approx((b.lowest, b.highest), abs=1e-6)


@settings(deadline=None)
@given(ROWS, ROWS)
def test_log_rank_is_a_chance_and_even(
    first: list[tuple[float, float, float]], second: list[tuple[float, float, float]]
) -> None:
    a, b = columns(first)[:2], columns(second)[:2]
    assert 0 <= log_rank(a, b) <= 1
    assert log_rank(a, b) == pytest.approx(log_rank(b, a), abs=1e-9)
    assert log_rank(a, a) == pytest.approx(1)


def test_rows_that_tell_nothing_are_counted_and_left_out() -> None:
    held, failed = np.array([0.0, 0.0, 100.0]), np.array([np.inf, 50.0, np.inf])
    assert silent(held, failed) == 1
    assert kaplan_meier(held, failed, DAYS) == kaplan_meier(held[1:], failed[1:], DAYS)
    assert interval_censored(held, failed, DAYS) == interval_censored(held[1:], failed[1:], DAYS)


def test_without_rows_nothing_is_known() -> None:
    none = np.array([])
    (one,) = kaplan_meier(none, none, [91])
    assert (one.low, one.high, one.at_risk, one.few) == (0.0, 1.0, 0, True)
    (other,) = interval_censored(none, none, [91])
    assert (other.lowest, other.highest, other.at_risk) == (0.0, 1.0, 0)
    assert log_rank((none, none), (np.array([1.0]), np.array([2.0]))) == 1.0


def test_ten_that_all_hold_are_no_certainty() -> None:
    """Exact binomial: of 10 none failed, from 0.692 (Clopper and Pearson 1934)."""
    held, failed = np.full(10, 400.0), np.full(10, np.inf)
    (one,) = kaplan_meier(held, failed, [365])
    assert (one.share, one.high) == (1.0, 1.0)
    assert one.low == pytest.approx(0.6915, abs=1e-4)
    (late,) = kaplan_meier(held, failed, [730])
    assert (late.share, late.low, late.at_risk) == (1.0, 0.0, 0)


def test_ten_that_all_failed_are_no_certainty_either() -> None:
    (one,) = kaplan_meier(np.zeros(10), np.full(10, 30.0), [91])
    assert (one.share, one.low) == (0.0, 0.0)
    assert one.high == pytest.approx(0.3085, abs=1e-4)


def test_few_is_told_by_what_the_rows_weigh() -> None:
    held, failed = np.full(FEW, 400.0), np.full(FEW, np.inf)
    assert not kaplan_meier(held, failed, [365])[0].few
    assert kaplan_meier(held[1:], failed[1:], [365])[0].few
    remembered = kaplan_meier(held, failed, [365], np.full(FEW, 0.25))[0]
    assert (remembered.few, remembered.at_risk) == (True, FEW)


def test_between_the_looks_that_decide_anything_goes() -> None:
    """Found leaking at 200 days, holding at 100: at 150 nobody can say."""
    (one,) = interval_censored(np.full(4, 100.0), np.full(4, 200.0), [150])
    assert (one.lowest, one.share, one.highest) == pytest.approx((0, 0.5, 1), abs=1e-9)


def test_a_failure_seen_on_the_day_of_the_last_good_look_is_of_that_day() -> None:
    held, failed = np.array([30.0, 90.0]), np.array([30.0, np.inf])
    assert kaplan_meier(held, failed, [29, 30])[1].share == 0.5
    assert interval_censored(held, failed, [30])[0].share == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("held", "failed", "weight"),
    [
        ([-1.0], [3.0], None),
        ([np.nan], [3.0], None),
        ([5.0], [3.0], None),
        ([5.0], [np.nan], None),
        ([0.0], [0.0], None),
        ([5.0, 6.0], [7.0], None),
        ([5.0], [7.0], [-1.0]),
        ([5.0], [7.0], [1.0, 1.0]),
    ],
    ids=str,
)
def test_a_row_that_is_none_is_refused(
    held: list[float], failed: list[float], weight: list[float] | None
) -> None:
    w = None if weight is None else np.array(weight)
    for estimate in (kaplan_meier, interval_censored):
        with pytest.raises(ValueError, match=r"is to be|are to be"):
            estimate(np.array(held), np.array(failed), [91], w)
