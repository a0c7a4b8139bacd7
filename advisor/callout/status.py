"""Where a wet place stands, read from its log."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from advisor.callout.callout import Callout
from advisor.callout.log_record import (
    Agreed,
    Closed,
    Confirmed,
    Done,
    HandedOver,
    LogEntry,
    Looked,
    Proposed,
    Secured,
    is_after,
)
from advisor.callout.record import Leak

Status = Literal[
    "reported",
    "secured",
    "looked-at",
    "cause-proposed",
    "cause-confirmed",
    "repair-agreed",
    "repaired",
    "watching",
    "closed",
    "reopened",
    "handed-over",
]

_STEPS: Mapping[type[LogEntry], Status] = {
    Secured: "secured",
    Proposed: "cause-proposed",
    Confirmed: "cause-confirmed",
    Agreed: "repair-agreed",
    Done: "repaired",
    Looked: "watching",
}
_RANK = (
    *("reported", "secured", "looked-at", "cause-proposed", "cause-confirmed"),
    *("repair-agreed", "repaired", "watching"),
)
"""On the way to the end a wet place is as far as the furthest thing that was logged."""


@dataclass(frozen=True, slots=True)
class Stand:
    """since: the day on which it came to stand so; None where no day is known.

    reopened: it was closed once, and was wet or worked on again after.
    """

    status: Status
    since: date | None
    reopened: bool


def stand(callout: Callout, leak: Leak) -> Stand:
    """Wet again at the same spot, or further along the same joint or crack, reopens what was
    closed. Wet elsewhere is a wet place of its own, with a log of its own."""
    status: Status = "reported"
    since: date | None = min((visit.day for visit in callout.visits), default=None)
    if _looked_at(leak):
        status = "looked-at"
    reopened = False
    for entry in in_order(callout.log, leak.key):
        step = _STEPS.get(type(entry))
        if isinstance(entry, Closed):
            status, since = "closed", entry.day
        elif isinstance(entry, HandedOver):
            status, since = "handed-over", entry.day
        elif isinstance(entry, Agreed | Done) and step is not None:
            # A round begins, maybe not the first.
            reopened = reopened or status == "closed"
            status, since = step, entry.day
        elif isinstance(entry, Looked) and status == "closed":
            if entry.holds is False:
                status, since, reopened = "reopened", entry.day, True
        elif isinstance(entry, Looked) and status == "repaired" and not looks_at(entry, since):
            continue
        elif step is not None and _is_further(step, status):
            status, since = step, entry.day
    return Stand(status, since, reopened)


def _is_further(step: Status, status: Status) -> bool:
    """A look before any repair is a visit, and watches nothing."""
    if status not in _RANK or (step == "watching" and status != "repaired"):
        return False
    return _RANK.index(step) > _RANK.index(status)


def in_order(log: Sequence[LogEntry], leak: str) -> tuple[LogEntry, ...]:
    """The entries of a wet place, oldest first; those of one day as they were written."""
    return tuple(sorted((e for e in log if e.leak == leak), key=lambda entry: entry.day))


def last_repair(log: Sequence[LogEntry], leak: str) -> Done | None:
    """The repair that counts now."""
    done = [entry for entry in in_order(log, leak) if isinstance(entry, Done)]
    return done[-1] if done else None


def looks_after(log: Sequence[LogEntry], repair: Done) -> tuple[Looked, ...]:
    """The later looks at a repair."""
    return tuple(
        entry
        for entry in in_order(log, repair.leak)
        if isinstance(entry, Looked) and looks_at(entry, repair.day)
    )


def looks_at(look: Looked, repaired: date | None) -> bool:
    """Whether it is a look at the repair of that day, not at what was before it."""
    return repaired is None or is_after(look.day, repaired, look.proof)


def _looked_at(leak: Leak) -> bool:
    """Whether anything was seen or measured there, not only told on the telephone."""
    return any(
        reading.how in ("seen", "measured") and reading.value is not None
        for finding in leak.findings.values()
        for reading in finding.readings
    )
