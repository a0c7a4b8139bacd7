"""Rows in, beliefs out: a model compiled once, run on tables of any size."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from os import cpu_count

import numpy as np

from advisor.engine.belief import Calculus, State, make_calculus, need_states
from advisor.engine.circuit import Circuit, Truth, compile_circuit
from advisor.engine.evidence import make_evidence
from advisor.engine.layout import Layout, Table, blank_table, lay_out
from advisor.engine.model import Floats, Masks, Model
from advisor.engine.reader import Reader, make_reader
from advisor.engine.settle import Settled, Settler, compile_settler

BLOCK = 8192
"""Rows worked on at a time: enough that the interpreter, which threads share, hardly counts."""


@dataclass(frozen=True, slots=True)
class Run:
    """All that was worked out for a table: one code path for beliefs, traces and looks."""

    settled: Settled
    state: State
    needs: Truth
    watched: Truth
    log_beliefs: Floats

    @property
    def beliefs(self) -> Floats:
        """(rows, hypotheses), each row sums to 1."""
        return np.exp(self.log_beliefs)


@dataclass(frozen=True, slots=True, eq=False)
class Engine:
    model: Model
    layout: Layout
    settler: Settler
    reader: Reader
    calculus: Calculus
    questions: Circuit
    """Roots: the needs, then each family's `given`, then the watched conditions."""

    @property
    def hypotheses(self) -> tuple[str, ...]:
        return tuple(h.key for h in self.model.hypotheses)

    def blank(self, rows: int = 1) -> Table:
        """A table in which nothing is known."""
        return blank_table(self.layout, rows)

    def run(self, table: Table) -> Run:
        """Everything about every row, in one piece: for few rows and what-ifs."""
        settled, n = self.settler.settle(table), table.rows
        answers = self.questions.evaluate(settled.both)
        all_run, sure_run = answers.rows(slice(0, n)), answers.rows(slice(n, None))
        k, g = len(self.model.needs), self.reader.given.size
        needs = Truth(all_run.true[:k], all_run.false[:k])
        state = State(
            readings=self.reader.read(settled.values, all_run.true[k : k + g], settled.sure),
            needs=need_states(needs, Truth(sure_run.true[:k], sure_run.false[:k])),
            base=self._base_sets(settled),
        )
        watched = Truth(all_run.true[k + g :], all_run.false[k + g :])
        return Run(settled, state, needs, watched, self.calculus.log_beliefs(state))

    def beliefs(self, table: Table) -> Floats:
        """(rows, hypotheses) for tables of any size, in blocks on all processors."""
        out = np.empty((table.rows, len(self.model.hypotheses)))

        def work(block: slice) -> None:
            np.exp(self.run(table.take(block)).log_beliefs, out=out[block])

        with ThreadPoolExecutor(cpu_count() or 1) as pool:
            for _ in pool.map(work, _blocks(table.rows)):
                pass
        return out

    def _base_sets(self, settled: Settled) -> Masks:
        if self.model.base_by is None:
            return np.ones(settled.values.rows, dtype=np.uint8)
        sets: Masks = settled.values.masks[self.layout.choice_row[self.model.base_by]]
        return sets


def _blocks(rows: int) -> Iterator[slice]:
    for start in range(0, rows, BLOCK):
        yield slice(start, min(start + BLOCK, rows))


def compile_engine(model: Model) -> Engine:
    """Raises KeyError or ValueError for a model that `find_faults` would refuse."""
    layout = lay_out(model.variables)
    evidence = make_evidence(
        model.families, (model.right_unsure, model.right_sure), len(model.hypotheses)
    )
    given = [f.given for f in model.families if f.given is not None]
    position = iter(range(len(given)))
    base_by = model.base_by
    base_choices = layout.variables[layout.row[base_by]].choices if base_by is not None else ()
    return Engine(
        model=model,
        layout=layout,
        settler=compile_settler(model, layout),
        reader=make_reader(
            model.families,
            layout,
            [-1 if f.given is None else next(position) for f in model.families],
        ),
        calculus=make_calculus(
            evidence, model.hypotheses, model.needs, base_choices, model.right_unsure
        ),
        questions=compile_circuit(
            [*(n.when for n in model.needs), *given, *model.watched.values()], layout
        ),
    )
