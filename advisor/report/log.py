"""What is said while an outcome is logged, and the looks that are due."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from advisor.callout import Callout, Leak
from advisor.callout.log_reader import CHOICES, KINDS, PROPOSED
from advisor.callout.log_record import Looked
from advisor.callout.status import Stand, in_order, is_after, last_repair, stand
from advisor.knowledge import Knowledge
from advisor.repair.closing import DueLook, Gate, due_by, due_looks, shows_holding
from advisor.report.lines import Line, Page


def kind_lines(page: Page, knowledge: Knowledge) -> list[Line]:
    """The kinds of entries, numbered from 1."""
    say = knowledge.say
    lines = page.wrap(say("log-which-kind"))
    for number, kind in enumerate(KINDS, 1):
        lines += page.wrap(f"{number} {kind}: {say(f'log-kind-{kind}')}", first="  ", rest="      ")
    return lines


def ask_lines(
    page: Page, knowledge: Knowledge, key: str, *, must: bool, again: bool = False
) -> list[Line]:
    """The question for a key of an entry, and what may be answered. again: it was answered
    before."""
    say = knowledge.say
    if key == "proof":
        text = say("log-ask-proof", proofs=", ".join(knowledge.proofs))
    else:
        text = say(f"log-ask-{key}")
    if key in CHOICES:
        text += f" ({say('log-one-of', words=', '.join(CHOICES[key]))})"
    if not must:
        text += f" ({say('log-or-as-before' if again else 'log-or-nothing')})"
    return page.wrap(text)


def logged_lines(
    page: Page, knowledge: Knowledge, callout: Callout, leak: Leak, added: Sequence[str]
) -> list[Line]:
    """What was added, where the wet place stands now, and what comes next."""
    say = knowledge.say
    now = say(f"stands-{stand(callout, leak).status}")
    kinds = ", ".join(added)
    lines = page.wrap(
        say("log-added", file=callout.file, kinds=kinds, leak=leak.key, status=now), style="strong"
    )
    if PROPOSED in added:
        lines += page.wrap(say("log-first-answer"))
    last = callout.log[-1]
    repair = last_repair(callout.log, leak.key)
    if isinstance(last, Looked) and repair and not is_after(last, repair.day):
        lines += page.wrap(say("log-before-the-repair"))
    elif isinstance(last, Looked) and shows_holding(last, repair) is None:
        lines += page.wrap(say("log-not-tested"))
    return lines + page.wrap(say("log-next", file=callout.file))


def record_lines(
    page: Page,
    knowledge: Knowledge,
    callout: Callout,
    *,
    by: date | None,
    unmet: Mapping[str, Sequence[Gate]],
) -> list[Line]:
    """Where each wet place of a record stands, its looks that are due, and its dates.

    by: only looks that are due by then; None: all. unmet: by wet place, what a closing still asks.
    """
    say = knowledge.say
    lines = page.wrap(
        say("due-record", callout=callout.key, file=callout.file), style="head", rest="  "
    )
    for leak in callout.leaks:
        lines += page.wrap(_stands(knowledge, leak, stand(callout, leak)), first="  ")
        looks = due_by(due_looks(knowledge, callout, leak), by)
        for look in looks:
            lines += page.wrap(_due(knowledge, look), first="    - ")
        if not looks:
            lines += page.wrap(say("due-nothing"), first="    - ")
        if asked := unmet.get(leak.key):
            lines += page.wrap(say("due-gates"), first="    ")
            lines += page.items((gate.text for gate in asked), "      ")
        dates = _dates(knowledge, dates_of(knowledge, callout, leak))
        lines += page.wrap(say("due-dates", dates=dates), first="    ", rest="      ")
    return lines


def _stands(knowledge: Knowledge, leak: Leak, now: Stand) -> str:
    status = knowledge.say(f"stands-{now.status}")
    if now.since is None:
        return knowledge.say("due-stand-no-day", leak=leak.key, status=status)
    return knowledge.say("due-stand", leak=leak.key, status=status, day=now.since)


def _due(knowledge: Knowledge, look: DueLook) -> str:
    say, proof = knowledge.say, knowledge.proofs[look.proof]
    text = knowledge.looks[look.look].label
    if look.water_up:
        text += f", {say('due-water-up')}"
    state = say(f"due-{look.state}") if look.state != "open" else say("due-open")
    if look.first is not None:
        return say("due-by-date", first=look.first, last=look.last, look=text, state=state)
    return say("due-by-event", when=proof.label, look=text, state=state)


def dates_of(knowledge: Knowledge, callout: Callout, leak: Leak) -> list[tuple[date, str]]:
    """The dates of a wet place side by side, oldest first; nothing is reckoned from them."""
    found = [
        (reading.value, knowledge.attributes[key].label)
        for findings in (callout.structure, leak.findings)
        for key, finding in findings.items()
        for reading in finding.readings[-1:]
        if isinstance(reading.value, date)
    ]
    found += [(visit.day, knowledge.say("due-visit")) for visit in callout.visits]
    found += [(entry.day, _kind_of(entry)) for entry in in_order(callout.log, leak.key)]
    return sorted(dict.fromkeys(found))


def _kind_of(entry: object) -> str:
    return next((key for key, kind in KINDS.items() if isinstance(entry, kind.makes)), PROPOSED)


def _dates(knowledge: Knowledge, found: Iterable[tuple[date, str]]) -> str:
    return "; ".join(knowledge.say("due-date", what=what, day=day) for day, what in found)
