"""What stands beside the causes: contributors, stops, waters of the other side."""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Literal

from advisor.diagnosis.result import ContributorState, StopState
from advisor.engine import Run, variables_of
from advisor.knowledge import Knowledge, Look, Stop


class Watch:
    """The truth of the watched conditions in one row, by name."""

    def __init__(self, knowledge: Knowledge, run: Run, row: int) -> None:
        self.knowledge = knowledge
        self._place = {key: i for i, key in enumerate(knowledge.model.watched)}
        self._true = run.watched.true[:, row]
        self._false = run.watched.false[:, row]

    def is_true(self, name: str) -> bool:
        """Known true; a condition that is not there is not."""
        place = self._place.get(name)
        return place is not None and bool(self._true[place])

    def is_false(self, name: str) -> bool:
        """Known false; a condition that is not there is not."""
        place = self._place.get(name)
        return place is not None and bool(self._false[place])


def contributors(knowledge: Knowledge, watch: Watch) -> tuple[ContributorState, ...]:
    """Shown ones first, then those that something points to."""
    shown, possible = [], []
    for entry in knowledge.contributors.values():
        text = f"{entry.label}: {entry.why.because}"
        if watch.is_true(f"shown {entry.key}"):
            shown.append(ContributorState(contributor=entry.key, state="shown", text=text))
        elif watch.is_true(f"possible {entry.key}") and not watch.is_false(f"shown {entry.key}"):
            possible.append(ContributorState(contributor=entry.key, state="possible", text=text))
    return (*shown, *possible)


def other_side(knowledge: Knowledge, watch: Watch) -> tuple[str, ...]:
    """The waters that may stand on the other side of the concrete."""
    return tuple(
        water.key
        for water in knowledge.waters.values()
        if water.possible_when is not None and not watch.is_false(f"waters {water.key}")
    )


def stops(
    knowledge: Knowledge, watch: Watch, earlier: Sequence[Watch] = ()
) -> tuple[StopState, ...]:
    """Raised ones first, then those still unanswered.

    earlier: what was known after each earlier visit. A sign once seen stays: looking again
    and seeing none is no release.
    """
    raised, still_open = [], []
    for stop in knowledge.stops.values():
        if any(seen.is_true(f"stops {stop.key}") for seen in (watch, *earlier)):
            raised.append(_stop_state(stop, "raised"))
        elif not watch.is_false(f"stops {stop.key}") and _asked(stop, watch):
            still_open.append(_stop_state(stop, "open"))
    return (*raised, *still_open)


def _asked(stop: Stop, watch: Watch) -> bool:
    return stop.asked == "at-the-door" or watch.is_true(f"open {stop.key}")


def _stop_state(stop: Stop, state: Literal["raised", "open"]) -> StopState:
    return StopState(
        stop=stop.key,
        state=state,
        bars=stop.bars,
        do=stop.do,
        released_by=stop.released_by,
    )


def barring(knowledge: Knowledge, states: Iterable[StopState], look: Look) -> tuple[str, ...]:
    """The stops that bar a step the look takes.

    A look that answers an open stop is not barred by it.
    """
    return tuple(
        state.stop
        for state in states
        if set(look.steps) & set(state.bars)
        and (
            state.state == "raised" or not answered_by(knowledge, state.stop) & set(look.attributes)
        )
    )


def answered_by(knowledge: Knowledge, stop: str) -> frozenset[str]:
    """The attributes that a stop asks for."""
    return _answers(knowledge)[stop]


@lru_cache(maxsize=4)
def _answers(knowledge: Knowledge) -> Mapping[str, frozenset[str]]:
    return {
        key: frozenset(v.partition(".")[0] for v in variables_of(stop.when))
        for key, stop in knowledge.stops.items()
    }
