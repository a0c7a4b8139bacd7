"""The chance that each method holds, for a table of wet places at once.

*Holds* means: within the agreed tightness at that place, with the water up, 24 months later.
P(holds) = sum over causes of belief x P(holds | cause), times the chance that each limit of the
method is kept, times what makes it worse.
"""

from collections.abc import Mapping
from functools import lru_cache
from graphlib import TopologicalSorter

import numpy as np

from advisor.engine.model import Bools, Floats
from advisor.knowledge import Knowledge, Method
from advisor.repair.truth import Truths


def chances_to_hold(knowledge: Knowledge, beliefs: Floats, truths: Truths) -> Floats:
    """(methods, rows). beliefs: (rows, causes)."""
    on_the_causes = rates(knowledge) @ beliefs.T
    return np.asarray(on_the_causes * worse(knowledge, truths) * kept(knowledge, truths))


@lru_cache(maxsize=4)
def rates(knowledge: Knowledge) -> Floats:
    """(methods, causes): P(holds | cause). A cause's own line beats that of its group."""
    return np.array(
        [
            [_rate(method, cause.key, cause.group) for cause in knowledge.causes.values()]
            for method in knowledge.methods.values()
        ]
    ).reshape(len(knowledge.methods), len(knowledge.causes))


def _rate(method: Method, cause: str, group: str) -> float:
    named = {key: line.rate for line in method.holds for key in line.named}
    return named.get(cause, named.get(group, 0.0))


def worse(knowledge: Knowledge, truths: Truths) -> Floats:
    """(methods, rows): what lowers the chance. Unknown counts half way."""
    found = np.ones((len(knowledge.methods), truths.true.shape[1]))
    for place, method in enumerate(knowledge.methods.values()):
        for number, line in enumerate(method.worse):
            at = truths.at[f"methods {method.key}/{number}"]
            half = (1 + line.times) / 2
            found[place] *= np.where(
                truths.true[at], line.times, np.where(truths.false[at], 1.0, half)
            )
    return found


def kept(knowledge: Knowledge, truths: Truths) -> Floats:
    """(methods, rows): the chance that all limits are kept, by themselves or by work that comes
    first. Methods whose work others wait for are settled first."""
    by_limit = {key: _met(knowledge, truths, key) for key in knowledge.limits}
    found: dict[str, Floats] = {}
    for key in _in_order(knowledge):
        method = knowledge.methods[key]
        chance = np.ones(truths.true.shape[1])
        for limit in limits_of(knowledge, method):
            chance = chance * by_limit[limit]
        found[key] = chance
        for limit in method.makes:
            done = method.works * chance
            by_limit[limit] = by_limit[limit] + (1 - by_limit[limit]) * done
    return np.array([found[key] for key in knowledge.methods])


def limits_of(knowledge: Knowledge, method: Method) -> tuple[str, ...]:
    """Its own, and those of what always comes before it."""
    return tuple(dict.fromkeys(_gathered(knowledge, method)))


@lru_cache(maxsize=512)
def _gathered(knowledge: Knowledge, method: Method) -> tuple[str, ...]:
    before = (knowledge.methods[key] for key in method.first)
    own = set(method.makes)
    inner = [limit for other in before for limit in _gathered(knowledge, other)]
    return (*(limit for limit in inner if limit not in own), *method.limits)


def _met(knowledge: Knowledge, truths: Truths, key: str) -> Floats:
    """The chance that a limit is kept by itself. What rests on an unsure finding may be wrong."""
    at, usually = truths.at[f"limits {key}"], knowledge.limits[key].usually
    right = knowledge.weights.right_unsure
    unsure = right + (1 - right) * usually
    shown: Bools = truths.true[at] & truths.sure[at]
    return np.where(
        shown,
        1.0,
        np.where(truths.true[at], unsure, np.where(truths.false[at], 0.0, usually)),
    )


@lru_cache(maxsize=4)
def _in_order(knowledge: Knowledge) -> tuple[str, ...]:
    """All methods, those that make something for others before them."""
    waits = {
        method.key: {key for limit in method.limits for key in makers(knowledge).get(limit, ())}
        | set(method.first)
        for method in knowledge.methods.values()
    }
    return tuple(TopologicalSorter(waits).static_order())


@lru_cache(maxsize=4)
def makers(knowledge: Knowledge) -> Mapping[str, tuple[str, ...]]:
    """The methods that bring each limit about."""
    found: dict[str, list[str]] = {}
    for method in knowledge.methods.values():
        for limit in method.makes:
            found.setdefault(limit, []).append(method.key)
    return {limit: tuple(keys) for limit, keys in found.items()}
