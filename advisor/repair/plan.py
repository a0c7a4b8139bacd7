"""The plan of one wet place: three horizons, what is withheld, and what proves the work."""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from advisor.diagnosis import Diagnosis, Place, standing
from advisor.engine.model import Bools
from advisor.knowledge import Horizon, Knowledge, Look, Method
from advisor.repair.amounts import Ledger, load
from advisor.repair.bars import barred_by, in_the_way
from advisor.repair.fit import Bench, deciding, method_beliefs
from advisor.repair.holding import chances_to_help, chances_to_hold
from advisor.repair.result import (
    Load,
    MethodBelief,
    Plan,
    PlanHorizon,
    PlanProof,
    PlanStep,
)
from advisor.repair.steps import Site, chain, closing_steps, holding_steps
from advisor.repair.truth import truths
from advisor.repair.worth import paying_look

LEAST_HELP = 0.1
"""What hardly reaches the path is not done only to have done something."""

NEARLY = 0.7
"""Of what holds until the lasting repair, those that are nearly as likely to help as the best."""

FALLBACK = 0.5
"""How much a method counts that only leads the water away."""

AGREED = "agreed-tightness"
"""The attribute that says what counts as tight: what a repair has to reach is what was agreed."""


def repair(
    place: Place, diagnosis: Diagnosis, chosen: str | None = None
) -> tuple[tuple[MethodBelief, ...], Plan]:
    """All methods weighed, and the plan. chosen: a method that somebody wants, fit or not."""
    bench = weighed(place)
    methods = method_beliefs(bench)
    return methods, _plan(Site(bench=bench, stops=diagnosis.stops), diagnosis, methods, chosen)


def weighed(place: Place) -> Bench:
    """One wet place set before the methods."""
    knowledge = place.knowledge
    told = truths(knowledge, place.run.settled).of_row(place.row)
    beliefs = np.exp(place.run.log_beliefs[place.row])[None, :]
    return Bench(
        place=place,
        truths=told,
        beliefs=beliefs[0],
        chances=chances_to_hold(knowledge, beliefs, told)[:, 0],
        helps=chances_to_help(knowledge, beliefs, told)[:, 0],
        no_advice=_no_advice(place),
        ledger=Ledger(place),
    )


def _no_advice(place: Place) -> str | None:
    """Why no repair is advised here at all. No release changes that."""
    stops = place.knowledge.stops.values()
    named = [s.do for s in stops if s.no_advice and place.watch.is_true(f"stops {s.key}")]
    return " ".join(named) or None


def _plan(
    site: Site, diagnosis: Diagnosis, methods: tuple[MethodBelief, ...], chosen: str | None
) -> Plan:
    knowledge, bench = site.knowledge, site.bench
    fitting = [m for m in methods if m.ruled_out is None]
    candidates = lasting_repairs(knowledge, methods)
    first = candidates[0].method if candidates else None
    key = first if chosen is None else chosen
    main = None if key is None else knowledge.methods[key]
    pays = None
    if main is not None and chosen is None:
        lasting = _lasting(knowledge, fitting)
        pays = paying_look(bench, diagnosis.next, lasting, lambda look: _barred(site, look))
    fallbacks = _fallbacks(knowledge, main, candidates)
    proofs = _proofs(site, main)
    tonight = PlanHorizon(
        horizon="tonight",
        method=None,
        when=None,
        steps=holding_steps(site, _holding(knowledge, fitting)),
    )
    last = _lasting_horizon(site, main, [pays.look] if pays else [], proofs, fallbacks)
    asked = [tonight, _until_horizon(site, diagnosis, fitting, main), last]
    now, waiting = zip(*map(_parted, asked), strict=True)
    return Plan(
        method=main.key if main else None,
        withheld=_withheld(site, main, waiting, candidates),
        horizons=now,
        proof=proofs,
        pays=pays,
        waiting=tuple(part for part in waiting if part.steps),
        load=_loads(site, main, last),
        fallbacks=tuple(method.key for method in fallbacks),
        tight=_tight(bench),
    )


def _may(method: Method, horizon: Horizon) -> bool:
    return horizon in method.horizons


def _lasting(knowledge: Knowledge, fitting: Iterable[MethodBelief]) -> Bools:
    free = {m.method for m in fitting}
    return np.array(
        [key in free and _may(method, "lasting") for key, method in knowledge.methods.items()]
    )


def lasting_repairs(knowledge: Knowledge, methods: Iterable[MethodBelief]) -> list[MethodBelief]:
    """What may be the lasting repair: what most likely holds first, the cheaper of two alike."""
    free = [m for m in methods if m.ruled_out is None]
    return sorted(
        (m for m in free if _may(knowledge.methods[m.method], "lasting")),
        key=lambda m: (-_worth(knowledge, m), knowledge.methods[m.method].cost, m.method),
    )


def _worth(knowledge: Knowledge, belief: MethodBelief) -> float:
    """What lives with the water leads only where nothing else is half as likely to hold."""
    manages = knowledge.methods[belief.method].role == "manage"
    return belief.confidence * (FALLBACK if manages else 1.0)


def _fallbacks(
    knowledge: Knowledge, main: Method | None, candidates: Iterable[MethodBelief]
) -> list[Method]:
    """What its entry names, of what is free here; else the next in line."""
    if main is None:
        return []
    free = [m.method for m in candidates if m.method != main.key]
    named = [key for key in main.fallbacks if key in free]
    return [knowledge.methods[key] for key in (named or free[:1])]


def _holding(knowledge: Knowledge, fitting: Iterable[MethodBelief]) -> list[Method]:
    """Holding measures, the simplest first: their chance to hold is no rank."""
    free = [knowledge.methods[m.method] for m in fitting]
    holding = [method for method in free if method.role == "hold" and _may(method, "tonight")]
    return sorted(holding, key=lambda method: (method.cost, method.key))


def _until_horizon(
    site: Site, diagnosis: Diagnosis, fitting: list[MethodBelief], main: Method | None
) -> PlanHorizon:
    """What holds until the lasting repair has its moment; nothing where that is now."""
    knowledge = site.knowledge
    when = None if main is None else knowledge.moments[main.moment].label
    if main is not None and _has_come(site.bench, main):
        return PlanHorizon(horizon="until", method=None, when=None, steps=())

    helps = dict(zip(knowledge.methods, site.bench.helps, strict=True))

    def rank(m: MethodBelief) -> tuple[bool, int, float, int, str]:
        """While the cause is open what can be undone comes first; then what is known to fit."""
        method = knowledge.methods[m.method]
        final = not diagnosis.settled and not method.reversible
        doubts = len(deciding(m.limits))
        return final, doubts, -helps[m.method], method.cost, m.method

    free = [
        m
        for m in fitting
        if _may(knowledge.methods[m.method], "until")
        and knowledge.methods[m.method] is not main
        and knowledge.methods[m.method].role != "hold"
        and _has_come(site.bench, knowledge.methods[m.method])
    ]
    least = max(LEAST_HELP, NEARLY * max((helps[m.method] for m in free), default=0.0))
    best = min((m for m in free if helps[m.method] >= least), key=rank, default=None)
    if best is None:
        return PlanHorizon(horizon="until", method=None, when=when, steps=())
    method = knowledge.methods[best.method]
    return PlanHorizon(
        horizon="until", method=method.key, when=when, steps=chain(site, "until", method)
    )


def _has_come(bench: Bench, method: Method) -> bool:
    return bench.truths.is_surely(f"moments {method.moment}")


def _lasting_horizon(
    site: Site,
    main: Method | None,
    first_looks: list[str],
    proofs: tuple[PlanProof, ...],
    fallbacks: list[Method],
) -> PlanHorizon:
    if main is None or site.bench.no_advice is not None:
        return PlanHorizon(horizon="lasting", method=None, when=None, steps=())
    steps = list(chain(site, "lasting", main, first_looks))
    for step in closing_steps(site, main, proofs, fallbacks[0] if fallbacks else None):
        steps.append(replace(step, needs=(steps[-1].step,) if steps else ()))
    when = site.knowledge.moments[main.moment].label
    return PlanHorizon(horizon="lasting", method=main.key, when=when, steps=tuple(steps))


def _parted(horizon: PlanHorizon) -> tuple[PlanHorizon, PlanHorizon]:
    """What can be done now, and what waits. A method is begun only where all of it can be done:
    what is cut open and may not be closed leaks worse. Looks go ahead by themselves."""
    if horizon.horizon == "tonight":
        now = [step for step in horizon.steps if not step.barred_by]
        return replace(horizon, steps=tuple(now)), _rest(horizon, now)
    barring = tuple(dict.fromkeys(stop for step in horizon.steps for stop in step.barred_by))
    if not barring:
        return horizon, replace(horizon, steps=())
    now = []
    for step in horizon.steps:
        if step.barred_by or step.kind != "look":
            break
        now.append(step)
    waiting = [
        replace(step, barred_by=step.barred_by or barring) for step in horizon.steps[len(now) :]
    ]
    return replace(horizon, steps=tuple(now)), replace(horizon, steps=tuple(waiting))


def _rest(horizon: PlanHorizon, now: list[PlanStep]) -> PlanHorizon:
    return replace(horizon, steps=tuple(step for step in horizon.steps if step not in now))


def _withheld(
    site: Site,
    main: Method | None,
    waiting: tuple[PlanHorizon, ...],
    candidates: list[MethodBelief],
) -> str | None:
    """Why some of it may not be done now, with the steps that may not."""
    say, knowledge = site.knowledge.say, site.knowledge
    if site.bench.no_advice is not None:
        return say("no-repair-advice", do=site.bench.no_advice)
    steps = [step for part in waiting for step in part.steps]
    if steps:
        barring = in_the_way(site.stops, [stop for step in steps for stop in step.barred_by])
        return say(
            "plan-withheld",
            stops="; ".join(knowledge.stops[state.stop].label for state in barring),
            steps="; ".join(_named(knowledge, steps)),
        )
    if main is None and not candidates:
        return say("no-method-fits")
    return None


def _named(knowledge: Knowledge, steps: list[PlanStep]) -> list[str]:
    """The steps that wait, by the method they are part of."""
    names: dict[str, dict[str, None]] = {}
    for step in steps:
        part = knowledge.methods[step.method].label if step.method else knowledge.say("looks-of-it")
        names.setdefault(part, {})[step.step.rpartition("/")[2].replace("-", " ")] = None
    return [f"{part}: {', '.join(found)}" for part, found in names.items()]


def _proofs(site: Site, main: Method | None) -> tuple[PlanProof, ...]:
    """Those of the method, and those that belong to every plan here."""
    if main is None or site.bench.no_advice is not None:
        return ()
    knowledge, bench = site.knowledge, site.bench
    always = [
        proof.key
        for proof in knowledge.proofs.values()
        if proof.always is not None and not bench.truths.is_false(f"proofs {proof.key}")
    ]
    return tuple(
        PlanProof(proof=key, look=entry.look, when=entry.label, water_up=entry.water_up)
        for key in dict.fromkeys([*main.proof, *always])
        for entry in [knowledge.proofs[key]]
    )


def _loads(site: Site, main: Method | None, lasting: PlanHorizon) -> tuple[Load, ...]:
    """The materials of the whole chain, each once."""
    if main is None or site.bench.no_advice is not None:
        return ()
    methods = dict.fromkeys(step.method for step in lasting.steps if step.method)
    wanted: dict[str, str] = {}
    for key in methods:
        for material, quantity in site.knowledge.methods[key].materials.items():
            wanted.setdefault(material, quantity)
    return tuple(load(site.bench.ledger, key, quantity) for key, quantity in wanted.items())


def _barred(site: Site, look: Look) -> bool:
    return bool(barred_by(site.knowledge, site.stops, look.steps, answers=look.attributes))


def _tight(bench: Bench) -> str:
    """What counts as tight here, with the water up."""
    place, say = bench.place, bench.knowledge.say
    if place.is_known(AGREED):
        return say("tight-is", agreed=standing(place, AGREED))
    return say("tight-is-not-agreed")
