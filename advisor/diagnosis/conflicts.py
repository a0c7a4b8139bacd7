"""Findings that do not fit together: with each other, with what applies, with the deductions."""

from collections.abc import Iterator
from functools import lru_cache

from advisor.callout import Resolved
from advisor.diagnosis.result import Conflict
from advisor.diagnosis.rows import Facts
from advisor.engine import Circuit, Run, compile_circuit, variables_of
from advisor.knowledge import READINGS_OF, Knowledge, choice_words, either, read_aloud
from advisor.terms import Attribute, Range, say_choices, say_range


def conflicts(knowledge: Knowledge, run: Run, row: int, facts: Facts) -> tuple[Conflict, ...]:
    """Findings that exclude each other or do not apply, and those that deductions strike out."""
    return (
        *_excluded(knowledge, facts),
        *_not_applying(knowledge, run, row, facts),
        *_against_deductions(knowledge, run, row, facts),
    )


def _excluded(knowledge: Knowledge, facts: Facts) -> Iterator[Conflict]:
    for key, fact in facts.items():
        base, _, part = key.partition(".")
        if fact.excluded and part not in READINGS_OF:
            said = ", ".join(read_aloud(knowledge, each) for each in fact.excluded)
            label = knowledge.attributes[base].label
            yield Conflict(
                attribute=key,
                found=", ".join(fact.excluded),
                deduced=None,
                text=knowledge.say("exclude-each-other", attribute=label, found=said),
            )


def _not_applying(knowledge: Knowledge, run: Run, row: int, facts: Facts) -> Iterator[Conflict]:
    """A finding settles that its attribute applies; another finding may say that it does not."""
    keys, circuit = _applying(knowledge)
    false = circuit.evaluate(run.settled.values).false[:, row]
    for key, says_not in zip(keys, false, strict=True):
        fact = facts.get(key)
        if says_not and fact is not None and fact.value is not None:
            found = _said(knowledge.attributes[key], fact)
            others = sorted(variables_of(knowledge.applies[key]))
            why = ", ".join(
                _stands(knowledge, run, row, other)
                for other in others
                if other in knowledge.engine.layout.choice_row
            )
            yield Conflict(
                attribute=key,
                found=found,
                deduced=knowledge.say("does-not-apply"),
                text=knowledge.say(
                    "found-but-does-not-apply",
                    attribute=knowledge.attributes[key].label,
                    found=read_aloud(knowledge, found),
                    why=why,
                ),
            )


def _said(attribute: Attribute, fact: Resolved) -> str:
    """What was found, as a technician writes it."""
    if isinstance(fact.value, int):
        return say_choices(fact.value, attribute)
    if isinstance(fact.value, Range):
        limits = {"lowest": attribute.lowest, "highest": attribute.highest}
        return say_range(fact.value, attribute.unit or "count", **limits)
    return str(fact.value)


@lru_cache(maxsize=4)
def _applying(knowledge: Knowledge) -> tuple[tuple[str, ...], Circuit]:
    """Attributes that do not always apply, and their conditions."""
    keys = tuple(knowledge.applies)
    return keys, compile_circuit([knowledge.applies[k] for k in keys], knowledge.engine.layout)


def _stands(knowledge: Knowledge, run: Run, row: int, variable: str) -> str:
    """What a choice stands at, in the words of its attribute."""
    layout = knowledge.engine.layout
    mask = int(run.settled.values.masks[layout.choice_row[variable], row])
    attribute = knowledge.attributes[variable.partition(".")[0]]
    left = layout.choices(variable, mask)
    said = either(knowledge, [choice_words(knowledge, variable, key) for key in left])
    return f"{attribute.label}: {said}"


def _against_deductions(
    knowledge: Knowledge, run: Run, row: int, facts: Facts
) -> Iterator[Conflict]:
    layout, settled = knowledge.engine.layout, run.settled
    for key, place in layout.choice_row.items():
        if not settled.conflict[place, row]:
            continue
        left = int(layout.full[place] & ~settled.struck[place, row])
        deduced = " or ".join(layout.choices(key, left))
        rules = ", ".join(
            d.key
            for i, d in enumerate(knowledge.model.deductions)
            if d.variable == key and settled.deductions.true[i, row]
        )
        label = knowledge.attributes[key.partition(".")[0]].label
        nothing = knowledge.say("nothing-that-can-be")
        if key in facts:
            found = " or ".join(layout.choices(key, int(settled.values.masks[place, row])))
            text = knowledge.say(
                "found-but-deduced",
                attribute=label,
                found=read_aloud(knowledge, found),
                deduced=read_aloud(knowledge, deduced) if deduced else nothing,
                rules=rules,
            )
        else:
            found = knowledge.say("only-deduced")
            text = knowledge.say("deduced-both", attribute=label, rules=rules)
        yield Conflict(attribute=key, found=found, deduced=deduced or nothing, text=text)
