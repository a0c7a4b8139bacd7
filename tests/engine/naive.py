"""The design read out loud, one row and one value at a time: what the arrays are tested against."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from advisor.engine.layout import Layout, Values
from advisor.engine.model import All, AnyOf, Condition, Family, Interval, Not, Test

Kleene = bool | None


@dataclass(frozen=True, slots=True)
class Value:
    """What one variable can still be: choices, or lo <= x < hi. applies: None if not known."""

    choices: frozenset[str] = frozenset()
    range: Interval = (-inf, inf)
    applies: Kleene = True


def truth(condition: Condition, values: Mapping[str, Value]) -> Kleene:
    """Kleene's three values: true, false, or None for unknown."""
    if isinstance(condition, Test):
        return _test(condition, values[condition.variable])
    if isinstance(condition, Not):
        inner = truth(condition.of, values)
        return None if inner is None else not inner
    parts = [truth(part, values) for part in condition.of]
    settles = isinstance(condition, AnyOf)
    assert settles or isinstance(condition, All)
    if settles in parts:
        return settles
    return None if None in parts else not settles


def _test(test: Test, value: Value) -> Kleene:
    if value.applies is False:
        return False
    if isinstance(test.passing, frozenset):
        every, none = value.choices <= test.passing, not value.choices & test.passing
    else:
        (low, high), (lo, hi) = test.passing, value.range
        every, none = low <= lo and hi <= high, hi <= low or high <= lo
    if none:
        return False
    return True if every and value.applies else None


def values_of_row(layout: Layout, values: Values, row: int) -> dict[str, Value]:
    """One row of the arrays, as plain values."""
    out = {}
    for variable in layout.variables:
        at = layout.row[variable.key]
        yes, no = values.applies[at, row], values.applies_not[at, row]
        applies = True if yes else False if no else None
        if variable.is_choice:
            mask = int(values.masks[layout.choice_row[variable.key], row])
            choices = frozenset(layout.choices(variable.key, mask))
            out[variable.key] = Value(choices=choices, applies=applies)
        else:
            number = layout.number_row[variable.key]
            between = (float(values.lo[number, row]), float(values.hi[number, row]))
            out[variable.key] = Value(range=between, applies=applies)
    return out


def story_weights(families: Sequence[Family], left: Sequence[set[int]]) -> list[float]:
    """Log-weight of each family. left: which of its readings are still possible.

    Each read family of a story counts with 1 / (1 + 0.5 (k - 1)); k adds up (share struck
    out) / (1 - largest share left) over the story's read families, at least 1.
    """
    told: dict[str, float] = {}
    for family, possible in zip(families, left, strict=True):
        if family.story is None or len(possible) == len(family.readings):
            continue
        struck = sum(s for i, s in enumerate(family.shares) if i not in possible)
        largest = max(family.shares[i] for i in possible)
        told[family.story] = told.get(family.story, 0.0) + struck / (1 - largest)
    return [1 / (1 + 0.5 * (max(told.get(f.story or "", 1.0), 1.0) - 1)) for f in families]
