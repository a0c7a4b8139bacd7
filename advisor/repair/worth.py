"""The look that pays before money is spent: by how much it raises the chance of holding."""

from collections.abc import Callable, Iterator, Sequence
from math import prod

import numpy as np

from advisor.diagnosis import NextLook, table_of
from advisor.diagnosis.whatif import Outcome, outcomes, ways, write_outcomes
from advisor.engine.model import Bools, Floats
from advisor.knowledge import Look
from advisor.repair.fit import Bench, limit_states
from advisor.repair.holding import chances_to_hold
from advisor.repair.result import PayingLook
from advisor.repair.truth import truths

LEAST_GAIN = 0.02
"""A look that raises the chance of holding by less is not worth waiting for."""

MOST_OUTCOMES = 12
"""Ways in which one look may come out, at most; further findings of it are passed over."""


def paying_look(
    bench: Bench, looks: Sequence[NextLook], lasting: Bools, barred: Callable[[Look], bool]
) -> PayingLook | None:
    """The best of these looks and of those that decide a limit; None where none is worth it.

    lasting: (methods,) those that may be the lasting repair. barred: whether a look is barred.
    """
    best = float(np.max(bench.chances, where=lasting, initial=0.0))
    known = bench.knowledge.looks
    open_looks = [known[look.look] for look in looks if not barred(known[look.look])]
    found = [*_by_evidence(bench, open_looks, lasting, best)]
    found += _by_limits(bench, lasting, best)
    worth = [one for one in found if one.gain >= LEAST_GAIN and not barred(known[one.look])]
    return min(worth, key=lambda one: (-one.gain, known[one.look].minutes, one.look), default=None)


def _by_evidence(
    bench: Bench, looks: Sequence[Look], lasting: Bools, best: float
) -> Iterator[PayingLook]:
    """Looks that part the causes: one run over every way in which each can come out."""
    each = [_ways_out(bench, look) for look in looks]
    if not any(each):
        return
    knowledge, place = bench.knowledge, bench.place
    engine = knowledge.engine
    table = table_of(engine, [place.facts]).repeated(1 + sum(map(len, each)))
    write_outcomes(engine, table, 1, [outcome for found in each for outcome in found])
    run = engine.run(table)
    chances = chances_to_hold(knowledge, run.beliefs, truths(knowledge, run.settled))
    best_of = np.max(chances, axis=0, where=lasting[:, None], initial=0.0)
    weights = _weights(run.beliefs[0], engine.calculus.log_likelihoods(run.state))
    start = 1
    for look, found in zip(looks, each, strict=True):
        rows = slice(start, start + len(found))
        start += len(found)
        if found:
            after = float(weights[rows] @ best_of[rows] / weights[rows].sum())
            yield PayingLook(look=look.key, gain=(after - best) * look.answers)


def _weights(belief: Floats, likelihoods: Floats) -> Floats:
    """How likely each outcome is under the belief of row 0."""
    possible = belief > 0
    ratio = np.exp(likelihoods[:, possible] - likelihoods[0, possible])
    return np.asarray(ratio @ belief[possible])


def _ways_out(bench: Bench, look: Look) -> list[Outcome]:
    """Every combination of what the look may find, as far as they are not too many."""
    engine, run, row = bench.knowledge.engine, bench.place.run, bench.place.row
    kept: dict[str, tuple[int | tuple[float, float], ...]] = {}
    for key in look.attributes:
        attribute = bench.knowledge.attributes[key]
        names = [f"{key}.{c.key}" for c in attribute.choices]
        for name in names if attribute.kind == "several" else [key]:
            open_ways = ways(engine, run, row, name) if name in engine.layout.row else ()
            if open_ways and prod(map(len, kept.values())) * len(open_ways) <= MOST_OUTCOMES:
                kept[name] = open_ways
    return outcomes(kept) if kept else []


def _by_limits(bench: Bench, lasting: Bools, best: float) -> Iterator[PayingLook]:
    """Looks that decide limits: the method that they would free against the best one now.

    Where they come out well the method is worth its chance without that doubt, else the best of
    the others.
    """
    knowledge = bench.knowledge
    doubts: dict[str, float] = {}
    for number, method in enumerate(knowledge.methods.values()):
        chance = float(bench.chances[number])
        if not lasting[number] or not chance:
            continue
        for look in {s.look for s in limit_states(bench, method) if s.look is not None}:
            states = [s for s in limit_states(bench, method) if s.look == look]
            well = prod(knowledge.limits[s.limit].usually for s in states)
            others = np.arange(len(lasting)) != number
            other = float(np.max(bench.chances, where=lasting & others, initial=0.0))
            after = well * max(chance / well, other) + (1 - well) * other
            doubts[look] = max(doubts.get(look, 0.0), after - best)
    for look, gain in doubts.items():
        yield PayingLook(look=look, gain=gain * knowledge.looks[look].answers)
