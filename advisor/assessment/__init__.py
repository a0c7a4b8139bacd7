"""Puts the floors below together into the one result that every face shows."""

from advisor.assessment.assemble import assess, assess_all
from advisor.assessment.reasons import Reasons, Step, reasons
from advisor.assessment.result import (
    FORMAT,
    Assessment,
    LeakResult,
    result_schema,
    to_json,
)

__all__ = [
    "FORMAT",
    "Assessment",
    "LeakResult",
    "Reasons",
    "Step",
    "assess",
    "assess_all",
    "reasons",
    "result_schema",
    "to_json",
]
