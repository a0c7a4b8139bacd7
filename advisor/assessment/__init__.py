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
from advisor.assessment.work_out import SumResult, WorkedOutSum, missing, read_given, work_out

__all__ = [
    "FORMAT",
    "Assessment",
    "LeakResult",
    "Reasons",
    "Step",
    "SumResult",
    "WorkedOutSum",
    "assess",
    "assess_all",
    "missing",
    "read_given",
    "reasons",
    "result_schema",
    "to_json",
    "work_out",
]
