"""A case as the library keeps it: the technical part only, without people, places or days.

Days count from the day of the first visit, which is 0; of the calendar only the quarter is kept.
This is also the published form of a row in JSON Lines, format 1.
"""

from typing import Annotated, Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from advisor.callout.log_record import How, State, WaterUp
from advisor.callout.status import Status

FORMAT: Final = 1

Key = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
"""A key of the knowledge, in words."""
Short = Annotated[str, Field(max_length=200)]
Share = Annotated[float, Field(ge=0, le=1)]
Day = Annotated[int, Field(ge=-40_000, le=40_000)]
Height = Annotated[float, Field(ge=-500, le=500)]
"""Metres that the water stood higher than before the repair; lower is negative."""
LONGEST_NOTE: Final = 4000
Note = Annotated[str, Field(max_length=LONGEST_NOTE)]

Origin = Literal["own", "from-records", "remembered"]
"""Logged as it went; read from old papers later; told from memory. The last two weigh less."""


class Kept(BaseModel):
    """Nothing is guessed: a name that is not known here is refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class KeptFinding(Kept):
    """value: as in a callout file (`a or b`, `0.2 to 0.3 mm`); None: it does not apply."""

    value: Short | None
    sure: bool = True


class Shown(Kept):
    """What the advisor answered at the time. causes, methods: all of them, with their confidence.

    looks: suggested; taken: those of them that were done after.
    """

    day: Day
    advisor: Short
    knowledge: Short
    settled_on: Literal["cause", "group"] | None = None
    causes: dict[Key, Share]
    methods: dict[Key, Share] = {}
    advised: Key | None = None
    looks: tuple[Key, ...] = ()
    taken: tuple[Key, ...] = ()


class Packer(Kept):
    """One packer of an injection. pressure: bar; volume: L; minutes: how long it took."""

    pressure: Annotated[float, Field(ge=0, le=2000)] | None = None
    volume: Annotated[float, Field(ge=0, le=100_000)] | None = None
    minutes: Annotated[float, Field(ge=0, le=100_000)] | None = None


class Done(Kept):
    """A repair that was carried out. quantities: what was used, with units."""

    day: Day
    method: Key
    quantities: dict[Key, Short] = {}
    packers: tuple[Packer, ...] = ()
    note: Note | None = None


class Confirmed(Kept):
    """What it was. present: roles. accepted_by: a role; None where nobody has."""

    day: Day
    cause: Key
    contributors: tuple[Key, ...] = ()
    how: How
    role: Key | None = None
    present: tuple[Key, ...] = ()
    accepted_by: Key | None = None
    note: Note | None = None


class Looked(Kept):
    """A later look. within: within the agreed tightness; None: only `state` tells.

    Dry without the water up is no test. proof: what the look was to prove.
    """

    day: Day
    state: State
    within: bool | None = None
    water_up: WaterUp = "unknown"
    water_above: Height | None = None
    proof: Key | None = None
    readings: dict[Key, Short] = {}
    note: Note | None = None


class Closed(Kept):
    """because: `held`, or the stated reason for which it was closed without a repair that held."""

    day: Day
    because: Key


class KeptPlace(Kept):
    """A wet place. supported: the cause that a repair that held speaks for; no confirmation."""

    place: Annotated[int, Field(ge=1, le=1000)]
    status: Status
    reopened: bool = False
    findings: dict[Annotated[str, Field(max_length=120)], KeptFinding] = {}
    shown: Shown | None = None
    secured: tuple[Key, ...] = ()
    agreed: Key | None = None
    done: tuple[Done, ...] = ()
    confirmed: Confirmed | None = None
    supported: Key | None = None
    looked: tuple[Looked, ...] = ()
    closed: Closed | None = None
    note: Note | None = None


class KeptCase(Kept):
    """One callout. case: a keyed hash of its name. labels: crew, plant, contractor, designer and
    site as coded labels; they never leave the library."""

    format: Literal[1] = FORMAT
    case: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
    origin: Origin = "own"
    invented: bool = False
    quarter: Annotated[str, Field(pattern=r"^[0-9]{4}-Q[1-4]$")] | None = None
    kind: Key
    visits: Annotated[int, Field(ge=0, le=1000)] = 0
    labels: dict[Key, Key] = {}
    places: tuple[KeptPlace, ...]
