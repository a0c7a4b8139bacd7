"""What a technician keeps of a callout: readings, findings, visits, wet places."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal, get_args

from advisor.terms import Place, Value

How = Literal["seen", "measured", "told", "document", "assumed"]
Missing = Literal["not-asked", "nobody-knows", "no-access", "not-applicable"]

HOWS: tuple[How, ...] = get_args(How)
MISSINGS: tuple[Missing, ...] = get_args(Missing)
UNSURE_HOWS: frozenset[How] = frozenset({"told", "assumed"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One dated answer about one attribute.

    value: a mask for a choice or yes-no, (yes mask, no mask) for several choices, a Range
    in the attribute's unit for a number, a date, a text; None exactly when `missing` says why.
    visit: counts from 1 as the file lists them; 0 and no day in a file without visits.
    corrects: the reading of the same finding that this one replaces, counted from 1.
    """

    value: Value | None
    how: How
    sure: bool | None = None
    visit: int
    day: date | None
    corrects: int | None = None
    missing: Missing | None = None
    note: str = ""
    place: Place

    @property
    def is_sure(self) -> bool:
        """What the technician wrote about it beats how it is known."""
        return self.how not in UNSURE_HOWS if self.sure is None else self.sure


@dataclass(frozen=True, slots=True)
class Finding:
    """All readings of one attribute, as the file lists them, corrected ones too."""

    attribute: str
    readings: tuple[Reading, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Visit:
    day: date
    findings: dict[str, Finding]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Leak:
    """A wet place. same_water: another wet place of the callout, fed by the same water.

    photos: names of files, relative to the record.
    """

    key: str
    where: str = ""
    photos: tuple[str, ...] = ()
    findings: dict[str, Finding] = field(default_factory=dict)
    same_water: str | None = None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Release:
    """A stop that was released. leak: at this wet place only. name: stays in the file."""

    stop: str
    leak: str | None
    role: str
    name: str
    day: date
    words: str
    place: Place


@dataclass(frozen=True, slots=True)
class Truth:
    """What it was, in a worked case. Keys of causes and methods are not checked here.

    acceptable: methods that an advice may lead with; forbidden: those it may not name as fit.
    """

    causes: tuple[str, ...]
    blind: bool
    because: str
    acceptable: tuple[str, ...] = ()
    forbidden: tuple[str, ...] = ()
