"""What every formula of water keeps: directions, NaN where it cannot be, broadcasting."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from hypothesis import strategies as st

from advisor.water.numbers import Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """within: lowest and highest of each argument; impossible: values of it that give NaN.

    rises: a sign for each argument: `+` the result rises with it, `-` it falls, `?` neither.
    """

    function: Callable[..., Floats]
    within: tuple[tuple[float, float], ...]
    rises: str
    impossible: tuple[tuple[float, ...], ...]

    def __str__(self) -> str:
        return self.function.__name__


def check_directions(case: Case, data: st.DataObject) -> None:
    """Along each argument the result never turns back, and is a number all the way."""
    point = [data.draw(st.floats(low, high)) for low, high in case.within]
    for place, (sign, (low, high)) in enumerate(zip(case.rises, case.within, strict=True)):
        steps = sorted(data.draw(st.floats(low, high)) for _ in range(2))
        first, last = (float(case.function(*point[:place], x, *point[place + 1 :])) for x in steps)
        slack = 1e-9 * (abs(first) + abs(last))
        assert np.isfinite([first, last]).all() or sign == "?"
        if sign == "+":
            assert first <= last + slack
        elif sign == "-":
            assert last <= first + slack


def check_impossible(case: Case) -> None:
    """One impossible argument, or one that is not known, and nothing is known."""
    middle = [(low + high) / 2 for low, high in case.within]
    for place, impossible in enumerate(case.impossible):
        for number in (*impossible, np.nan):
            point = [*middle[:place], number, *middle[place + 1 :]]
            assert np.isnan(case.function(*point)), f"argument {place + 1} = {number}"


def check_broadcasting(case: Case) -> None:
    """Each argument along an axis of its own gives the same numbers as one at a time."""
    ends = [np.array(pair) for pair in case.within]
    table = case.function(*np.ix_(*ends))
    assert table.dtype == np.float64
    assert table.shape == (2,) * len(ends)
    for index in np.ndindex(table.shape):
        alone = case.function(*(end[n] for end, n in zip(ends, index, strict=True)))
        np.testing.assert_array_equal(table[index], alone)
