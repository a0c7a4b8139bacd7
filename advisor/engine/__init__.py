"""A general engine: rows of findings in, beliefs in hypotheses out.

Values are sets of what is still possible; conditions have Kleene's three values.
"""

from advisor.engine.belief import NeedState, State, entropy_bits, group_sums
from advisor.engine.circuit import Circuit, Truth, compile_circuit
from advisor.engine.engine import Engine, Run, compile_engine
from advisor.engine.evidence import Readings
from advisor.engine.family import Cut, TableResult, Weight, build_table
from advisor.engine.layout import Layout, Table, Values, lay_out
from advisor.engine.model import (
    ALWAYS,
    All,
    AnyOf,
    Condition,
    Deduction,
    Family,
    Hypothesis,
    Interval,
    Model,
    Need,
    Not,
    Test,
    Variable,
    WorkedOut,
    tests_of,
    variables_of,
)
from advisor.engine.order import dependencies, find_cycle, strata
from advisor.engine.soundness import Paths, Twins, can_be_true, second_paths, separations
from advisor.engine.trace import DeductionTrace, FamilyTrace, TestTrace, Trace, trace

__all__ = [
    "ALWAYS",
    "All",
    "AnyOf",
    "Circuit",
    "Condition",
    "Cut",
    "Deduction",
    "DeductionTrace",
    "Engine",
    "Family",
    "FamilyTrace",
    "Hypothesis",
    "Interval",
    "Layout",
    "Model",
    "Need",
    "NeedState",
    "Not",
    "Paths",
    "Readings",
    "Run",
    "State",
    "Table",
    "TableResult",
    "Test",
    "TestTrace",
    "Trace",
    "Truth",
    "Twins",
    "Values",
    "Variable",
    "Weight",
    "WorkedOut",
    "build_table",
    "can_be_true",
    "compile_circuit",
    "compile_engine",
    "dependencies",
    "entropy_bits",
    "find_cycle",
    "group_sums",
    "lay_out",
    "second_paths",
    "separations",
    "strata",
    "tests_of",
    "trace",
    "variables_of",
]
