"""The order in which variables settle: strata worked out, never declared."""

from collections.abc import Mapping

from advisor.engine.model import Model, variables_of


def dependencies(model: Model, *, evidence_only: bool = False) -> dict[str, set[str]]:
    """For each variable, the variables it is settled from.

    evidence_only: leave out what only says whether and how surely it is read
    (`applies`, `unsure_when`).
    """
    needs: dict[str, set[str]] = {v.key: set() for v in model.variables}
    for deduction in model.deductions:
        needs[deduction.variable] |= variables_of(deduction.when)
    for fact in model.worked_out:
        needs[fact.variable] |= set(fact.inputs)
    if not evidence_only:
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

    def settle(key: str) -> int:
        if key not in level:
            level[key] = 1 + max((settle(n) for n in needs[key]), default=-1)
        return level[key]

    for key in needs:
        settle(key)
    return level


def find_cycle(needs: Mapping[str, set[str]]) -> tuple[str, ...]:
    """A path that comes back to where it began, or () when there is none.

    Walked without recursion, so that a long chain is no danger.
    """
    done: set[str] = set()
    for start in needs:
        if start in done:
            continue
        path = [start]
        open_ends = [sorted(needs[start], reverse=True)]
        on_path = {start}
        while path:
            if open_ends[-1]:
                following = open_ends[-1].pop()
                if following in on_path:
                    return (*path[path.index(following) :], following)
                if following not in done:
                    path.append(following)
                    on_path.add(following)
                    open_ends.append(sorted(needs.get(following, ()), reverse=True))
            else:
                open_ends.pop()
                finished = path.pop()
                on_path.discard(finished)
                done.add(finished)
    return ()
