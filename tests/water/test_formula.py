"""What every formula keeps that knowledge files may bind to attributes, now and later ones."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.water import FORMULAS, Band, Check, Formula
from advisor.water.formula import corners
from advisor.water.numbers import Floats, floats
from tests.water.boxes import ROWS, all_formulas, bands, boxes, domain

ROUNDING = 1e-9
"""A point in the middle rounds otherwise than the ends do."""

every_formula = pytest.mark.parametrize("formula", all_formulas(), ids=lambda f: f.name)
few = settings(max_examples=5, deadline=None)
seeds = st.integers(0, 2**32 - 1)


def slack(*results: Floats) -> Floats:
    return ROUNDING * (1 + sum(np.abs(np.nan_to_num(r)) for r in results))


def none_of(wrong: Floats, **shown: Floats) -> None:
    """Fails with the first row that is wrong."""
    for row in np.flatnonzero(wrong)[:1]:
        pytest.fail(", ".join(f"{name} {value[..., row]}" for name, value in shown.items()))


@every_formula
@few
@given(seed=seeds)
def test_a_range_holds_every_point_result(formula: Formula, seed: int) -> None:
    box, between = boxes(formula, seed), bands(formula, seed)
    low, high = formula(box.ranges())
    point = formula.point(*box.inside, *between)
    compared = np.isfinite(point) & np.isfinite(low) & np.isfinite(high)
    assert compared.sum() > ROWS / 100
    outside = (point < low - slack(point)) | (point > high + slack(point))
    none_of(
        compared & outside,
        lowest=box.lowest,
        highest=box.highest,
        inside=box.inside,
        low=low,
        point=point,
        high=high,
    )


@every_formula
@few
@given(seed=seeds)
def test_a_single_value_lies_between_the_ends_of_the_bands(formula: Formula, seed: int) -> None:
    box = boxes(formula, seed)
    exact = type(box)(box.inside, box.inside, box.inside)
    low, high = formula(exact.ranges())
    likely = formula.likely(*box.inside)
    known = np.isfinite(likely)
    ends = [
        formula.point(*box.inside, *(floats(getattr(b, end)) for b in formula.bands))
        for end in ("low", "high")
    ]
    # Nothing is lost where the formula holds at both ends of its bands.
    none_of(
        np.isfinite(ends[0] + ends[1]) & ~np.isfinite(low + high),
        inside=box.inside,
        low=low,
        high=high,
    )
    none_of(known & ((likely < low) | (likely > high)), inside=box.inside, low=low, high=high)
    if not formula.bands:
        wide = known & (high - low > slack(likely))
        none_of(wide, inside=box.inside, low=low, likely=likely, high=high)


@every_formula
@few
@given(seed=seeds)
def test_the_declared_directions_hold(formula: Formula, seed: int) -> None:
    box, between = boxes(formula, seed), bands(formula, seed)
    inputs = [*box.inside, *between]
    starts = [*box.lowest, *(np.full(ROWS, b.low) for b in formula.bands)]
    stops = [*box.highest, *(np.full(ROWS, b.high) for b in formula.bands)]
    assert len(formula.rises) == len(inputs)
    for place, (sign, start, stop) in enumerate(zip(formula.rises, starts, stops, strict=True)):
        first = formula.point(*inputs[:place], start, *inputs[place + 1 :])
        second = formula.point(*inputs[:place], stop, *inputs[place + 1 :])
        rise = {"+": second - first, "-": first - second, "?": np.zeros(ROWS)}[sign]
        none_of(
            rise < -slack(first, second),
            input=np.full(ROWS, place),
            start=start,
            stop=stop,
            inside=box.inside,
            first=first,
            second=second,
        )


@every_formula
@few
@given(seed=seeds)
def test_where_nothing_is_known_a_check_says_why(formula: Formula, seed: int) -> None:
    inside = boxes(formula, seed).inside
    for row in np.flatnonzero(np.isnan(formula.likely(*inside)))[:100]:
        failing = formula.failing(*inside[:, row])
        assert any(check.level != "doubtful" for check in failing), inside[:, row]


@every_formula
@few
@given(seed=seeds)
def test_what_is_not_known_gives_nothing(formula: Formula, seed: int) -> None:
    box = boxes(formula, seed, rows=50)
    for place in range(len(formula.reads)):
        inputs, ranges = box.inside.copy(), list(box.ranges())
        inputs[place] = np.nan
        ranges[place] = (np.full(50, np.nan), np.full(50, np.nan))
        assert np.isnan(formula.likely(*inputs)).all()
        assert np.isnan(formula(tuple(ranges))).all()


@every_formula
def test_inputs_along_axes_of_their_own_give_the_same_numbers(formula: Formula) -> None:
    ends = [np.array([low + (high - low) * 0.3, high]) for low, high in domain(formula)]
    table = formula.likely(*np.ix_(*ends))
    assert table.shape == (2,) * len(ends)
    assert table.dtype == np.float64
    for index in np.ndindex(table.shape):
        alone = formula.likely(*(end[n] for end, n in zip(ends, index, strict=True)))
        np.testing.assert_allclose(table[index], alone, rtol=1e-12)


def test_formulas_stand_under_their_own_names() -> None:
    assert all(name == formula.name for name, formula in FORMULAS.items())


# The form itself, on formulas made up for it.


TIMES = Formula(
    name="times",
    reads=("m", "m"),
    unit="m",
    bands=(Band(1.0, 2.0, 4.0),),
    rises="+?-",
    point=lambda one, other, part: one * other / part,
    checks=(
        Check(key="too-long", level="outside", bad=lambda one, *_: one > 10),
        Check(key="too-thin", level="doubtful", bad=lambda _o, _t, part: part < 2),
    ),
)


def test_likely_takes_the_likely_value_of_a_band() -> None:
    assert TIMES.likely(floats(6), floats(3)) == 9


def test_a_range_ends_at_corners_where_both_ends_are_tried_of_what_turns() -> None:
    one, other = (floats([2.0]), floats([3.0])), (floats([-4.0]), floats([5.0]))
    low, high = corners(TIMES.point, "++-", (one, other, (floats(1), floats(4))))
    assert (low, high) == (-2.0, 15.0)
    low, high = TIMES((one, other))
    # Up to, not with, 3 and 5. A band falls, so its low end gives the high end of the result.
    assert low == -2.0
    assert high == pytest.approx(15.0)


def test_a_span_takes_the_place_of_corners() -> None:
    square = Formula(
        name="square",
        reads=("m",),
        unit="m2",
        rises="?",
        point=lambda x: x * x,
        span=lambda x: (np.zeros_like(x[0]), np.maximum(x[0] ** 2, x[1] ** 2)),
    )
    low, high = square(((floats([-3.0]), floats([2.0])),))
    assert (low, high) == (0.0, np.nextafter(9.0, np.inf))


def test_only_checks_that_are_not_passed_fail() -> None:
    assert [c.key for c in TIMES.failing(floats(11), floats(1))] == ["too-long"]
    assert TIMES.failing(floats(10), floats(1)) == ()
    assert TIMES.failing(floats(np.nan), floats(1)) == ()
