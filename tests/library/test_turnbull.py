"""The likeliest shares left: what can be worked out by hand, and what must hold of any rows.

Against other libraries it is checked in `tests/outside/test_survival.py`, through
`interval_censored`.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.library.facts.turnbull import turnbull

INF = np.inf
ROWS = st.lists(
    st.tuples(st.integers(0, 9), st.integers(0, 5) | st.just(INF), st.integers(1, 5)),
    min_size=1,
    max_size=25,
)


def left(*rows: tuple[float, float, float]) -> list[tuple[float, float]]:
    """The days and the shares of rows of (start, end, count)."""
    starts, ends, counts = (np.array(part, dtype=float) for part in zip(*rows, strict=True))
    days, shares = turnbull(starts, ends, counts)
    return [(float(day), round(float(share), 6)) for day, share in zip(days, shares, strict=True)]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([(0, 5, 1)], [(0, 1), (5, 0)]),
        ([(0, 5, 1), (5, INF, 3)], [(0, 1), (5, 0.75)]),
        # Both can lie in (3, 5], so all does.
        ([(0, 5, 1), (3, 8, 1)], [(0, 1), (3, 1), (5, 0), (8, 0)]),
        # On day 5 itself: that belongs to (3, 5] and not to (5, 8].
        ([(5, 5, 1), (3, 5, 1), (5, 8, 2)], [(3, 1), (5, 0.5), (8, 0)]),
        # Nothing failed before what was lost from sight.
        ([(2, 2, 1), (4, INF, 1), (6, 6, 1)], [(2, 0.666667), (4, 0.666667), (6, 0)]),
    ],
)
def test_by_hand(
    rows: list[tuple[float, float, float]], expected: list[tuple[float, float]]
) -> None:
    assert left(*rows) == expected


@given(ROWS)
def test_shares_fall_from_1_and_more_of_the_same_changes_nothing(
    drawn: list[tuple[int, float, int]],
) -> None:
    rows = [(start, start + width, count) for start, width, count in drawn if start + width > 0]
    if not rows:
        return
    starts, ends, counts = (np.array(part, dtype=float) for part in zip(*rows, strict=True))
    days, shares = turnbull(starts, ends, counts)
    assert (np.diff(days) > 0).all()
    assert (np.diff(np.r_[1.0, shares]) <= 1e-9).all()
    assert shares.min() >= 0
    many = turnbull(np.r_[starts, starts], np.r_[ends, ends], 3 * np.r_[counts, counts])
    assert many[1] == pytest.approx(shares, abs=1e-4)


@given(ROWS)
def test_no_mass_moved_makes_the_rows_likelier(drawn: list[tuple[int, float, int]]) -> None:
    """The conditions of a maximum of a concave function: no direction gains."""
    rows = [(start, start + width, count) for start, width, count in drawn if start + width > 0]
    if not rows:
        return
    starts, ends, counts = (np.array(part, dtype=float) for part in zip(*rows, strict=True))
    days, shares = turnbull(starts, ends, counts)
    after = np.r_[days, INF]
    mass = -np.diff(np.r_[1.0, shares, 0.0])
    inside = (after > starts[:, None]) & (after <= ends[:, None])
    inside |= (starts == ends)[:, None] & (after == ends[:, None])
    chance = inside @ mass
    assert (chance > 0).all()
    on_a_day = counts / chance @ inside
    assert on_a_day.max() <= counts.sum() * (1 + 1e-6)
