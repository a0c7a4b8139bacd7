"""Past wet places like one of now: names and meaning as in the published result format."""

from dataclasses import dataclass
from typing import Literal

Held = Literal["held", "failed", "not-tested"]


@dataclass(frozen=True, kw_only=True)
class SimilarRepair:
    """A repair of a past place. days: of the look that says so; null where none tested anything."""

    method: str
    held: Held
    days: int | None


@dataclass(frozen=True, kw_only=True)
class BothFound:
    """What was found of both places, as in a callout file: `at-the-joint`, `0.2 to 0.3 mm`.

    attribute: for one of several choices with the choice, as in `deposits.lime`: yes or no.
    """

    attribute: str
    here: str
    there: str


@dataclass(frozen=True, kw_only=True)
class SimilarPlace:
    """A past wet place. alike: 0 to 1, over what is known of both; compared: how many attributes.

    in_: what is most alike; differs: what differs most. cause: null where never confirmed.
    """

    case: str
    place: int
    alike: float
    compared: int
    in_: tuple[BothFound, ...]
    differs: tuple[BothFound, ...]
    kind: str
    quarter: str | None
    status: str
    cause: str | None
    confirmed_how: str | None
    repairs: tuple[SimilarRepair, ...]
    invented: bool
