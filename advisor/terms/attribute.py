"""What can be found at a structure, on a visit, or at a leak."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from advisor.terms.quantity import Range

Kind = Literal["choice", "several", "yes-no", "number", "date", "text"]
Of = Literal["structure", "visit", "leak"]


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer: its key in words, and how people read it."""

    key: str
    label: str


YES_NO = (Choice("yes", "yes"), Choice("no", "no"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Attribute:
    """One thing that can be found, with its question and who can know it.

    `lowest` and `highest` bound a number, in `unit`. A yes-no attribute has the choices
    yes and no, in this order.
    """

    key: str
    label: str
    kind: Kind
    of: Of
    question: str
    check: str
    who: tuple[str, ...]
    unit: str | None = None
    choices: tuple[Choice, ...] = ()
    lowest: float = -math.inf
    highest: float = math.inf
    from_dates: tuple[str, str] | None = None
    """Days from one date attribute to another, or to `visit`, the day of the last visit."""
    over_places: tuple[str, tuple[str, ...]] | None = None
    """A fact over all wet places of a callout: the function, and the attributes it reads."""
    of_the_water: bool = False
    """A finding about the water: it holds at every wet place that the same water feeds."""
    formula: str = ""
    """Of a number that is worked out: how, as people write it."""
    valid: str = ""
    """Where that holds."""
    means: tuple[tuple[Range, str], ...] = ()
    """What a number says, by where it lies."""
    because: str = ""
    source: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.kind == "yes-no":
            object.__setattr__(self, "choices", YES_NO)

    @property
    def every_choice(self) -> int:
        """The mask with the bit of every choice set: bit 0 is the first choice."""
        return (1 << len(self.choices)) - 1
