"""The order in which variables settle: strata worked out, never declared."""

from collections.abc import Mapping
from graphlib import CycleError, TopologicalSorter

from advisor.engine.model import Model, variables_of


def dependencies(model: Model, *, evidence_only: bool = False) -> dict[str, set[str]]:
    """For each variable, the variables it is settled from.

    evidence_only: leave out what only says whether and how surely it is read
    (`applies`, `unsure_when`, `given`).
    """
    needs: dict[str, set[str]] = {v.key: set() for v in model.variables}
    for deduction in model.deductions:
        needs[deduction.variable] |= variables_of(deduction.when)
    for fact in model.worked_out:
        needs[fact.variable] |= set(fact.inputs)
    if not evidence_only:
        for fact in model.worked_out:
            needs[fact.variable] |= variables_of(fact.given)
        for v in model.variables:
            needs[v.key] |= variables_of(v.applies) | variables_of(v.unsure_when)
    return needs


def strata(needs: Mapping[str, set[str]]) -> dict[str, int]:
    """Level of each variable: 0 for what depends on nothing, else one above its deepest need.

    Raises ValueError with the path when a variable depends on itself.
    """
    loop = find_cycle(needs)
    if loop:
        raise ValueError(" -> ".join(loop))
    level: dict[str, int] = {}
    for key in TopologicalSorter(needs).static_order():
        level[key] = 1 + max((level[n] for n in needs[key]), default=-1)
    return level


def find_cycle(needs: Mapping[str, set[str]]) -> tuple[str, ...]:
    """A path that comes back to where it began, each settled from the next; () if there is none."""
    in_order = {key: sorted(needs[key]) for key in needs}  # the same path on every run
    try:
        TopologicalSorter(in_order).prepare()
    except CycleError as error:
        return tuple(reversed(error.args[1]))
    return ()
