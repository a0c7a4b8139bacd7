"""Where records stand and which looks are due: the result that every face shows."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from advisor.assessment.logging import open_gates
from advisor.assessment.result import FORMAT
from advisor.callout import Callout, Leak
from advisor.callout.log_reader import KINDS, PROPOSED
from advisor.callout.log_record import LogEntry
from advisor.callout.readings import by_day, effective, latest
from advisor.callout.status import Status, in_order, stand
from advisor.knowledge import Knowledge
from advisor.repair.closing import ProofState, due_by, due_looks
from advisor.terms import Problem


@dataclass(frozen=True, kw_only=True)
class LookDue:
    """first, last: days of a look that is due by date; null where it is due by event."""

    proof: str
    look: str
    first: str | None
    last: str | None
    water_up: bool
    state: ProofState


@dataclass(frozen=True, kw_only=True)
class Dated:
    """Something that happened; nothing is reckoned from its day."""

    date: str
    what: str


@dataclass(frozen=True, kw_only=True)
class PlaceStand:
    """before_closing: what a closing as held still asks, in words."""

    leak: str
    status: Status
    since: str | None
    reopened: bool
    due: tuple[LookDue, ...]
    before_closing: tuple[str, ...]
    dates: tuple[Dated, ...]


@dataclass(frozen=True, kw_only=True)
class RecordStand:
    callout: str
    file: str
    leaks: tuple[PlaceStand, ...]


@dataclass(frozen=True, kw_only=True)
class RecordStands:
    """All records that could be read, and what is wrong with the others."""

    format: Literal[1] = FORMAT
    records: tuple[RecordStand, ...]
    problems: tuple[Problem, ...]


def stands(
    knowledge: Knowledge,
    callouts: Iterable[Callout],
    *,
    by: date | None,
    problems: Sequence[Problem] = (),
) -> RecordStands:
    """by: only looks due by then; None: all. problems: of the files that could not be read."""
    return RecordStands(
        records=tuple(
            RecordStand(
                callout=callout.key,
                file=callout.file,
                leaks=tuple(_place(knowledge, callout, leak, by) for leak in callout.leaks),
            )
            for callout in callouts
        ),
        problems=tuple(problems),
    )


def _place(knowledge: Knowledge, callout: Callout, leak: Leak, by: date | None) -> PlaceStand:
    now = stand(callout, leak)
    return PlaceStand(
        leak=leak.key,
        status=now.status,
        since=_day(now.since),
        reopened=now.reopened,
        due=tuple(
            LookDue(
                proof=look.proof,
                look=look.look,
                first=_day(look.first),
                last=_day(look.last),
                water_up=look.water_up,
                state=look.state,
            )
            for look in due_by(due_looks(knowledge, callout, leak), by)
        ),
        before_closing=tuple(gate.text for gate in open_gates(knowledge, callout, leak)),
        dates=tuple(
            Dated(date=day.isoformat(), what=what) for day, what in _dates(knowledge, callout, leak)
        ),
    )


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _dates(knowledge: Knowledge, callout: Callout, leak: Leak) -> list[tuple[date, str]]:
    """The dates of a wet place side by side, oldest first."""
    found = []
    for key, finding in {**callout.structure, **leak.findings}.items():
        attribute = knowledge.attributes[key]
        if attribute.kind == "date":
            told = latest(by_day(effective(finding.readings), attribute)).value
            found += [(told, attribute.label)] if isinstance(told, date) else []
    found += [(visit.day, knowledge.say("due-visit")) for visit in callout.visits]
    found += [(entry.day, _kind_of(entry)) for entry in in_order(callout.log, leak.key)]
    return sorted(dict.fromkeys(found))


def _kind_of(entry: LogEntry) -> str:
    return next((key for key, kind in KINDS.items() if isinstance(entry, kind.makes)), PROPOSED)
