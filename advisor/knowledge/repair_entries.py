"""What the knowledge says about repair, as the floors above use it. Texts are for people."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from advisor.engine import Condition
from advisor.knowledge.entries import STEPS, Why
from advisor.terms import Range

Role = Literal[
    "hold",
    "slow",
    "seal",
    "protect",
    "strengthen",
    "mend",
    "watch",
    "manage",
    "hand-over",
]
"""What a method does for the leak: hold the water off people and goods; slow or stop it for a
while; seal the path; protect the face; strengthen the part; mend what is not the concrete;
watch; live with the water; hand over to who must design it."""

Horizon = Literal["tonight", "until", "lasting"]

StepKind = Literal[
    "secure",
    "relieve",
    "slow",
    "look",
    "prepare",
    "seal",
    "protect",
    "strengthen",
    "prove",
    "come-back",
]
"""In the order in which a plan does them."""

ACTIVITIES = (
    *STEPS,
    "chase",
    "mix-resin",
    "mix-gel",
    "mix-cement",
    "spray-or-coat",
    "grind",
    "hot-work",
    "lift-cover",
    "dewater",
    "isolate",
    "work-high",
    "traffic",
    "solvent",
)
"""What a step of a repair may take: stops bar those of STEPS, cautions hang on all of them."""


TOOLS = {"drill-length": "mm", "pump-pressure": "bar"}
"""What the van brings that a quantity may not pass, and its unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What must be so for a method. usually: how often it is, where nobody has looked.

    looks: keys of the looks that decide it, best first.
    """

    key: str
    label: str
    must: Condition
    usually: float
    looks: tuple[str, ...]
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Holds:
    """rate: the chance that it holds with each of these causes, or with all of a group; weight:
    how many cases that judgement is worth. A cause's own line beats that of its group."""

    named: tuple[str, ...]
    rate: float
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Worse:
    """What lowers the chance: `times` it, from 0 to 1."""

    when: Condition
    times: float
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MethodStep:
    """takes: of ACTIVITIES; quantities: keys of quantities, or of number attributes."""

    key: str
    kind: StepKind
    do: str
    takes: tuple[str, ...]
    quantities: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A way of repair.

    makes: limits that it brings about for what comes after, `works` of the time. first, then:
    methods that always come before it, and after. materials: material -> the quantity that says
    how much. cost: from 1, very low, to 5, very high.
    """

    key: str
    label: str
    role: Role
    horizons: tuple[Horizon, ...]
    moment: str
    reversible: bool
    standards: tuple[str, ...]
    conflicts: tuple[str, ...]
    holds: tuple[Holds, ...]
    worse: tuple[Worse, ...]
    limits: tuple[str, ...]
    makes: tuple[str, ...]
    works: float
    first: tuple[str, ...]
    then: tuple[str, ...]
    steps: tuple[MethodStep, ...]
    materials: Mapping[str, str]
    curing: str
    fails: str
    accept: str
    proof: tuple[str, ...]
    wet_again: str
    fallbacks: tuple[str, ...]
    shuts_off: str
    cost: int
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number of a repair. One of: `formula` of `inputs`; the first known of `first_of`;
    `fixed`. assumed: what an attribute is taken to be where nothing is known of it. at_most: what
    it may not pass: a number attribute, or one of TOOLS. within: number attributes of its unit that
    it cannot be larger than: if it is, the findings contradict each other.
    """

    key: str
    label: str
    unit: str
    formula: str | None
    inputs: tuple[str, ...]
    first_of: tuple[str, ...]
    fixed: Range | None
    assumed: Mapping[str, Range]
    at_most: tuple[str, ...]
    within: tuple[str, ...]
    how: str
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """unit: in which it is counted. waste: share that is lost, as a range of a ratio.

    certificate: what the crew must hold to use it; empty for none.
    """

    key: str
    label: str
    unit: str
    waste: Range
    certificate: str
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Threshold:
    """A figure of a caution, with the place where it holds and its day. The local one wins."""

    what: str
    value: str
    where: str
    dated: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Permit:
    what: str
    issued_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """Shown with each step that takes one of `takes`; when: only where this is not known false."""

    key: str
    label: str
    takes: tuple[str, ...]
    when: Condition | None
    do: str
    limits: tuple[Threshold, ...]
    permit: Permit | None
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """When which look shows that a repair holds. label: when it is due, in words.

    water_up: counts only with the water up at least to its level before the repair.
    after_days: first and last day after the work, for one that is due by date.
    least_days: a look sooner after the work proves nothing.
    always: belongs to every plan where this is not known to be false.
    """

    key: str
    label: str
    look: str
    water_up: bool
    by: Literal["date", "event"]
    after_days: tuple[float, float] | None
    least_days: float
    always: Condition | None
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When a method is done best. come: known true, and that moment is now; None: always now."""

    key: str
    label: str
    come: Condition | None
    why: Why
