"""What the knowledge consists of, as the floors above use it. Texts are for people."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from advisor.engine import Condition, Cut, Family
from advisor.terms import Range

Through = Literal["yes", "no", "unlisted"]
Asked = Literal["at-the-door", "when-it-applies"]

Urgency = Literal["now", "today", "before-repair", "monitor"]
"""Get people out and call; call the same day; before any repair; read on, with a trigger."""

UNLISTED = "unlisted"
NOT_IN_THIS_LIST = "not-in-this-list"
OTHER_SIDE = "other-side"

READINGS_OF = ("first", "highest", "lowest", "change")
"""What may be asked of several dated readings, beside the latest."""

STEPS = (
    "all-work",
    "enter",
    "drill",
    "break-out",
    "seal",
    "rigid-fill",
    "inject",
    "empty",
    "dig",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """Why an entry is there, and from which sources."""

    because: str
    source: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    key: str
    title: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    key: str
    label: str
    through: Through
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Water:
    """possible_when: one of the waters on the other side, and when it can stand there."""

    key: str
    label: str
    possible_when: Condition | None
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """base_rate: one, or by structure kind. confused_with: cause -> how to tell apart."""

    key: str
    label: str
    also_called: tuple[str, ...]
    group: str
    water: str
    base_rate: float | Mapping[str, float]
    needs: tuple[str, ...]
    within: tuple[str, ...]
    evidence: str
    confirmed_by: tuple[str, ...]
    confused_with: Mapping[str, str]
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedEntry:
    key: str
    label: str
    when: Condition
    share: float
    again: str | None
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class DeductionEntry:
    """then: (variable, choices that are struck out), one or more."""

    key: str
    when: Condition
    then: tuple[tuple[str, frozenset[str]], ...]
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyEntry:
    """said: reading -> (cause or group, the word or number as written, its because)."""

    key: str
    label: str
    family: Family
    said: Mapping[str, tuple[tuple[str, str, str | None], ...]]
    cuts: tuple[Cut, ...]
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Contributor:
    key: str
    label: str
    shown: Condition
    possible: Condition | None
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """minutes of work, hours of waiting; answers: how often it gives an answer.

    steps: those of STEPS that it takes; a stop that bars one of them bars the look.
    """

    key: str
    label: str
    do: str
    attributes: tuple[str, ...]
    minutes: float
    wait_hours: float
    needs: tuple[str, ...]
    damages: bool
    spoils: tuple[str, ...]
    who: str
    steps: tuple[str, ...]
    answers: float
    only_when: Condition | None
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """bars: steps of STEPS. open_when: unanswered, it is open under this (None: see asked).

    no_advice: where it is raised, no repair is advised at all.
    """

    key: str
    label: str
    when: Condition
    asked: Asked
    urgency: Urgency
    no_advice: bool
    open_when: Condition | None
    ask: str
    bars: tuple[str, ...]
    do: str
    released_by: str
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """strong, moderate, weak: how many times the share, and the most it may give."""

    times: float
    at_most: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    words: Mapping[str, Word]
    least_left: float
    right_sure: float
    right_unsure: float
    stories: Mapping[str, str]
    settled_cause: float
    settled_times_next: float
    settled_group: float
    hangs_on: float
    unexplained: float
    history: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOutBy:
    """A number worked out by a formula of the water floor from other attributes.

    given: only where this is known true; assumed: what an input is taken to be where nothing is
    known of it. Of several for one attribute the first that gives something counts.
    """

    attribute: str
    formula: str
    inputs: tuple[str, ...]
    given: Condition | None = None
    assumed: Mapping[str, Range] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """A subject that is worked out by hand. asks: what must be known; helps: what may be;
    gives: numbers and choices in the order they are told; verdict: of them the ones that
    answer it, the first that is known.

    example: attribute -> value as written. loads: what each load of a file of loads says, by
    itself; empty where none is read. The first choice of the verdict is as it should be.
    """

    key: str
    label: str
    asks: tuple[str, ...]
    helps: tuple[str, ...]
    gives: tuple[str, ...]
    verdict: tuple[str, ...]
    example: Mapping[str, str]
    loads: str
    why: Why
