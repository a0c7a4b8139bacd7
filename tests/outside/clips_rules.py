"""A model's deductions as a CLIPS program. CLIPS: https://www.clipsrules.net, through clipspy.

State there: a fact for each (variable, choice) that is struck out, for each number found, and
for each variable settled to apply or not. A finding of one choice strikes out all others. A
test is true when every failing choice is out, false when every passing one is; a Not is moved
inwards, so that no rule asks for an absence.
"""

from collections.abc import Iterator

import clips

from advisor.engine.layout import Layout, Table
from advisor.engine.model import All, Condition, Model, Not, Test, Variable

Strike = tuple[str, str]
"""(variable, choice)."""


class Clips:
    """A compiled program. Slowing down with use is avoided: facts are never read from Python."""

    def __init__(self, model: Model) -> None:
        self.environment = clips.Environment()
        self.strikes: set[Strike] = set()
        self.environment.define_function(self._strike, "strike")
        variables = {v.key: v for v in model.variables}
        for v in model.variables:
            self._findings(v)
            if v.applies is not None:
                self._rule(v.key, _pattern(v.applies, variables, True), f"(assert (has-{v.key}))")
                never = f"(not (has-{v.key})) {_pattern(v.applies, variables, False)}"
                self._rule(f"no-{v.key}", never, f"(assert (has-no-{v.key}))")
        for d in model.deductions:
            actions = [
                f"(assert (out-{d.variable} {c})) (strike {d.variable} {c})" for c in d.strikes
            ]
            self._rule(d.key, _pattern(d.when, variables, True), *actions)

    def struck(self, facts: str) -> set[Strike]:
        """What the deductions strike out in one row, run to the end."""
        self.strikes = set()
        self.environment.reset()
        self.environment.load_facts(facts)
        self.environment.run()
        return self.strikes

    def _strike(self, variable: str, choice: str) -> None:
        self.strikes.add((str(variable), str(choice)))

    def _findings(self, variable: Variable) -> None:
        """What a finding of each choice means: all others are out, and the variable applies."""
        has = f"(assert (has-{variable.key}))" if variable.applies is not None else ""
        for choice in variable.choices:
            out = [f"(assert (out-{variable.key} {c}))" for c in variable.choices if c != choice]
            self._rule(f"{variable.key}-{choice}", f"({variable.key} {choice})", has, *out)

    def _rule(self, name: str, left: str, *actions: str) -> None:
        self.environment.build(f"(defrule {name} {left} => {' '.join(actions)})")


def facts_of(table: Table, layout: Layout, row: int) -> str:
    """A row of single values as text: the quickest way in."""
    return "\n".join(_facts(table, layout, row))


def _facts(table: Table, layout: Layout, row: int) -> Iterator[str]:
    for v in layout.variables:
        if v.is_choice:
            left = layout.choices(v.key, int(table.masks[layout.choice_row[v.key], row]))
            if len(left) == 1:
                yield f"({v.key} {left[0]})"
        else:
            low = float(table.lo[layout.number_row[v.key], row])
            if low > v.lowest:
                yield f"({v.key} {low!r})"


def _pattern(condition: Condition, variables: dict[str, Variable], wanted: bool) -> str:
    """When a condition is known true (or known false, where not wanted)."""
    if isinstance(condition, Not):
        return _pattern(condition.of, variables, not wanted)
    if isinstance(condition, Test):
        return _test(condition, variables[condition.variable], wanted)
    parts = " ".join(_pattern(part, variables, wanted) for part in condition.of)
    return f"({'and' if isinstance(condition, All) == wanted else 'or'} {parts})"


def _test(test: Test, variable: Variable, wanted: bool) -> str:
    key = variable.key
    if isinstance(test.passing, frozenset):
        against = [c for c in variable.choices if (c in test.passing) != wanted]
        facts = " ".join(f"(out-{key} {c})" for c in against)
    else:
        low, high = test.passing
        inside = f"(and (>= ?{key} {low!r}) (< ?{key} {min(high, 1e300)!r}))"
        facts = f"({key} ?{key}&:{inside if wanted else f'(not {inside})'})"
    if variable.applies is None:
        return f"(and {facts})"
    if wanted:
        return f"(and (has-{key}) {facts})"
    return f"(or (has-no-{key}) (and {facts}))"
