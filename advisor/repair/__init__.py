"""Methods weighed against the whole belief, and the plan: stops, steps, quantities, proof."""

from advisor.repair.amounts import label_of
from advisor.repair.firm import Firm, best_today, fitting, orders
from advisor.repair.firm_reader import read_firm
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
    "Firm",
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
    "best_today",
    "chances_to_hold",
    "fitting",
    "label_of",
    "lasting_repairs",
    "method_beliefs",
    "orders",
    "read_firm",
    "repair",
    "truths",
    "weighed",
]
