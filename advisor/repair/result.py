"""Methods and the plan of one wet place: names and meaning as in the published result format."""

from dataclasses import dataclass
from typing import Literal

from advisor.knowledge import Horizon, StepKind

LimitStand = Literal["met", "made", "unknown", "not-met"]
"""Met, and surely; brought about by work that comes first; not known, or not surely; not so."""


@dataclass(frozen=True, kw_only=True)
class LimitState:
    """by: the method that brings it about; look: what decides it, where it is unknown."""

    limit: str
    state: LimitStand
    by: str | None
    look: str | None
    text: str


@dataclass(frozen=True, kw_only=True)
class MethodBelief:
    """confidence: the chance that it holds, over all causes and over what is not known of its
    limits; 0 where it is ruled out. only_if: what must still be shown, with the look for it.

    book: the share of its rates that the knowledge gives; the rest is the firm's own history.
    """

    method: str
    confidence: float
    book: float
    ruled_out: str | None
    only_if: str | None
    limits: tuple[LimitState, ...]


@dataclass(frozen=True, kw_only=True)
class Amount:
    """A quantity: all it can be, and the likely value; null each where something is not known.

    from_: what went in, and what was taken to be so; else what is missing, or cannot be so.
    """

    what: str
    low: float | None
    likely: float | None
    high: float | None
    unit: str
    from_: str


@dataclass(frozen=True, kw_only=True)
class PlanStep:
    """needs: steps that come before it. only_if: the look that must have come out well first.

    method: the method that it is part of; null for looks and proofs.
    """

    step: str
    kind: StepKind
    do: str
    needs: tuple[str, ...]
    barred_by: tuple[str, ...]
    only_if: str | None
    cautions: tuple[str, ...]
    quantities: tuple[Amount, ...]
    method: str | None


@dataclass(frozen=True, kw_only=True)
class PlanHorizon:
    """when: the moment for it, in words; null for tonight."""

    horizon: Horizon
    method: str | None
    when: str | None
    steps: tuple[PlanStep, ...]


@dataclass(frozen=True, kw_only=True)
class PlanProof:
    """when: by date or by event, in words. water_up: counts only with the water up."""

    proof: str
    look: str
    when: str
    water_up: bool


@dataclass(frozen=True, kw_only=True)
class PayingLook:
    """gain: how much it raises the chance that the chosen method holds, before money is spent."""

    look: str
    gain: float


@dataclass(frozen=True, kw_only=True)
class Load:
    """What to load of a material: with what is lost."""

    material: str
    low: float | None
    likely: float | None
    high: float | None
    unit: str


@dataclass(frozen=True, kw_only=True)
class Order:
    """Packs to load, for the most that may be needed, and their cost; null each where not known."""

    material: str
    packs: int | None
    cost: float | None
    currency: str | None


@dataclass(frozen=True, kw_only=True)
class NotToday:
    """Why a method that fits cannot be done with what the firm has there."""

    method: str
    text: str


@dataclass(frozen=True, kw_only=True)
class Today:
    """The best that can be done with what is there; null where nothing can."""

    method: str | None
    not_today: tuple[NotToday, ...]


@dataclass(frozen=True, kw_only=True)
class Plan:
    """What can be done now, by horizon; withheld: why some of it may not be, with its steps.

    waiting: the steps that are barred, or wait for one that is: each by horizon as it would be.
    pays: the look that is worth more than going on without it; fallbacks: what comes next if it
    does not hold; tight: what counts as tight here.
    """

    method: str | None
    withheld: str | None
    horizons: tuple[PlanHorizon, ...]
    proof: tuple[PlanProof, ...]
    pays: PayingLook | None
    waiting: tuple[PlanHorizon, ...]
    load: tuple[Load, ...]
    fallbacks: tuple[str, ...]
    tight: str
