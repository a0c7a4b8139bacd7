"""Puts the floors below together into the one result that every face shows."""

from advisor.assessment.assemble import advisor_version, assess, assess_all
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
    "advisor_version",
    "assess",
    "assess_all",
    "problem_line",
    "result_schema",
]
