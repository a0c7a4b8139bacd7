"""The calculus: base rate x needs x evidence of the families, normalised. In log space.

A state is, per family, which readings are still possible and whether surely so, and
per need true, false or unknown, and whether surely so. Nothing here knows how the
state came about.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
import numpy.typing as npt

from advisor.engine.circuit import Ints, Truth, ints
from advisor.engine.evidence import Evidence, Readings, add_up
from advisor.engine.model import Floats, Hypothesis, Masks, Need

Codes = npt.NDArray[np.int8]


class NeedState(IntEnum):
    """What is known of a need; unsure: resting on a finding that is not sure."""

    UNKNOWN = 0
    TRUE = 1
    FALSE = 2
    UNSURE_TRUE = 3
    UNSURE_FALSE = 4


@dataclass(frozen=True, slots=True)
class State:
    """readings of the families; needs: (needs, rows) of NeedState;
    base: (rows,) sets of choices of the variable that base rates hang on."""

    readings: Readings
    needs: Codes
    base: Masks

    def row(self, row: int) -> "State":
        """The state of one row."""
        possible, sure = self.readings.possible[:, [row]], self.readings.sure[:, [row]]
        return State(Readings(possible, sure), self.needs[:, [row]], self.base[[row]])


@dataclass(frozen=True, slots=True)
class Calculus:
    """Everything that turns a state into beliefs."""

    evidence: Evidence
    base_rates: Floats
    """(choices of the base-rate variable, hypotheses)."""
    need_times: Floats
    """(needs, 5): what each NeedState does to a hypothesis that names the need; 0: out."""
    need_shares: Floats
    named_by: tuple[Ints, ...]
    """Per need, the hypotheses that name it."""

    def base(self, state: State) -> Floats:
        """(rows, hypotheses): the mean rate over the choices still possible; 0: out."""
        rates, where = self._rates(state.base)
        return rates.take(where, axis=0)

    def log_beliefs(self, state: State, *, stories: bool = True) -> Floats:
        """(rows, hypotheses): log of the normalised beliefs; out is -inf.

        stories=False: every family counts in full, the tables as they stand.
        """
        table, where = self.evidence.look_up(state.readings)
        weights = self.evidence.weights(table, where) if stories else np.ones(where.shape)
        total = add_up(table, where, weights)
        with np.errstate(divide="ignore"):
            rates, where = self._rates(state.base)
            total += np.log(rates).take(where, axis=0)
        self._add_needs(total, state.needs)
        total -= total.max(axis=1, keepdims=True)
        total -= np.log(np.exp(total).sum(axis=1, keepdims=True))
        return total

    def log_likelihoods(self, state: State) -> Floats:
        """(rows, hypotheses): log P(state | hypothesis) by the tables alone, stories off."""
        table, where = self.evidence.look_up(state.readings)
        total = add_up(table, where, np.ones(where.shape))
        total += table.log_share[where].sum(axis=0)[:, None]
        self._add_needs(total, state.needs)
        with np.errstate(divide="ignore"):
            for share, codes in zip(self.need_shares, state.needs, strict=True):
                at_large = np.log([1.0, share, 1 - share, share, 1 - share])
                total += at_large[codes][:, None]
        return total

    def need_factors(self, state: State) -> Floats:
        """(needs, rows): the factor on the hypotheses that name the need; 0: out."""
        return np.take_along_axis(self.need_times, state.needs.astype(np.intp), axis=1)

    def family_times(self, state: State) -> Floats:
        """(families, rows, hypotheses): the factors as they count, stories on. For few rows."""
        table, where = self.evidence.look_up(state.readings)
        weights = self.evidence.weights(table, where)
        return np.exp(weights[:, :, None] * table.log_times[where])

    def _rates(self, base: Masks) -> tuple[Floats, Ints]:
        """Mean rates of the sets that are met, a row each, and (rows,) which set is whose."""
        sets, where = np.unique(base, return_inverse=True)
        choices = np.arange(self.base_rates.shape[0], dtype=np.uint64)
        bits = ((sets.astype(np.uint64)[:, None] >> choices) & np.uint64(1)).astype(np.float64)
        return bits @ self.base_rates / bits.sum(axis=1, keepdims=True), where

    def _add_needs(self, total: Floats, needs: Codes) -> None:
        with np.errstate(divide="ignore"):
            logs = np.log(self.need_times)
        for columns, log, codes in zip(self.named_by, logs, needs, strict=True):
            if codes.any():
                total[:, columns] += log.take(codes)[:, None]


def make_calculus(
    evidence: Evidence,
    hypotheses: Sequence[Hypothesis],
    needs: Sequence[Need],
    base_choices: Sequence[str],
    right_unsure: float,
) -> Calculus:
    """base_choices: of the base-rate variable; with none every hypothesis has one rate."""
    return Calculus(
        evidence=evidence,
        base_rates=np.array(
            [[_base(h, choice) for h in hypotheses] for choice in (base_choices or [""])]
        ),
        need_times=np.array([_need_times(n.share, right_unsure) for n in needs]).reshape(-1, 5),
        need_shares=np.array([n.share for n in needs]),
        named_by=tuple(
            ints([i for i, h in enumerate(hypotheses) if n.key in h.needs]) for n in needs
        ),
    )


def _base(hypothesis: Hypothesis, choice: str) -> float:
    if isinstance(hypothesis.base, Mapping):
        return hypothesis.base.get(choice, 0.0)
    return hypothesis.base


def _need_times(share: float, right: float) -> list[float]:
    """By NeedState. An unsure finding is right with `right`, else true with the share at large."""
    return [1.0, 1 / share, 0.0, (right + (1 - right) * share) / share, 1 - right]


def need_states(all_run: Truth, sure_run: Truth) -> Codes:
    """NeedState of needs from their truth on all findings and on the sure ones alone."""
    sure = (all_run.true == sure_run.true) & (all_run.false == sure_run.false)
    codes = np.where(all_run.true, np.int8(1), np.int8(0)) + 2 * all_run.false
    unsure = (codes > 0) & ~sure
    return np.asarray(codes + 2 * unsure, dtype=np.int8)


def entropy_bits(log_beliefs: Floats) -> Floats:
    """(rows,): entropy of each row of beliefs, in bits."""
    p = np.exp(log_beliefs)
    finite = np.where(p > 0, log_beliefs, 0.0)
    bits: Floats = -(p * finite).sum(axis=1) / np.log(2)
    return bits


def group_sums(beliefs: Floats, labels: Sequence[str]) -> dict[str, Floats]:
    """label -> (rows,): beliefs added up over the hypotheses that carry the label."""
    sums: dict[str, Floats] = {}
    for column, label in enumerate(labels):
        sums[label] = sums.get(label, 0.0) + beliefs[:, column]
    return sums
