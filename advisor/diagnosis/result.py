"""The diagnosis of one wet place: names and meaning as in the published result format.

`for_` is `for` there, a word that Python keeps for itself.
"""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, kw_only=True)
class Through:
    """Belief that the water comes through the concrete, or not."""

    yes: float
    no: float
    unlisted: float


@dataclass(frozen=True, kw_only=True)
class WaterBelief:
    water: str
    confidence: float


@dataclass(frozen=True, kw_only=True)
class GroupBelief:
    group: str
    confidence: float


@dataclass(frozen=True, kw_only=True)
class NeedFactor:
    """What the state of a need does to the cause. times 0: the cause is out."""

    need: str
    times: float
    text: str


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """One family read. reading: what it can still be; times: how much it speaks for the cause."""

    attribute: str
    reading: str
    times: float
    text: str


@dataclass(frozen=True, kw_only=True)
class CauseBelief:
    """base_rate x needs x times of `for` and `against`, normalised over the causes: confidence.

    book: the share of the base rate that the knowledge gives; the rest is the firm's own history.
    """

    cause: str
    group: str
    water: str
    confidence: float
    base_rate: float
    book: float
    ruled_out: str | None
    needs: tuple[NeedFactor, ...]
    for_: tuple[Evidence, ...]
    against: tuple[Evidence, ...]


@dataclass(frozen=True, kw_only=True)
class ContributorState:
    contributor: str
    state: Literal["shown", "possible"]
    text: str


@dataclass(frozen=True, kw_only=True)
class SumInput:
    """What went into a sum. assumed: nothing was known of it, and it was taken to be so."""

    attribute: str
    text: str
    assumed: bool


@dataclass(frozen=True, kw_only=True)
class WorkedOutFact:
    """A number worked out from others: what went in, how, and what came out.

    low, high: all it can be; likely: with the middle of each input and the likely value of what
    nobody measures, null where the formula does not hold there. sure: nothing it rests on is
    unsure. means: what it says, if the whole range says one thing.
    """

    attribute: str
    low: float
    likely: float | None
    high: float
    unit: str
    sure: bool
    means: str | None
    inputs: tuple[SumInput, ...]
    formula: str
    valid: str
    source: tuple[str, ...]
    remarks: tuple[str, ...]
    text: str


@dataclass(frozen=True, kw_only=True)
class Conflict:
    """deduced: null where two findings of one visit exclude each other."""

    attribute: str
    found: str
    deduced: str | None
    text: str


@dataclass(frozen=True, kw_only=True)
class NextLook:
    """answers: what its first open attribute can still be; bits: expected fall in entropy over
    the causes x the chance of an answer. Ranked by bits a minute."""

    look: str
    attributes: tuple[str, ...]
    question: str
    answers: tuple[str, ...]
    minutes: float
    wait_hours: float
    bits: float
    changes_leader: bool


@dataclass(frozen=True, kw_only=True)
class StopState:
    stop: str
    state: Literal["raised", "open"]
    bars: tuple[str, ...]
    do: str
    released_by: str


@dataclass(frozen=True, kw_only=True)
class ReleasedStop:
    """A stop that somebody with the right to do so has released. The name stays in the file."""

    stop: str
    role: str
    date: str
    words: str


@dataclass(frozen=True, kw_only=True)
class Diagnosis:
    """What the findings of one wet place say."""

    settled: bool
    settled_on: Literal["cause", "group"] | None
    through: Through
    waters: tuple[WaterBelief, ...]
    other_side: tuple[str, ...]
    groups: tuple[GroupBelief, ...]
    causes: tuple[CauseBelief, ...]
    contributors: tuple[ContributorState, ...]
    worked_out: tuple[WorkedOutFact, ...]
    conflicts: tuple[Conflict, ...]
    hangs_on: tuple[str, ...]
    unexplained: tuple[str, ...]
    next: tuple[NextLook, ...]
    stops: tuple[StopState, ...]
    releases: tuple[ReleasedStop, ...]
