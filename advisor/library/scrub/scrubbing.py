"""From a record to the case that the library keeps: the technical part, and nothing of people.

What is not named here is not kept: the private block, all free text, every date. Roles outside
the list are `other`. Numbers that point to one building are kept as bands. A word is kept only
where the knowledge has it: whatever else stands in its place may be a name.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, TypeVar

from advisor.callout import Callout, Leak, resolve
from advisor.callout import log_record as log
from advisor.callout.status import in_order, looks_at, stand
from advisor.knowledge import Knowledge
from advisor.library import case as kept
from advisor.library.alike.findings import say_findings
from advisor.library.case import KeptCase, KeptPlace
from advisor.library.scrub.banding import banded
from advisor.library.scrub.identities import scrub_text
from advisor.library.scrub.labels import LABELLED, SITE, label, token
from advisor.library.scrub.own_words import own_words
from advisor.library.scrub.saying import kept_amounts, kept_readings
from advisor.library.scrub.shown import UNKNOWN, answered_in, shown

ROLES: Final = frozenset(
    {
        *("owner", "occupant", "neighbour", "own-technician", "own-office", "contractor"),
        *("designer", "structural-engineer", "expert", "laboratory", "plant", "supplier"),
        *("insurer", "authority", "caretaker", "other"),
    }
)
OTHER: Final = "other"

T = TypeVar("T")

Ask = Callable[[str], bool]
"""Whether a note may be kept, as it stands after scrubbing. Somebody reads it."""


@dataclass(frozen=True, slots=True)
class Scrubbed:
    """removed: what was left out or changed, by kind, and how often."""

    case: KeptCase
    removed: Mapping[str, int]


def scrubbed(
    knowledge: Knowledge,
    callout: Callout,
    key: bytes,
    *,
    origin: kept.Origin = "own",
    ask: Ask | None = None,
    photos: int = 0,
) -> Scrubbed:
    """ask: None drops every note; else it is asked for each. photos: how many are kept beside it.

    The log names nothing that the knowledge does not have, see `log_problems`.
    """
    scrubber = _Scrubber(knowledge, callout, ask)
    case = KeptCase(
        case=token(key, callout.key),
        origin=origin,
        quarter=_quarter(scrubber.first_day),
        kind=scrubber.kind(),
        visits=len(callout.visits),
        labels=_labels(key, callout),
        places=tuple(scrubber.place(n, leak) for n, leak in enumerate(callout.leaks, 1)),
    )
    scrubber.removed["private"] += len(callout.private)
    scrubber.removed["photo"] += sum(len(leak.photos) for leak in callout.leaks) - photos
    scrubber.removed["date"] += len(callout.visits) + len(callout.log)
    return Scrubbed(case, {kind: count for kind, count in scrubber.removed.items() if count})


def _quarter(day: date | None) -> str | None:
    return None if day is None else f"{day.year:04d}-Q{(day.month + 2) // 3}"


def _labels(key: bytes, callout: Callout) -> dict[str, str]:
    named = {
        kind: str(callout.private[kind])
        for kind in LABELLED
        if str(callout.private.get(kind) or "").strip()
    }
    site = next((str(callout.private[name]) for name in SITE if callout.private.get(name)), "")
    found = {kind: label(key, kind, name) for kind, name in named.items()}
    return found | ({"site": label(key, "site", site)} if site.strip() else {})


class _Scrubber:
    """Holds what is removed while a callout is gone through."""

    def __init__(self, knowledge: Knowledge, callout: Callout, ask: Ask | None) -> None:
        self.knowledge, self.callout, self.ask = knowledge, callout, ask
        self.removed: Counter[str] = Counter()
        self.names = own_words(callout)
        days = [visit.day for visit in callout.visits] or [entry.day for entry in callout.log]
        self.first_day = min(days, default=None)

    def day(self, day: date) -> int:
        """Days from the first visit."""
        return (day - self.first_day).days if self.first_day else 0

    def kind(self) -> str:
        """The kind of structure, where it is one."""
        known = self.callout.kinds(self.knowledge.attributes)
        return known[0] if len(known) == 1 else UNKNOWN

    def role(self, role: str) -> str | None:
        if role and role not in ROLES:
            self.removed["role"] += 1
            return OTHER
        return role or None

    def roles(self, roles: Iterable[str]) -> tuple[str, ...]:
        return tuple(dict.fromkeys(known for role in roles if (known := self.role(role))))

    def note(self, *texts: str) -> str | None:
        """Free text, as far as it is kept."""
        text = ". ".join(part.strip().rstrip(".") for part in texts if part.strip())
        if not text:
            return None
        if self.ask is None:
            self.removed["note"] += 1
            return None
        clean = scrub_text(text, self.names)
        self.removed.update(clean.removed)
        if len(clean.text) <= kept.LONGEST_NOTE and self.ask(clean.text):
            return clean.text
        self.removed["note"] += 1
        return None

    def place(self, number: int, leak: Leak) -> KeptPlace:
        facts, changed = banded(
            self.knowledge, resolve(self.callout, leak, self.knowledge.attributes)
        )
        self.removed.update(changed)
        answered = answered_in(facts, self.callout.structure, leak.findings)
        entries = in_order(self.callout.log, leak.key)
        now = stand(self.callout, leak)
        repairs = [entry for entry in entries if isinstance(entry, log.Done)]
        # The first answer stands, whatever was answered later, or dated earlier.
        first = _first(
            [e for e in self.callout.log if isinstance(e, log.Proposed) and e.leak == leak.key]
        )
        return KeptPlace(
            place=number,
            status=now.status,
            reopened=now.reopened,
            findings=say_findings(self.knowledge, facts),
            shown=None if first is None else self.shown(first, answered),
            secured=tuple(e.method for e in entries if isinstance(e, log.Secured)),
            agreed=_last([e.method for e in entries if isinstance(e, log.Agreed)]),
            done=tuple(self.done(entry) for entry in repairs),
            confirmed=_last([self.confirmed(e) for e in entries if isinstance(e, log.Confirmed)]),
            supported=_last([e.cause for e in entries if isinstance(e, log.Supported)]),
            looked=tuple(self.looked(e, repairs) for e in entries if isinstance(e, log.Looked)),
            closed=self.closed(entries) if now.status == "closed" else None,
            note=self.note(leak.where),
        )

    def shown(self, entry: log.Proposed, answered: frozenset[str]) -> kept.Shown:
        answer, left_out = shown(self.knowledge, entry, self.day(entry.day), answered)
        self.removed["word"] += left_out
        return answer

    def done(self, entry: log.Done) -> kept.Done:
        amounts, unread = kept_amounts(self.knowledge, entry.quantities)
        self.removed["unreadable"] += unread
        return kept.Done(
            day=self.day(entry.day),
            method=entry.method,
            quantities=amounts,
            packers=tuple(
                kept.Packer(pressure=p.pressure, volume=p.volume, minutes=p.minutes)
                for p in entry.packers
            ),
            note=self.note(entry.conditions, entry.deviations, entry.words),
        )

    def confirmed(self, entry: log.Confirmed) -> kept.Confirmed:
        return kept.Confirmed(
            day=self.day(entry.day),
            cause=entry.cause,
            contributors=entry.contributors,
            how=entry.how,
            role=self.role(entry.role),
            present=self.roles(entry.present),
            accepted_by=self.role(entry.accepted_by),
            note=self.note(entry.words),
        )

    def looked(self, entry: log.Looked, repairs: list[log.Done]) -> kept.Looked:
        before = [one for one in repairs if looks_at(entry, one.day)]
        level = before[-1].water_height if before else None
        above = None
        if entry.water_height is not None and level is not None:
            above = round(entry.water_height - level, 1)
        readings, unread = kept_readings(self.knowledge, entry.readings)
        self.removed["unreadable"] += unread
        return kept.Looked(
            day=self.day(entry.day),
            state=entry.state,
            within=entry.within,
            water_up="no" if above is not None and above < 0 else entry.water_up,
            water_above=above,
            proof=entry.proof,
            readings=readings,
            note=self.note(entry.words),
        )

    def closed(self, entries: Iterable[log.LogEntry]) -> kept.Closed | None:
        return _last(
            [
                kept.Closed(day=self.day(entry.day), because=entry.because)
                for entry in entries
                if isinstance(entry, log.Closed)
            ]
        )


def _first(found: Sequence[T]) -> T | None:
    return found[0] if found else None


def _last(found: Sequence[T]) -> T | None:
    return found[-1] if found else None
