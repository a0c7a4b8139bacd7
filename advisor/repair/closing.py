"""What still stands between a wet place and its closing, and which looks are due."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from advisor.callout import Callout, Leak
from advisor.callout.log_record import Confirmed, Done, LogEntry, Looked, Proposed, Told
from advisor.callout.status import in_order, last_repair, looks_after, stand
from advisor.knowledge import UNLISTED, Knowledge, Proof
from advisor.terms import say_number

OWNER = "owner"
"""The role that has to be told."""

ProofState = Literal["open", "passed", "not-tested", "failed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class DueLook:
    """A look that is to prove a repair. first, last: days of a look that is due by date.

    state: what the last look of that proof says; not-tested: dry, and the water was not up.
    """

    leak: str
    proof: str
    look: str
    first: date | None
    last: date | None
    water_up: bool
    state: ProofState


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """Something that has to be so before a case is closed as held, in words.

    of_the_cause: a closing may say instead that it was never confirmed.
    """

    met: bool
    text: str
    of_the_cause: bool = False


def due_looks(knowledge: Knowledge, callout: Callout, leak: Leak) -> tuple[DueLook, ...]:
    """The looks of the last repair, those by date first; none before a repair, and none where
    the case is closed or in other hands."""
    repair = last_repair(callout.log, leak.key)
    if repair is None or stand(callout, leak).status in ("closed", "handed-over"):
        return ()
    method = knowledge.methods.get(repair.method)
    wanted = list(method.proof if method else ())
    asked = _proofs_asked(knowledge, callout, leak)
    # Of what must be proved, one proof each is enough.
    wanted += [proofs[0] for _, proofs in asked if not set(proofs) & set(wanted)]
    found = [
        _due(knowledge.proofs[key], leak.key, repair, looks_after(callout.log, repair))
        for key in dict.fromkeys(wanted)
    ]
    return tuple(sorted(found, key=lambda look: (look.first is None, look.first or date.max)))


def due_by(looks: Sequence[DueLook], day: date | None) -> tuple[DueLook, ...]:
    """Those that may be done by that day; None: all. What has no date may be due any day."""
    return tuple(look for look in looks if day is None or look.first is None or look.first <= day)


def shows_holding(look: Looked, repair: Done | None) -> bool | None:
    """As the look says; but dry tests nothing where the water stood lower than before the
    repair."""
    before, now = repair.water_height if repair else None, look.water_height
    low = before is not None and now is not None and now < before
    return None if look.holds and low else look.holds


def gates(
    knowledge: Knowledge, callout: Callout, leak: Leak, stops: Sequence[str]
) -> tuple[Gate, ...]:
    """What a closing as held asks, each met or not. stops: labels of those raised or open."""
    say, log = knowledge.say, in_order(callout.log, leak.key)
    repair = last_repair(callout.log, leak.key)
    looks = looks_after(callout.log, repair) if repair else ()
    failed = [number for number, look in enumerate(looks, 1) if look.holds is False]
    # What was proved before it was wet again proves nothing.
    since = looks[failed[-1] :] if failed else looks
    found = [
        Gate(met=not stops, text=say("gate-stops", stops="; ".join(stops) or say("none"))),
        Gate(met=repair is not None, text=say("gate-repair")),
        _tight(knowledge, repair, looks),
    ]
    for label, proofs in _proofs_asked(knowledge, callout, leak):
        passed = any(
            look.proof in proofs and _passes(knowledge.proofs[look.proof], look, repair)
            for look in since
        )
        found.append(Gate(met=passed, text=say("gate-proof", proof=label, keys=", ".join(proofs))))
    found += [
        Gate(
            met=any(isinstance(e, Confirmed) for e in log),
            text=say("gate-cause"),
            of_the_cause=True,
        ),
        Gate(met=_told_since(log, repair), text=say("gate-owner")),
    ]
    return tuple(found)


def _told_since(log: Sequence[LogEntry], repair: Done | None) -> bool:
    """Whether the owner was told how it stands after the last repair."""
    return any(
        isinstance(entry, Told)
        and entry.role == OWNER
        and (repair is None or entry.day >= repair.day)
        for entry in log
    )


def _tight(knowledge: Knowledge, repair: Done | None, looks: Sequence[Looked]) -> Gate:
    """The last look that tests anything shows it tight."""
    told = [holds for look in looks if (holds := shows_holding(look, repair)) is not None]
    before = repair.water_height if repair else None
    level = "" if before is None else f"{say_number(before)} m"
    say = knowledge.say
    text = say("gate-tight-at", level=level) if level else say("gate-tight")
    return Gate(met=bool(told) and told[-1], text=text)


def _proofs_asked(
    knowledge: Knowledge, callout: Callout, leak: Leak
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What must be proved here: its label, and the proofs of which one is enough."""
    group = _group(knowledge, callout, leak)
    kinds = callout.kinds(knowledge.attributes)
    for closing in knowledge.closing.values():
        on_path = not closing.groups or group in closing.groups
        in_kind = not closing.kinds or not set(closing.kinds).isdisjoint(kinds)
        if on_path and in_kind:
            yield closing.label, closing.proofs


def _group(knowledge: Knowledge, callout: Callout, leak: Leak) -> str:
    """The path: of the confirmed cause, else of the one that led first."""
    cause = ""
    for entry in in_order(callout.log, leak.key):
        if isinstance(entry, Proposed) and not cause and entry.causes:
            cause = max(entry.causes, key=lambda key: (entry.causes[key], key))
        elif isinstance(entry, Confirmed):
            cause = entry.cause
    known = knowledge.causes.get(cause)
    return known.group if known else UNLISTED


def _passes(proof: Proof, look: Looked, repair: Done | None) -> bool:
    """What asks for the water up is passed by no dry look without it, and nothing too early."""
    least = max(proof.least_days, proof.after_days[0] if proof.after_days else 0.0)
    if repair and (look.day - repair.day).days < least:
        return False
    if proof.water_up:
        return shows_holding(look, repair) is True
    return look.within if look.within is not None else look.state == "tight"


def _due(proof: Proof, leak: str, repair: Done, looks: Sequence[Looked]) -> DueLook:
    days = [_later(repair.day, round(after)) for after in proof.after_days or ()]
    first, last = days or (None, None)
    states: list[ProofState] = []
    for look in looks:
        # A look that names no proof is the one that was due on its day.
        in_time = look.proof is None and bool(days) and days[0] <= look.day <= days[1]
        if look.proof == proof.key or in_time:
            failed: ProofState = "failed" if look.holds is False else "not-tested"
            states.append("passed" if _passes(proof, look, repair) else failed)
    return DueLook(
        leak=leak,
        proof=proof.key,
        look=proof.look,
        first=first,
        last=last,
        water_up=proof.water_up,
        state=states[-1] if states else "open",
    )


def _later(day: date, after: int) -> date:
    """So many days later, or the last day that there is."""
    return day + timedelta(days=min(after, (date.max - day).days))
