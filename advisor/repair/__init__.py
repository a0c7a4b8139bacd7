"""Methods weighed against the whole belief, and the plan: stops, steps, quantities, proof.

What the firm has today stands in `firm.py`, for who asks for a sheet.
"""

from advisor.repair.amounts import label_of
from advisor.repair.fit import method_beliefs
from advisor.repair.holding import chances_to_hold
from advisor.repair.plan import lasting_repairs, repair, weighed
from advisor.repair.result import (
    Amount,
    LimitState,
    Load,
    MethodBelief,
    NotToday,
    Order,
    PayingLook,
    Plan,
    PlanHorizon,
    PlanProof,
    PlanStep,
    Today,
)
from advisor.repair.truth import Truths, truths

__all__ = [
    "Amount",
    "LimitState",
    "Load",
    "MethodBelief",
    "NotToday",
    "Order",
    "PayingLook",
    "Plan",
    "PlanHorizon",
    "PlanProof",
    "PlanStep",
    "Today",
    "Truths",
    "chances_to_hold",
    "label_of",
    "lasting_repairs",
    "method_beliefs",
    "repair",
    "truths",
    "weighed",
]
