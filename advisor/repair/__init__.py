"""Methods weighed against the whole belief, and the plan: stops, steps, quantities, proof."""

from advisor.repair.amounts import label_of
from advisor.repair.holding import chances_to_hold
from advisor.repair.plan import repair
from advisor.repair.result import (
    Amount,
    LimitState,
    Load,
    MethodBelief,
    PayingLook,
    Plan,
    PlanHorizon,
    PlanProof,
    PlanStep,
)
from advisor.repair.truth import Truths, truths

__all__ = [
    "Amount",
    "LimitState",
    "Load",
    "MethodBelief",
    "PayingLook",
    "Plan",
    "PlanHorizon",
    "PlanProof",
    "PlanStep",
    "Truths",
    "chances_to_hold",
    "label_of",
    "repair",
    "truths",
]
