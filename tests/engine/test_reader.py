"""Reading settled values: choices, bands, and when a family is silent."""

from itertools import pairwise
from math import inf, nextafter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.layout import Values, lay_out
from advisor.engine.model import Condition, Family, Test, Variable
from advisor.engine.reader import bands_possible, make_reader
from tests.engine.rows import Row, row, table_of

EDGES = (1.0, 2.0, 5.0)


@pytest.mark.parametrize(
    ("between", "bands"),
    [
        ((0.5, 0.6), 0b0001),
        ((0.5, 1.0), 0b0001),  # up to 1, 1 itself left out
        ((1.0, nextafter(1.0, inf)), 0b0010),  # a band begins at its edge
        ((1.0, 2.0), 0b0010),
        ((1.5, 2.5), 0b0110),
        ((0.0, 9.0), 0b1111),
        ((5.0, inf), 0b1000),
        ((-inf, inf), 0b1111),
        ((-inf, 1.0), 0b0001),
    ],
)
def test_bands_that_a_range_reaches(between: tuple[float, float], bands: int) -> None:
    lo, hi = (np.array([[side]]) for side in between)
    assert bands_possible(np.array([EDGES]), lo, hi).tolist() == [[bands]]


def test_families_with_fewer_edges_are_filled_up_with_infinity() -> None:
    edges = np.array([EDGES, (3.0, inf, inf)])
    lo, hi = np.array([[0.0, 6.0], [0.0, 6.0]]), np.array([[9.0, inf], [9.0, inf]])
    assert bands_possible(edges, lo, hi).tolist() == [[0b1111, 0b1000], [0b11, 0b10]]


LIMITS = st.integers(-3, 8).map(float)


@given(
    st.lists(LIMITS, min_size=1, max_size=6, unique=True).map(sorted),
    st.tuples(LIMITS | st.just(-inf), LIMITS | st.just(inf)).filter(lambda r: r[0] < r[1]),
)
def test_bands_against_their_definition(edges: list[float], between: tuple[float, float]) -> None:
    """A band is possible when it and the range have a number in common."""
    lo, hi = between
    limits = [-inf, *edges, inf]
    expected = sum(
        1 << i for i, (low, high) in enumerate(pairwise(limits)) if max(lo, low) < min(hi, high)
    )
    found = bands_possible(np.array([edges]), np.array([[lo]]), np.array([[hi]]))
    assert found.tolist() == [[expected]]


def family(key: str, variable: str, readings: int, **more: object) -> Family:
    shares = np.full(readings, 1 / readings)
    return Family(
        key=key,
        variable=variable,
        readings=tuple(f"r{i}" for i in range(readings)),
        shares=shares,
        likelihood=shares[:, None],
        mentioned=np.zeros(1, dtype=np.bool_),
        **more,  # type: ignore[arg-type]
    )


LAYOUT = lay_out(
    [
        Variable(key="size"),
        Variable(key="shade", choices=("red", "green", "blue")),
        Variable(key="age"),
    ]
)
SOMETHING: Condition = Test("shade", frozenset({"red"}))


def read(*rows: Row, given: list[bool]) -> list[list[int]]:
    """Bits of the readings possible of three families, the last read only when `given`."""
    families = [
        family("by-size", "size", 4, edges=EDGES),
        family("by-shade", "shade", 3),
        family("by-age", "age", 2, edges=(3.0,), given=SOMETHING),
    ]
    table = table_of(LAYOUT, *rows)
    values = Values(table.masks, table.lo, table.hi, ~table.not_applicable, table.not_applicable)
    found = make_reader(families, LAYOUT, [-1, -1, 0]).read(values, np.array([given]), table.sure)
    assert found.sure.tolist() == [
        table.sure[LAYOUT.row[key]].tolist() for key in ("size", "shade", "age")
    ]
    return found.possible.T.tolist()


def test_each_family_reads_its_own_variable_in_its_own_place() -> None:
    rows = [row(size=1.5, shade={"red", "blue"}, age=4.0), row({"size"}, size=(0.0, 2.0))]
    assert read(*rows, given=[True, True]) == [[0b0010, 0b101, 0b10], [0b0011, 0b111, 0b11]]


def test_silent_unless_given_is_known_true() -> None:
    assert read(row(age=4.0), row(age=4.0), given=[False, True]) == [
        [0b1111, 0b111, 0b11],
        [0b1111, 0b111, 0b10],
    ]


def test_silent_where_the_variable_does_not_apply() -> None:
    assert read(row(shade=None), given=[True]) == [[0b1111, 0b111, 0b11]]
