"""How much each finding tells between causes, in bits: its weight when places are compared.

Mutual information: I = sum of P(r, c) log2(P(r, c) / (P(r) P(c))) over readings r and causes c
(Cover and Thomas, Elements of Information Theory, section 2.3).
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache

import numpy as np

from advisor.engine import Model, dependencies, variables_of
from advisor.engine.model import Floats
from advisor.engine.soundness import all_upstream
from advisor.knowledge import Knowledge

NEGLIGIBLE = 1e-9
"""Bits; rounding alone leaves that much."""


@lru_cache(maxsize=4)
def telling(knowledge: Knowledge) -> Mapping[str, float]:
    """Bits by variable that can be found, under the tables and the mean base rates of the kinds.

    The bits of a family, or of a need, are shared equally among the variables that feed it,
    however long the way. The kind of the structure tells by its base rates. What tells nothing
    is not there.
    """
    model = knowledge.model
    upstream = dependencies(model, evidence_only=True)
    found: dict[str, float] = {}
    for read, joint in _evidence(model):
        feeding = {
            key for variable in all_upstream(read, upstream) for key in _found(knowledge, variable)
        }
        for key in sorted(feeding):
            found[key] = found.get(key, 0.0) + mutual_information(joint) / len(feeding)
    return {key: bits for key, bits in found.items() if bits > NEGLIGIBLE}


def mutual_information(joint: Floats) -> float:
    """Bits that one tells of the other. joint: (readings, causes), summing to 1."""
    apart = joint.sum(axis=1, keepdims=True) * joint.sum(axis=0, keepdims=True)
    there = joint > 0
    return float((joint[there] * np.log2(joint[there] / apart[there])).sum())


def _evidence(model: Model) -> Iterator[tuple[frozenset[str], Floats]]:
    """What each piece of evidence reads, and P(reading, cause)."""
    by_kind = _base_rates(model)
    base = by_kind.mean(axis=0)
    if model.base_by is not None:
        yield frozenset([model.base_by]), by_kind / len(by_kind)
    for family in model.families:
        yield frozenset([family.variable]), family.likelihood * base
    for need in model.needs:
        # Where a cause needs it, it is there; else it is there as often as at large.
        there = np.array([1.0 if need.key in h.needs else need.share for h in model.hypotheses])
        yield variables_of(need.when), np.array([there, 1 - there]) * base


def _base_rates(model: Model) -> Floats:
    """(kinds, causes): each row sums to 1."""
    kinds = next((v.choices for v in model.variables if v.key == model.base_by), ("",))
    rates = np.array(
        [
            [h.base.get(kind, 0.0) if isinstance(h.base, Mapping) else h.base for kind in kinds]
            for h in model.hypotheses
        ]
    ).T
    return np.asarray(rates / rates.sum(axis=1, keepdims=True))


def _found(knowledge: Knowledge, variable: str) -> tuple[str, ...]:
    """What people find that this variable is: itself, what it is cut from, or nothing."""
    name, _, part = variable.partition(".")
    attribute = knowledge.attributes.get(name)
    if attribute is None or set(attribute.who) == {"worked-out"}:
        return ()
    if part and attribute.kind != "several":
        return (name,)  # its first, highest, lowest, or its change
    return (variable,)
