"""The invented world, read from `world.yaml`: how often what is so, and how long what holds."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TypeVar

import numpy as np
import yaml
from pydantic import BaseModel, ConfigDict, Field

from advisor.engine import Family
from advisor.engine.model import Floats
from advisor.knowledge import Knowledge
from advisor.library.case import How, Origin, State, Status

WORLD = Path(__file__).with_name("world.yaml")

T = TypeVar("T")
Shares = Mapping[str, float]


class Part(BaseModel):
    """Names stand with hyphens in the file. A name that is not known here is refused."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", alias_generator=lambda name: name.rstrip("_").replace("_", "-")
    )


class Difference(Part):
    """The whole table of one family under one cause."""

    family: str
    cause: str
    readings: Shares
    because: str


class Findings(Part):
    kept: float
    from_another_cause: float
    copying: float
    unsure: float
    noted: Shares
    at_once: float
    quick: float
    noted_of_old_cases: float
    differences: tuple[Difference, ...]


class Opinions(Part):
    """How a cause is confirmed, and by whom."""

    share: float
    how: Mapping[How, float]
    opinion_right: float
    accepted: float
    roles: Shares
    contributors: Shares


class Secured(Part):
    share: float
    methods: Shares


class Law(Part):
    """When a repair fails: a Weibull law with its median, in months."""

    median: float = Field(gt=0)
    shape: float = Field(gt=0)

    def holding(self, months: float) -> float:
        """The share that still holds then."""
        return float(0.5 ** ((months / self.median) ** self.shape))

    def draw(self, random: np.random.Generator) -> float:
        """Months until one fails."""
        return float(self.median * (-np.log2(1 - random.random())) ** (1 / self.shape))


class Amount(Part):
    what: str
    unit: str
    from_: float
    to: float
    packers: int


class Used(Part):
    share: float
    methods: Mapping[str, Amount]
    packers_written_down: float


class LaterLook(Part):
    from_: int
    to: int
    up: float
    unclear: float
    missed: float
    proof: str | None


class CallsAgain(Part):
    share: float
    within: int


class ClosingRule(Part):
    after: int
    share: float
    supported: float


class Again(Part):
    share: float
    most: int
    handed_over: float


class World(Part):
    """What each figure means stands in the file."""

    invented: bool
    seed: int
    cases: int
    first_quarter: str
    last_quarter: str
    sites: int
    labels: Mapping[str, int]
    places: Mapping[int, float]
    origins: Mapping[Origin, float]
    kinds: Shares
    causes: Shares
    findings: Findings
    stays_at: Mapping[Status, float]
    not_through_closed: float
    closed_without: Shares
    secured: Secured
    confirmed: Opinions
    acts_on_the_truth: float
    agreed: float
    does: Mapping[str, Shares]
    fails: Mapping[str, Mapping[str, Law]]
    fails_on_another_path: Law
    used: Used
    later_looks: tuple[LaterLook, ...]
    proofs_of_kinds: Mapping[str, Mapping[str, str]]
    lost_after_a_look: float
    calls_again: CallsAgain
    looks_dry_without_water: float
    states_when_failed: Mapping[State, float]
    dry_but_not_quite: float
    heights_written_down: float
    closing: ClosingRule
    again: Again


def read_world(path: Path = WORLD) -> World:
    """Raises pydantic's ValidationError where a figure is missing or misspelt."""
    return World.model_validate(yaml.safe_load(path.read_text(encoding="utf-8")))


def law_of(world: World, knowledge: Knowledge, method: str, cause: str) -> Law:
    """When a method fails against a cause; the line of the cause beats that of its group."""
    laws = world.fails.get(method, {})
    group = knowledge.causes[cause].group
    return laws.get(cause) or laws.get(group) or world.fails_on_another_path


def cause_rates(world: World, knowledge: Knowledge, kind: str) -> Shares:
    """How often each cause is met here in a kind of structure. They sum to 1."""
    choices = [choice.key for choice in knowledge.attributes["kind"].choices]
    shipped = knowledge.engine.calculus.base_rates[choices.index(kind)]
    times = [world.causes.get(key, 1.0) for key in knowledge.causes]
    rates = shipped * times
    return dict(zip(knowledge.causes, (rates / rates.sum()).tolist(), strict=True))


def table_here(
    findings: Findings, knowledge: Knowledge, family: Family, random: np.random.Generator
) -> Floats:
    """(readings, causes): P(reading | cause) in this world; columns sum to 1."""
    shipped = family.likelihood
    causes = shipped.shape[1]
    other = shipped[:, random.permutation(causes)]
    from_other = random.random(causes) < findings.from_another_cause
    rest = np.where(from_other, other, family.shares[:, None])
    table: Floats = findings.kept * shipped + (1 - findings.kept) * rest
    for one in findings.differences:
        if one.family == family.key:
            column = list(knowledge.causes).index(one.cause)
            table[:, column] = [one.readings[reading] for reading in family.readings]
    table /= table.sum(axis=0)
    return table


def pick(random: np.random.Generator, shares: Mapping[T, float]) -> T:
    """One of them, as often as its share says."""
    names: Sequence[T] = tuple(shares)
    weights = np.array([shares[name] for name in names])
    steps = (weights / weights.sum()).cumsum()
    return names[min(int(np.searchsorted(steps, random.random(), side="right")), len(names) - 1)]
