"""The steps behind a result: deductions that fired, and those that one more finding would fire."""

from dataclasses import dataclass
from math import inf

from advisor.callout import Callout, Leak, resolve
from advisor.diagnosis import table_of
from advisor.engine import DeductionTrace, Test, TestTrace, trace
from advisor.knowledge import READINGS_OF, Knowledge, choice_words, either, read_aloud
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
    if len(kept) > 1:
        passing = knowledge.say("not-choices", choices=passing)
    return Step(
        deduction=entry.key,
        state=knowledge.say("in-conflict") if told.in_conflict else told.state,
        tests=tuple(_say(knowledge, t) for t in told.tests),
        then=f"{_label(knowledge, deduction.variable)}: {passing}",
        because=entry.why.because,
    )


def _say(knowledge: Knowledge, told: TestTrace) -> str:
    label, passing = _label(knowledge, told.test.variable), _passing(knowledge, told.test)
    return f"{label}: {passing}? {knowledge.say(f'test-{told.state}')}"


def _label(knowledge: Knowledge, variable: str) -> str:
    base, _, part = variable.partition(".")
    attribute = knowledge.attributes[base]
    if part in READINGS_OF:
        return f"{attribute.label}, {knowledge.say(f'reading-{part}')}"
    choice = next((c.label for c in attribute.choices if c.key == part), part)
    return f"{attribute.label}, {choice}" if part else attribute.label


def _passing(knowledge: Knowledge, test: Test) -> str:
    """What passes, in the words of the attribute."""
    base, _, part = test.variable.partition(".")
    attribute = knowledge.attributes[base]
    if isinstance(test.passing, frozenset):
        words = sorted(choice_words(knowledge, test.variable, key) for key in test.passing)
        return either(knowledge, words)
    lowest, highest = (-inf, inf) if part == "change" else (attribute.lowest, attribute.highest)
    said = say_range(Range(*test.passing), attribute.unit or "", lowest=lowest, highest=highest)
    return read_aloud(knowledge, said)
