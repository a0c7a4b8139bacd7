"""What is said while an outcome is logged."""

from collections.abc import Sequence

from advisor.callout import Callout, Leak
from advisor.callout.log_reader import CHOICES, KINDS, PROPOSED
from advisor.callout.log_record import Looked
from advisor.callout.status import last_repair, looks_at, stand
from advisor.knowledge import Knowledge
from advisor.repair.closing import shows_holding
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
    if isinstance(last, Looked) and repair and not looks_at(last, repair.day):
        lines += page.wrap(say("log-before-the-repair"))
    elif isinstance(last, Looked) and shows_holding(last, repair) is None:
        lines += page.wrap(say("log-not-tested"))
    return lines + page.wrap(say("log-next", file=callout.file))
