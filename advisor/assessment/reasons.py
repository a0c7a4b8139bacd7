"""The steps behind a result: deductions that fired, and those that one more finding would fire."""

from dataclasses import dataclass
from math import inf

from advisor.callout import Callout, Leak, resolve
from advisor.diagnosis import table_of
from advisor.engine import DeductionTrace, Test, TestTrace, trace
from advisor.knowledge import Knowledge
from advisor.terms import Range, say_range


@dataclass(frozen=True, kw_only=True)
class Step:
    """A deduction. tests: what it rests on, each with how it stands; then: what it leaves out."""

    deduction: str
    state: str
    tests: tuple[str, ...]
    then: str
    because: str


@dataclass(frozen=True, kw_only=True)
class Reasons:
    """fired: what followed; waiting: what one unknown test keeps from firing."""

    fired: tuple[Step, ...]
    waiting: tuple[Step, ...]
    silent: tuple[str, ...]
    """Families whose `given` is unknown: not read."""


def reasons(knowledge: Knowledge, callout: Callout, leak: Leak) -> Reasons:
    """How the facts behind one wet place follow from each other."""
    facts = resolve(callout, leak, knowledge.attributes)
    engine = knowledge.engine
    told = trace(engine, engine.run(table_of(engine, [facts])), 0)
    fired = [d for d in told.deductions if d.state == "true"]
    waiting = [
        d
        for d in told.deductions
        if d.state == "unknown"
        and sum(t.state == "unknown" for t in d.tests) == 1
        and any(t.state == "true" for t in d.tests)
    ]
    return Reasons(
        fired=tuple(_step(knowledge, d) for d in fired),
        waiting=tuple(_step(knowledge, d) for d in waiting),
        silent=tuple(
            knowledge.families[f.family.key].label
            for f in told.families
            if any(t.state == "unknown" for t in f.given)
        ),
    )


def _step(knowledge: Knowledge, told: DeductionTrace) -> Step:
    deduction = told.deduction
    entry = knowledge.deductions[deduction.key.partition("/")[0]]
    layout = knowledge.engine.layout
    left = set(layout.variables[layout.row[deduction.variable]].choices) - deduction.strikes
    kept, struck = frozenset(left), deduction.strikes
    passing = _passing(knowledge, Test(deduction.variable, kept if len(kept) == 1 else struck))
    label = _label(knowledge, deduction.variable)
    return Step(
        deduction=entry.key,
        state="in conflict with a finding" if told.in_conflict else told.state,
        tests=tuple(_say(knowledge, t) for t in told.tests),
        then=f"{label}: {passing}" if len(kept) == 1 else f"{label}: not {passing}",
        because=entry.why.because,
    )


def _say(knowledge: Knowledge, told: TestTrace) -> str:
    variable = told.test.variable
    return f"{_label(knowledge, variable)}: {_passing(knowledge, told.test)}? {told.state}"


def _label(knowledge: Knowledge, variable: str) -> str:
    base, _, part = variable.partition(".")
    attribute = knowledge.attributes[base]
    choice = next((c.label for c in attribute.choices if c.key == part), part)
    return f"{attribute.label}, {choice}" if part else attribute.label


def _passing(knowledge: Knowledge, test: Test) -> str:
    """What passes, in the words of the attribute."""
    base, _, part = test.variable.partition(".")
    attribute = knowledge.attributes[base]
    if isinstance(test.passing, frozenset):
        labels = {} if attribute.kind == "several" else {c.key: c.label for c in attribute.choices}
        return " or ".join(sorted(labels.get(key, key) for key in test.passing))
    lowest, highest = (-inf, inf) if part == "change" else (attribute.lowest, attribute.highest)
    return say_range(Range(*test.passing), attribute.unit or "", lowest=lowest, highest=highest)
