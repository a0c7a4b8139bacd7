"""Which stops bar a step, and what is withheld for it.

A doorway stop that nobody has answered bars all but holding measures, and the looks that answer
it. The others, and a doorway stop that is raised, bar the steps they name.
"""

from collections.abc import Collection, Iterable, Sequence

from advisor.diagnosis import StopState, answered_by
from advisor.knowledge import Knowledge

EVERYTHING = "all-work"


def barred_by(
    knowledge: Knowledge,
    stops: Iterable[StopState],
    takes: Collection[str],
    *,
    holding: bool = False,
    answers: Collection[str] = (),
) -> tuple[str, ...]:
    """The stops that bar a step.

    takes: what it does. holding: it only keeps the water off people and goods. answers: the
    attributes that it answers; a look is not barred by the open question that it answers.
    """
    return tuple(
        state.stop
        for state in stops
        if _bars(knowledge, state, takes, holding=holding)
        and not (state.state == "open" and answered_by(knowledge, state.stop) & {*answers})
    )


def _bars(knowledge: Knowledge, state: StopState, takes: Collection[str], *, holding: bool) -> bool:
    if state.state == "open" and knowledge.stops[state.stop].asked == "at-the-door":
        return not holding
    if EVERYTHING in state.bars and not holding:
        return True
    return bool(set(state.bars) & set(takes))


def in_the_way(stops: Sequence[StopState], barring: Iterable[str]) -> list[StopState]:
    """The stops that bar something, in their order."""
    found = set(barring)
    return [state for state in stops if state.stop in found]
