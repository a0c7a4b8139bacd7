"""What is so of a wet place, of all that a plan asks: limits, moments, cautions, proofs."""

from dataclasses import dataclass

from advisor.engine.model import Bools
from advisor.engine.settle import Settled
from advisor.knowledge import Knowledge


@dataclass(frozen=True, slots=True)
class Truths:
    """Kleene truth of the conditions of repair, (conditions, rows) each.

    true: on all findings; sure: on the sure ones alone; false: on either. Where a sure finding says
    no, an unsure one that contradicts it does not make it possible again.
    """

    at: dict[str, int]
    """Where each condition stands, by its name."""
    true: Bools
    false: Bools
    sure: Bools

    def of_row(self, row: int) -> "Truths":
        """The truths of one row alone."""
        one = slice(row, row + 1)
        return Truths(self.at, self.true[:, one], self.false[:, one], self.sure[:, one])

    def is_false(self, name: str) -> bool:
        """Known false in the first row; a condition that is not there is not."""
        place = self.at.get(name)
        return place is not None and bool(self.false[place, 0])

    def is_surely(self, name: str) -> bool:
        """True in the first row, resting on sure findings alone; what is not asked is so."""
        place = self.at.get(name)
        return place is None or bool(self.true[place, 0] and self.sure[place, 0])


def truths(knowledge: Knowledge, settled: Settled) -> Truths:
    """For every row that was settled."""
    found = knowledge.repair_circuit.evaluate(settled.both)
    rows = settled.values.rows
    return Truths(
        at={name: place for place, name in enumerate(knowledge.for_repair)},
        true=found.true[:, :rows] & ~found.false[:, rows:],
        false=found.false[:, :rows] | found.false[:, rows:],
        sure=found.true[:, rows:],
    )
