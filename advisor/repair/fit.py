"""Whether each method fits one wet place: its limits, what rules it out, what must be shown."""

from dataclasses import dataclass, field

from advisor.diagnosis import Place, standing
from advisor.engine import variables_of
from advisor.engine.model import Floats
from advisor.knowledge import Knowledge, Limit, Method
from advisor.repair.amounts import Ledger, label_of
from advisor.repair.holding import limits_of, makers, rates
from advisor.repair.result import LimitState, MethodBelief
from advisor.repair.truth import Truths

LEAST_BELIEF = 1e-12
"""A chance below this is none: the causes that it would hold with are out."""


@dataclass(frozen=True, kw_only=True)
class Bench:
    """One wet place before the methods: what is so, what is believed, what each chance is.

    chances: (methods,) that each holds; helps: that it reaches the path at all. no_advice: why no
    repair is advised here at all.
    """

    place: Place
    truths: Truths
    beliefs: Floats
    chances: Floats
    helps: Floats
    no_advice: str | None
    ledger: Ledger
    states: dict[str, tuple[LimitState, ...]] = field(default_factory=dict)
    each: dict[tuple[str, str], LimitState] = field(default_factory=dict)
    """What was worked out: the limits of each method, and each limit once."""

    @property
    def knowledge(self) -> Knowledge:
        """All methods and limits."""
        return self.place.knowledge


def method_beliefs(bench: Bench) -> tuple[MethodBelief, ...]:
    """All methods, the most likely to hold first, ties by key."""
    found = [
        _belief(bench, number, method)
        for number, method in enumerate(bench.knowledge.methods.values())
    ]
    return tuple(sorted(found, key=lambda m: (-m.confidence, m.method)))


def limit_states(bench: Bench, method: Method) -> tuple[LimitState, ...]:
    """How each limit of a method stands, with those of what always comes before it."""
    if method.key not in bench.states:
        keys = limits_of(bench.knowledge)[method.key]
        bench.states[method.key] = tuple(_state_once(bench, method, key) for key in keys)
    return bench.states[method.key]


def out(states: tuple[LimitState, ...]) -> bool:
    """Some limit is not kept, and no work would bring it about."""
    return any(state.state == "not-met" for state in states)


def deciding(states: tuple[LimitState, ...]) -> tuple[str, ...]:
    """The looks for what is not known, each once."""
    return tuple(dict.fromkeys(s.look for s in states if s.state == "unknown" and s.look))


def _state_once(bench: Bench, method: Method, key: str) -> LimitState:
    """Only what a method makes by itself stands otherwise for it than for the others."""
    name = key, method.key if key in method.makes else ""
    if name not in bench.each:
        bench.each[name] = _state(bench, method, key)
    return bench.each[name]


def _state(bench: Bench, method: Method, key: str) -> LimitState:
    limit = bench.knowledge.limits[key]
    name = f"limits {key}"
    if bench.truths.is_surely(name):
        return _told(bench, limit, "met")
    if not bench.truths.is_false(name):
        return _told(bench, limit, "unknown", look=look_for(bench, limit))
    maker = _maker(bench, method, key)
    if maker is None:
        return _told(bench, limit, "not-met")
    return _told(bench, limit, "made", by=maker)


def _maker(bench: Bench, method: Method, limit: str) -> str | None:
    """The method that brings a limit about here, the one that is most likely to be free for it."""
    knowledge = bench.knowledge
    free = [
        key
        for key in makers(knowledge).get(limit, ())
        if key != method.key and not out(limit_states(bench, knowledge.methods[key]))
    ]

    def unknowns(key: str) -> tuple[int, float, int, str]:
        maker = knowledge.methods[key]
        count = len(deciding(limit_states(bench, maker)))
        return count, -maker.works, maker.cost, key

    return min(free, key=unknowns, default=None)


def look_for(bench: Bench, limit: Limit) -> str:
    """The look that decides a limit: the first of its own that is not known to be out of place."""
    watch = bench.place.watch
    fitting = [key for key in limit.looks if not watch.is_false(f"looks {key}")]
    return (fitting or list(limit.looks))[0]


def _told(
    bench: Bench, limit: Limit, state: str, *, by: str | None = None, look: str | None = None
) -> LimitState:
    say, knowledge = bench.knowledge.say, bench.knowledge
    if state == "not-met":
        found = _findings(bench, limit)
        text = say("limit-not-met", limit=limit.label, found=found, because=limit.why.because)
    elif state == "made":
        assert by is not None
        text = say("limit-made", limit=limit.label, by=knowledge.methods[by].label)
    elif state == "unknown":
        assert look is not None
        text = say("limit-unknown", limit=limit.label, look=knowledge.looks[look].label)
    else:
        text = say("limit-met", limit=limit.label)
    return LimitState(limit=limit.key, state=state, by=by, look=look, text=text)  # type: ignore[arg-type]


def _findings(bench: Bench, limit: Limit) -> str:
    """What was found of that which the limit asks."""
    place, knowledge = bench.place, bench.knowledge
    keys = dict.fromkeys(v.partition(".")[0] for v in sorted(variables_of(limit.must)))
    told = [standing(place, key) for key in keys if place.is_known(key)]
    return "; ".join(told) or knowledge.say("found-elsewhere")


def _belief(bench: Bench, number: int, method: Method) -> MethodBelief:
    states = limit_states(bench, method)
    ruled_out = _ruled_out(bench, number, method, states)
    unknown = [state.text for state in states if state.state == "unknown"]
    only_if = "; ".join(unknown) if unknown and ruled_out is None else None
    return MethodBelief(
        method=method.key,
        confidence=0.0 if ruled_out is not None else float(bench.chances[number]),
        book=_book(bench, method),
        ruled_out=ruled_out,
        only_if=only_if,
        limits=states,
    )


def _book(bench: Bench, method: Method) -> float:
    """The mean over the causes that it can hold with, by how much they are believed."""
    history = bench.knowledge.history
    shares = history.book_shares.get(method.key) if history is not None else None
    if not shares:
        return 1.0
    beliefs = dict(zip(bench.knowledge.causes, bench.beliefs, strict=True))
    total = sum(beliefs[cause] for cause in shares)
    found = sum(beliefs[cause] * share for cause, share in shares.items())
    return float(found / total) if total > 0 else 1.0


def _ruled_out(
    bench: Bench, number: int, method: Method, states: tuple[LimitState, ...]
) -> str | None:
    """Why it is out, with the rule and the finding; None where it is not."""
    if bench.no_advice is not None:
        return bench.no_advice
    broken = [state.text for state in states if state.state == "not-met"]
    if broken:
        return " ".join(broken)
    if too_long := _past_its_limit(bench, method):
        return too_long
    holds = float(rates(bench.knowledge)[number] @ bench.beliefs)
    if method.role != "hold" and holds < LEAST_BELIEF:
        return bench.knowledge.say("holds-with-none")
    return None


def _past_its_limit(bench: Bench, method: Method) -> str:
    """What a quantity of it surely passes of what is there: a hole too long for the access."""
    knowledge, place = bench.knowledge, bench.place
    for key in dict.fromkeys(key for step in method.steps for key in step.quantities):
        quantity = knowledge.quantities.get(key)
        for bound in quantity.at_most if quantity is not None else ():
            if bound not in knowledge.attributes or not place.is_known(bound):
                continue
            ends = bench.ledger.reckon(key).ends
            if ends is not None and ends.lo > place.range(bound).hi:
                what = label_of(knowledge, key)
                return knowledge.say("past-its-limit", what=what, limit=standing(place, bound))
    return ""
