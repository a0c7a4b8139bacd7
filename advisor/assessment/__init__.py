"""Puts the floors below together into the one result that every face shows."""

from advisor.assessment.assemble import advisor_version, assess, assess_all
from advisor.assessment.reasons import Reasons, Step, reasons
from advisor.assessment.result import (
    FORMAT,
    Assessment,
    LeakResult,
    ProblemLine,
    problem_line,
    result_schema,
)

__all__ = [
    "FORMAT",
    "Assessment",
    "LeakResult",
    "ProblemLine",
    "Reasons",
    "Step",
    "advisor_version",
    "assess",
    "assess_all",
    "problem_line",
    "reasons",
    "result_schema",
]
