"""The chance that each method holds, for a table of wet places at once.

*Holds* means: within the agreed tightness at that place, with the water up, 24 months later.
P(holds) = sum over causes of belief x P(holds | cause), times the chance that each limit of the
method is kept, times what makes it worse.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from graphlib import TopologicalSorter

import numpy as np

from advisor.engine.circuit import Ints, ints
from advisor.engine.model import Floats
from advisor.knowledge import Knowledge, Method
from advisor.repair.truth import Truths


def chances_to_hold(knowledge: Knowledge, beliefs: Floats, truths: Truths) -> Floats:
    """(methods, rows). beliefs: (rows, causes)."""
    on_the_causes = rates(knowledge) @ beliefs.T
    return np.asarray(on_the_causes * worse(knowledge, truths) * kept(knowledge, truths))


def chances_to_help(knowledge: Knowledge, beliefs: Floats, truths: Truths) -> Floats:
    """(methods, rows): the chance that the work reaches the path at all, however long it holds."""
    on_the_causes = (rates(knowledge) > 0) @ beliefs.T
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
    first."""
    alone = met(knowledge, truths)
    terms = _terms(knowledge)
    products = [np.multiply.reduce(alone[named], axis=0) for named in terms.named]
    found = np.array(products[: len(knowledge.methods)])
    for method, limit, works in terms.made:
        brought = np.max([share * products[row] for row, share in works], axis=0)
        found[method] *= alone[limit] + (1 - alone[limit]) * brought
    return found


def met(knowledge: Knowledge, truths: Truths) -> Floats:
    """(limits, rows): the chance that each limit is kept by itself. What rests on an unsure
    finding may be wrong."""
    at = slice(0, len(knowledge.limits))  # they stand first, in their order
    usually = np.array([limit.usually for limit in knowledge.limits.values()])[:, None]
    right = knowledge.weights.right_unsure
    true, sure, false = truths.true[at], truths.sure[at], truths.false[at]
    guessed = np.where(true, right + (1 - right) * usually, usually)
    return np.where(true & sure, 1.0, np.where(false, 0.0, guessed))


@dataclass(frozen=True, slots=True)
class _Terms:
    """named: for each product, the limits that count in it. First one product for each method, of
    the limits that nothing brings about; then those of the works that do.

    made: (method, limit, ((product, how often it works), ...)): a limit that may be brought about.
    """

    named: tuple[Ints, ...]
    made: tuple[tuple[int, int, tuple[tuple[int, float], ...]], ...]


@lru_cache(maxsize=4)
def _terms(knowledge: Knowledge) -> _Terms:
    """What two works both ask is asked once: a scan for the foam is the scan for the resin."""
    place = {key: i for i, key in enumerate(knowledge.limits)}
    asked = limits_of(knowledge)
    rows: list[set[str]] = []
    made: list[tuple[int, str, list[Method]]] = []
    for number, method in enumerate(knowledge.methods.values()):
        brought = {limit: _others(knowledge, method, limit) for limit in asked[method.key]}
        rows.append({limit for limit, others in brought.items() if not others})
        made += [(number, limit, others) for limit, others in brought.items() if others]
    keys = list(knowledge.methods)
    found = []
    for number, limit, others in made:
        works = []
        for other in others:
            works.append((len(rows), other.works))
            rows.append(set(asked[other.key]) - {*asked[keys[number]], limit})
        found.append((number, place[limit], tuple(works)))
    named = tuple(ints(sorted(place[limit] for limit in limits)) for limits in rows)
    return _Terms(named, tuple(found))


def _others(knowledge: Knowledge, method: Method, limit: str) -> list[Method]:
    """The other methods that bring a limit about."""
    keys = makers(knowledge).get(limit, ())
    return [knowledge.methods[key] for key in keys if key != method.key]


@lru_cache(maxsize=4)
def limits_of(knowledge: Knowledge) -> Mapping[str, tuple[str, ...]]:
    """For each method its own limits, after those of what always comes before it."""
    found: dict[str, tuple[str, ...]] = {}
    for key in _in_order(knowledge):
        method = knowledge.methods[key]
        before = (limit for first in method.first for limit in found[first])
        kept_before = (limit for limit in before if limit not in method.makes)
        found[key] = tuple(dict.fromkeys([*kept_before, *method.limits]))
    return found


@lru_cache(maxsize=4)
def _in_order(knowledge: Knowledge) -> tuple[str, ...]:
    """All methods, those that always come first before the others."""
    waits = {method.key: set(method.first) for method in knowledge.methods.values()}
    return tuple(TopologicalSorter(waits).static_order())


@lru_cache(maxsize=4)
def makers(knowledge: Knowledge) -> Mapping[str, tuple[str, ...]]:
    """The methods that bring each limit about."""
    found: dict[str, list[str]] = {}
    for method in knowledge.methods.values():
        for limit in method.makes:
            found.setdefault(limit, []).append(method.key)
    return {limit: tuple(keys) for limit, keys in found.items()}
