"""The diagnosis of one wet place: names and meaning as in the published result format."""

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field


class Part(BaseModel):
    """A part of the result: frozen, and with no names beyond its own."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class Through(Part):
    """Belief that the water comes through the concrete, or not."""

    yes: float
    no: float
    unlisted: float


class WaterBelief(Part):
    water: str
    confidence: float


class GroupBelief(Part):
    group: str
    confidence: float


class NeedFactor(Part):
    """What the state of a need does to the cause. times 0: the cause is out."""

    need: str
    times: float
    text: str


class Evidence(Part):
    """One family read. reading: what it can still be; times: how much it speaks for the cause."""

    attribute: str
    reading: str
    times: float
    text: str


class CauseBelief(Part):
    """base_rate x needs x times of `for` and `against`, normalised over the causes: confidence."""

    cause: str
    group: str
    water: str
    confidence: float
    base_rate: float
    ruled_out: str | None
    needs: tuple[NeedFactor, ...]
    for_: tuple[Evidence, ...] = Field(alias="for")
    against: tuple[Evidence, ...]


class ContributorState(Part):
    contributor: str
    state: Literal["shown", "possible"]
    text: str


class Conflict(Part):
    """deduced: null where two findings of one visit exclude each other."""

    attribute: str
    found: str
    deduced: str | None
    text: str


class NextLook(Part):
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


class StopState(Part):
    stop: str
    state: Literal["raised", "open"]
    bars: tuple[str, ...]
    do: str
    released_by: str


class Diagnosis(Part):
    """What the findings of one wet place say."""

    settled: bool
    settled_on: Literal["cause", "group"] | None
    through: Through
    waters: tuple[WaterBelief, ...]
    other_side: tuple[str, ...]
    groups: tuple[GroupBelief, ...]
    causes: tuple[CauseBelief, ...]
    contributors: tuple[ContributorState, ...]
    conflicts: tuple[Conflict, ...]
    hangs_on: tuple[str, ...]
    unexplained: tuple[str, ...]
    next: tuple[NextLook, ...]
    stops: tuple[StopState, ...]
