"""The steps of an invented wet place, and what they come to."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final

from advisor.knowledge import Knowledge
from advisor.library.case import Closed, Confirmed, Done, Looked, Status
from advisor.library.repairs import holds

RANK: Final[tuple[Status, ...]] = (
    *("reported", "secured", "looked-at", "cause-proposed", "cause-confirmed"),
    *("repair-agreed", "repaired", "watching"),
)

Told = Confirmed | Done | Looked | Closed | str | None


@dataclass(frozen=True, slots=True)
class Step:
    """What was logged on a day. to: the status it leads to; None: a cause that a repair speaks for.

    told: the entry; of securing and agreeing the method, of what is spoken for the cause.
    """

    day: int
    to: Status | None
    told: Told = None


def stand(steps: Sequence[Step], first: Status) -> tuple[Status, bool]:
    """The status and whether it was reopened, by the rule of `advisor/callout/status.py`."""
    status, reopened = first, False
    for step in steps:
        if step.to in ("closed", "handed-over"):
            status = step.to
        elif step.to in ("repair-agreed", "repaired"):
            reopened = reopened or status == "closed"
            status = step.to
        elif isinstance(step.told, Looked):
            if status == "closed" and holds(step.told) is False:
                status, reopened = "reopened", True
            elif status == "repaired":
                status = "watching"
        elif step.to in RANK and status in RANK and RANK.index(step.to) > RANK.index(status):
            status = step.to
    return status, reopened


def proved(knowledge: Knowledge, group: str, kind: str, passed: Collection[str]) -> bool:
    """Whether all is proved that closing a case as held asks, by path and kind of structure."""
    return all(
        not set(rule.proofs).isdisjoint(passed)
        for rule in knowledge.closing.values()
        if (not rule.groups or group in rule.groups) and (not rule.kinds or kind in rule.kinds)
    )
