"""The chain of steps of a method, built backwards from what it needs.

What must be looked at first; what brings about the limits that are not kept; what always comes
before it; the method; what comes after it on the face. Each step needs the one before.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from advisor.diagnosis import StopState
from advisor.knowledge import ACTIVITIES, Horizon, Knowledge, Method, MethodStep, StepKind
from advisor.repair.amounts import amount
from advisor.repair.bars import barred_by
from advisor.repair.fit import Bench, deciding, limit_states, out
from advisor.repair.result import PlanProof, PlanStep


@dataclass(frozen=True, kw_only=True)
class Site:
    """What every step is set against: the wet place and its stops."""

    bench: Bench
    stops: tuple[StopState, ...]

    @property
    def knowledge(self) -> Knowledge:
        """The entries that steps are made of."""
        return self.bench.knowledge


def holding_steps(site: Site, methods: Iterable[Method]) -> tuple[PlanStep, ...]:
    """Holding measures, each by itself: none has to wait for another."""
    return tuple(
        _work(site, "tonight", method, step, next(iter(asked), None))
        for method in methods
        for asked in [deciding(limit_states(site.bench, method))]
        for step in method.steps
    )


def chain(
    site: Site, horizon: Horizon, method: Method, first_looks: Sequence[str] = ()
) -> tuple[PlanStep, ...]:
    """The steps of a method and of all that it needs, in order. first_looks: what has to be
    looked at before anything else."""
    parts = _parts(site, method)
    looks = dict.fromkeys(first_looks)
    only_if: dict[str, str | None] = {}
    for part in parts:
        asked = deciding(limit_states(site.bench, part))
        looks |= dict.fromkeys(asked)
        only_if[part.key] = next(iter([*first_looks, *asked]), None)
    steps = [_look(site, horizon, key) for key in looks]
    steps += [
        _work(site, horizon, part, step, only_if[part.key]) for part in parts for step in part.steps
    ]
    return in_a_row(steps)


def closing_steps(
    site: Site, method: Method, proofs: Sequence[PlanProof], fallback: Method | None
) -> tuple[PlanStep, ...]:
    """Prove it, and come back: the last two of every chain."""
    say, knowledge = site.knowledge.say, site.knowledge
    found = [
        _plain(
            f"lasting/prove/{proof.proof}",
            "prove",
            say(
                "prove-with-the-water-up" if proof.water_up else "prove",
                look=knowledge.looks[proof.look].label,
                when=proof.when,
            ),
        )
        for proof in proofs
    ]
    if fallback is not None:
        again = say("wet-again-then", do=method.wet_again, method=fallback.label)
    else:
        again = say("wet-again", do=method.wet_again)
    found.append(_plain("lasting/come-back", "come-back", again))
    return tuple(found)


def in_a_row(steps: Sequence[PlanStep]) -> tuple[PlanStep, ...]:
    """Each needs the one before it."""
    return tuple(
        replace(step, needs=(steps[place - 1].step,) if place else ())
        for place, step in enumerate(steps)
    )


def _parts(site: Site, method: Method) -> list[Method]:
    """The methods of a chain in order, each once."""
    knowledge = site.knowledge
    found: dict[str, Method] = {}

    def add(one: Method) -> None:
        for state in limit_states(site.bench, one):
            if state.by is not None:
                add(knowledge.methods[state.by])
        for key in one.first:
            add(knowledge.methods[key])
        found.setdefault(one.key, one)

    add(method)
    made = {limit for part in found.values() for limit in part.makes}
    for key in method.then:
        after = knowledge.methods[key]
        states = tuple(s for s in limit_states(site.bench, after) if s.limit not in made)
        if not out(states) and all(s.by is None or s.by in found for s in states):
            found.setdefault(key, after)
    return list(found.values())


def _look(site: Site, horizon: Horizon, key: str) -> PlanStep:
    look = site.knowledge.looks[key]
    barring = barred_by(site.knowledge, site.stops, look.steps, answers=look.attributes)
    step = _plain(f"{horizon}/look/{key}", "look", f"{look.label}. {look.do}")
    return replace(step, barred_by=barring, cautions=_cautions(site, look.steps))


def _work(
    site: Site, horizon: Horizon, method: Method, step: MethodStep, only_if: str | None
) -> PlanStep:
    holding = method.role == "hold"
    return PlanStep(
        step=f"{horizon}/{method.key}/{step.key}",
        kind=step.kind,
        do=step.do,
        needs=(),
        barred_by=barred_by(site.knowledge, site.stops, step.takes, holding=holding),
        only_if=only_if,
        cautions=_cautions(site, step.takes),
        quantities=tuple(amount(site.bench.ledger, key) for key in step.quantities),
        method=method.key,
    )


def _plain(key: str, kind: StepKind, do: str) -> PlanStep:
    return PlanStep(
        step=key,
        kind=kind,
        do=do,
        needs=(),
        barred_by=(),
        only_if=None,
        cautions=(),
        quantities=(),
        method=None,
    )


def _cautions(site: Site, takes: Iterable[str]) -> tuple[str, ...]:
    """What to mind with it, unless it is known not to be so here."""
    bench, done = site.bench, set(takes) & set(ACTIVITIES)
    return tuple(
        caution.key
        for caution in site.knowledge.cautions.values()
        if done & set(caution.takes) and not bench.truths.is_false(f"cautions {caution.key}")
    )
