"""What a rule base consists of: variables, conditions, deductions, families, needs, hypotheses.

A variable is a choice (its value: the set of choices still possible) or a number
(its value: a half-open range). Everything here is plain data; nothing is evaluated.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from math import inf

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Masks = npt.NDArray[np.unsignedinteger]

Interval = tuple[float, float]
"""Half-open: lo <= x < hi."""

Worker = Callable[[tuple[tuple[Floats, Floats], ...]], tuple[Floats, Floats]]
"""Ranges in, ranges out: ((lo, hi), ...) of shape (rows,) each -> (lo, hi)."""


@dataclass(frozen=True, slots=True)
class Test:
    """True when every value still possible passes, false when none does."""

    __test__ = False  # not a test case for pytest

    variable: str
    passing: frozenset[str] | Interval


@dataclass(frozen=True, slots=True)
class All:
    of: tuple["Condition", ...]


@dataclass(frozen=True, slots=True)
class AnyOf:
    of: tuple["Condition", ...]


@dataclass(frozen=True, slots=True)
class Not:
    of: "Condition"


Condition = Test | All | AnyOf | Not
ALWAYS = All(())


@dataclass(frozen=True, slots=True, kw_only=True)
class Variable:
    """A choice if `choices` is given, else a number within lowest <= x < highest."""

    key: str
    choices: tuple[str, ...] = ()
    lowest: float = -inf
    highest: float = inf
    applies: Condition | None = None
    unsure_when: Condition | None = None
    origins: tuple[str, ...] = ()
    """Observed things it is cut from before it comes here; (): the variable itself."""

    @property
    def is_choice(self) -> bool:
        return bool(self.choices)


@dataclass(frozen=True, slots=True, kw_only=True)
class Deduction:
    """When the condition is true, `strikes` leave the choices of `variable`."""

    key: str
    when: Condition
    variable: str
    strikes: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOut:
    """A number variable that is a function of others, where nothing was found.

    Of several for one variable the first that gives something counts. given: only where this is
    known true. assumed: what an input is taken to be where nothing is known of it; what rests on
    that is unsure. () or None: nothing.
    """

    variable: str
    inputs: tuple[str, ...]
    work: Worker
    given: Condition | None = None
    assumed: tuple[Interval | None, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """One kind of evidence: a table over the readings of one variable.

    shares: (readings,), likelihood: (readings, hypotheses), columns sum to 1.
    edges: inner band limits for a number, empty for a choice (a reading per choice).
    mentioned: (hypotheses,), False where the hypothesis shows the shares unchanged.
    """

    key: str
    variable: str
    readings: tuple[str, ...]
    shares: Floats
    likelihood: Floats
    mentioned: Bools
    edges: tuple[float, ...] = ()
    given: Condition | None = None
    story: str | None = None
    again: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What must be there for the hypotheses that name it. share: how often it is, at large."""

    key: str
    when: Condition
    share: float
    again: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hypothesis:
    """base: one rate, or a rate per choice of the model's `base_by` (a choice not listed: out)."""

    key: str
    base: float | Mapping[str, float]
    needs: tuple[str, ...] = ()
    within: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    variables: tuple[Variable, ...]
    hypotheses: tuple[Hypothesis, ...]
    deductions: tuple[Deduction, ...] = ()
    worked_out: tuple[WorkedOut, ...] = ()
    families: tuple[Family, ...] = ()
    needs: tuple[Need, ...] = ()
    watched: Mapping[str, Condition] = field(default_factory=dict)
    """Conditions whose truth is wanted beside the beliefs."""
    base_by: str | None = None
    right_sure: float = 0.97
    right_unsure: float = 0.7


def tests_of(condition: Condition | None) -> Iterator[Test]:
    """Every test inside a condition, left to right."""
    if isinstance(condition, Test):
        yield condition
    elif isinstance(condition, Not):
        yield from tests_of(condition.of)
    elif condition is not None:
        for part in condition.of:
            yield from tests_of(part)


def variables_of(condition: Condition | None) -> frozenset[str]:
    """The variables a condition reads."""
    return frozenset(test.variable for test in tests_of(condition))
