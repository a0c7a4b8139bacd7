"""What is written down of a wet place after the diagnosis: the log of a record.

Entries are added, never changed: what was wrong is put right by a later entry. Days are of the
calendar; what the library keeps of them is worked out there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Final, Literal, TypeVar, get_args

from advisor.terms import Place

How = Literal["opened-and-seen", "separating-test", "document", "experts-opinion"]
State = Literal["tight", "better", "same", "worse", "moved-along"]
WaterUp = Literal["yes", "no", "unknown"]
Without = Literal[
    "not-through-the-structure",
    "within-the-agreed-class",
    "nothing-found",
    "no-access",
    "refused",
    "withdrawn",
]

Day = TypeVar("Day", date, int)
"""Of the calendar, or counted from the first visit."""

HOWS: Final[tuple[How, ...]] = get_args(How)
STATES: Final[tuple[State, ...]] = get_args(State)
WATER_UP: Final[tuple[WaterUp, ...]] = get_args(WaterUp)
WITHOUT: Final[tuple[Without, ...]] = get_args(Without)
"""Why a case may be closed without a repair that was shown to hold."""
HELD: Final = "held"
NEVER: Final = "never"


def shows_holding(state: State, within: bool | None, water_up: WaterUp) -> bool | None:
    """Whether a look shows the repair holding; None where it tests nothing.

    Wet is wet, whatever the water stands at; so is what came out further along. Dry counts only
    with the water up.
    """
    dry = within if within is not None else state == "tight"
    if not dry or state == "moved-along":
        return False
    return True if water_up == "yes" else None


def is_after(day: Day, repaired: Day, proof: str | None) -> bool:
    """Whether a look on that day is one at the repair. What was seen on the day of a repair was
    seen before it, unless it is to prove it."""
    return day > repaired or (day == repaired and bool(proof))


@dataclass(frozen=True, slots=True, kw_only=True)
class LogEntry:
    """words: free text, which stays in the record."""

    leak: str
    day: date
    words: str = ""
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed(LogEntry):
    """What the advisor answered on that day: causes and methods with their confidence.

    knowledge: its fingerprint. looks: what it suggested next. stops: those raised or open.
    """

    advisor: str
    knowledge: str
    settled_on: Literal["cause", "group"] | None
    causes: Mapping[str, float]
    methods: Mapping[str, float]
    advised: str | None
    looks: tuple[str, ...]
    stops: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Secured(LogEntry):
    """A holding measure is in place."""

    method: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreed(LogEntry):
    """A repair is agreed. by: roles."""

    method: str
    by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Packer:
    """One packer of an injection: pressure in bar, volume in L. ended: why it was stopped."""

    packer: str
    pressure: float | None = None
    volume: float | None = None
    minutes: float | None = None
    ended: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done(LogEntry):
    """A repair was carried out. quantities: what was used, with units. water_height: m, of the
    water on the other side before the repair, above the fixed point of the record."""

    method: str
    quantities: Mapping[str, str] = field(default_factory=dict)
    conditions: str = ""
    deviations: str = ""
    water_height: float | None = None
    packers: tuple[Packer, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmed(LogEntry):
    """What it was. role: who confirmed it; present: roles; accepted_by: a role, or nobody yet."""

    cause: str
    how: How
    role: str
    contributors: tuple[str, ...] = ()
    present: tuple[str, ...] = ()
    accepted_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Supported(LogEntry):
    """A repair that held speaks for this cause. That is support, and confirms nothing."""

    cause: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked(LogEntry):
    """A later look. within: within the agreed tightness, where that was judged.

    proof: what the look was to prove. readings: attribute -> what was read, as in a finding.
    """

    state: State
    water_up: WaterUp
    water_height: float | None = None
    within: bool | None = None
    proof: str | None = None
    readings: Mapping[str, str] = field(default_factory=dict)

    @property
    def holds(self) -> bool | None:
        """Whether it shows the repair holding; None where it tests nothing."""
        return shows_holding(self.state, self.within, self.water_up)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told(LogEntry):
    """A role that was told how it stands."""

    role: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed(LogEntry):
    """because: `held`, or one of WITHOUT. never_confirmed: said so, instead of a cause."""

    because: str
    never_confirmed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedOver(LogEntry):
    """It is in the hands of another role now."""

    role: str
