"""Five lines to forward to a manager: no numbers, no bars, no blame, no promise.

What is to be done and not done comes from stops and looks only, never from free text.
"""

from collections.abc import Mapping, Sequence
from pathlib import PurePath
from typing import Final, Literal, get_args

from advisor.assessment import Assessment, LeakResult
from advisor.diagnosis import CauseBelief, Diagnosis, StopState, barring
from advisor.knowledge import NOT_IN_THIS_LIST, STEPS, Knowledge, both
from advisor.report.labels import cause_label, group_label
from advisor.report.lines import Line, counted, joined
from advisor.report.words import HARDLY, steps, who

Standing = Literal["consistent", "open", "not-consistent", "not-tested"]
"""What may be said of a cause to an owner or insurer."""

STANDINGS: Final[tuple[Standing, ...]] = get_args(Standing)

CONSISTENT = 0.1
"""A cause believed this much, with something that speaks for it, is consistent."""

NOT_CONSISTENT = 0.01
"""A cause believed less than this, with something that speaks against it, is not ..."""

FALLEN = 0.1
"""... if its belief also fell to this part of its base rate: a rare cause starts near nothing."""

NAMED = 4
"""Causes named on one line; the others are counted."""


def brief_lines(knowledge: Knowledge, assessment: Assessment) -> list[Line]:
    """Five lines a wet place, an empty one between. Not wrapped, so that they stay five."""
    lines: list[Line] = []
    for leak in assessment.leaks:
        lines += [Line("")] if lines else []
        lines += [Line(" ".join(text.split())) for text in _five(knowledge, leak)]
    return lines


def standing(cause: CauseBelief) -> Standing:
    """Which of the four words holds for a cause."""
    if cause.ruled_out is not None:
        return "not-consistent"
    if not (cause.needs or cause.for_ or cause.against):
        return "not-tested"
    if cause.confidence >= CONSISTENT and cause.for_:
        return "consistent"
    if cause.confidence < min(NOT_CONSISTENT, FALLEN * cause.base_rate) and cause.against:
        return "not-consistent"
    return "open"


def _five(knowledge: Knowledge, leak: LeakResult) -> tuple[str, str, str, str, str]:
    return (
        # Without its folders: their names may say who the customer is.
        f"{leak.leak} ({PurePath(leak.file).name}): {_clear(knowledge, leak)}"
        f"{_unfit(knowledge, leak)}",
        _possible(knowledge, leak),
        _not_consistent(knowledge, leak),
        _until_then(knowledge, leak.stops),
        _next_look(knowledge, leak),
    )


def _clear(knowledge: Knowledge, leak: Diagnosis) -> str:
    if leak.settled_on == "cause":
        label = cause_label(knowledge, leak.causes[0].cause)
        return knowledge.say("brief-settled-on-cause", cause=label)
    if leak.settled_on == "group":
        label = group_label(knowledge, leak.groups[0].group)
        return knowledge.say("brief-settled-on-path", path=label)
    return knowledge.say("brief-not-settled")


def _unfit(knowledge: Knowledge, leak: Diagnosis) -> str:
    return f" {knowledge.say('brief-unfit')}" if leak.conflicts else ""


def _by_standing(leak: Diagnosis) -> Mapping[Standing, list[CauseBelief]]:
    found: dict[Standing, list[CauseBelief]] = {key: [] for key in STANDINGS}
    for cause in leak.causes:
        if cause.cause != NOT_IN_THIS_LIST:
            found[standing(cause)].append(cause)
    return found


def _possible(knowledge: Knowledge, leak: Diagnosis) -> str:
    found = _by_standing(leak)
    parts = []
    for key in ("consistent", "not-tested", "open"):
        labels = _named(knowledge, [cause_label(knowledge, c.cause) for c in found[key]])
        if key == "open":
            labels.append(cause_label(knowledge, NOT_IN_THIS_LIST))
        if labels:
            parts.append(f"{knowledge.say(f'standing-{key}')}: {'; '.join(labels)}")
    causes = ". ".join(part[0].upper() + part[1:] for part in parts)
    return knowledge.say("still-possible", causes=causes)


def _not_consistent(knowledge: Knowledge, leak: Diagnosis) -> str:
    by_reason: dict[str, list[str]] = {}
    for cause in _by_standing(leak)["not-consistent"]:
        label = cause_label(knowledge, cause.cause)
        by_reason.setdefault(_reason(knowledge, cause), []).append(label)
    if not by_reason:
        return knowledge.say("not-consistent-nothing")
    said = [f"{'; '.join(labels)} ({why})" for why, labels in by_reason.items()]
    return knowledge.say("not-consistent", causes=". ".join(said))


def _reason(knowledge: Knowledge, cause: CauseBelief) -> str:
    """What speaks against it most."""
    if cause.ruled_out is not None:
        out = next((need.text for need in cause.needs if need.times == 0), cause.ruled_out)
        return out.rstrip(".")
    return knowledge.say("found-against", finding=cause.against[0].text)


def _until_then(knowledge: Knowledge, stops: Sequence[StopState]) -> str:
    say = knowledge.say
    raised = [stop for stop in stops if stop.state == "raised"]
    still_open = [stop for stop in stops if stop.state == "open"]
    if not stops:
        return say("until-then-nothing")
    parts = [
        say("until-then-do", stop=knowledge.stops[stop.stop].label, do=_sentence(stop.do))
        for stop in raised
    ]
    conditions = []
    if raised:
        releasing = dict.fromkeys(stop.released_by for stop in raised)
        conditions.append(say("until-released", roles=joined(knowledge, list(releasing))))
    if still_open:
        asked = [knowledge.stops[stop.stop].ask for stop in still_open]
        parts.append(say("until-then-answer", questions=_sentence(" ".join(asked))))
        conditions.append(say("until-answered"))
    keys = {key for stop in stops for key in stop.bars}
    barred = steps(knowledge, tuple(key for key in STEPS if key in keys))
    parts.append(say("until-then-do-not", until=both(knowledge, conditions), steps=barred))
    return say("until-then", orders=" ".join(parts))


def _sentence(text: str) -> str:
    text = text.strip()
    return text if text.endswith(("?", "!")) else f"{text.rstrip('.')}."


def _next_look(knowledge: Knowledge, leak: Diagnosis) -> str:
    if not leak.next:
        return knowledge.say("brief-no-look")
    look = leak.next[0]
    entry = knowledge.looks[look.look]
    said = knowledge.say("brief-next-look", look=entry.label, who=who(knowledge, entry.who))
    if look.bits < HARDLY:
        said += f" {knowledge.say('brief-look-hardly')}"
    if barring(knowledge, leak.stops, entry):
        said += f" {knowledge.say('brief-look-barred')}"
    return said


def _named(knowledge: Knowledge, labels: list[str]) -> list[str]:
    left = len(labels) - NAMED
    return labels if left <= 1 else [*labels[:NAMED], counted(knowledge, "others", left)]
