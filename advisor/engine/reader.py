"""Reads settled values family by family: which readings each leaves possible."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from advisor.engine.circuit import Ints, ints
from advisor.engine.evidence import Readings
from advisor.engine.layout import Layout, Values
from advisor.engine.model import Bools, Family, Floats


@dataclass(frozen=True, slots=True)
class Reader:
    """Families over choices first, then those over bands of a number (`order` puts them back).

    edges: (number families, most edges), filled up with infinity.
    given: per family, the row of its condition among the conditions asked; -1: always read.
    """

    rows: Ints
    choice_rows: Ints
    number_rows: Ints
    edges: Floats
    order: Ints
    full: Ints
    with_given: Ints
    given: Ints

    def read(self, values: Values, given: Bools, sure: Bools) -> Readings:
        """A family is read where its variable applies and its `given` is known true.

        given: (conditions, rows), known true; sure: (variables, rows).
        """
        possible = np.concatenate(
            [
                values.masks[self.choice_rows].astype(np.intp),
                bands_possible(
                    self.edges, values.lo[self.number_rows], values.hi[self.number_rows]
                ),
            ]
        )[self.order]
        read = values.applies[self.rows]
        read[self.with_given] &= given[self.given]
        return Readings(np.where(read, possible, self.full[:, None]), sure[self.rows])


def bands_possible(edges: Floats, lo: Floats, hi: Floats) -> Ints:
    """Bits of the bands that ranges lo <= x < hi reach.

    edges: (families, most edges), rising, a band begins at each; lo, hi: (families, rows).
    """
    first = np.zeros(lo.shape, dtype=np.intp)
    last = np.zeros(lo.shape, dtype=np.intp)
    for column in edges.T[:, :, None]:
        first += column <= lo
        last += column < hi
    bits: Ints = (2 << last) - (1 << first)
    return bits


def make_reader(families: Sequence[Family], layout: Layout, conditions: Sequence[int]) -> Reader:
    """conditions: per family, where its `given` stands among the conditions asked, or -1."""
    choice = [i for i, f in enumerate(families) if not f.edges]
    number = [i for i, f in enumerate(families) if f.edges]
    most = max((len(families[i].edges) for i in number), default=0)
    edges = np.full((len(number), most), np.inf)
    for row, i in enumerate(number):
        edges[row, : len(families[i].edges)] = families[i].edges
    with_given = [i for i, place in enumerate(conditions) if place >= 0]
    return Reader(
        rows=ints([layout.row[f.variable] for f in families]),
        choice_rows=ints([layout.choice_row[families[i].variable] for i in choice]),
        number_rows=ints([layout.number_row[families[i].variable] for i in number]),
        edges=edges,
        order=np.argsort(ints([*choice, *number])),
        full=ints([(1 << len(f.readings)) - 1 for f in families]),
        with_given=ints(with_given),
        given=ints([conditions[i] for i in with_given]),
    )
