"""Whether what a log names is in the knowledge: causes, methods, proofs, quantities, attributes."""

from collections.abc import Collection, Iterable, Iterator

from advisor.callout import Callout
from advisor.callout.log_record import (
    Agreed,
    Closed,
    Confirmed,
    Done,
    LogEntry,
    Looked,
    Secured,
    Supported,
)
from advisor.callout.status import in_order
from advisor.knowledge import NOT_IN_THIS_LIST, Knowledge
from advisor.terms import Faulty, Place, Problem, Scalar, nearest, problem_at, say_number
from advisor.terms.value import read_value


def log_problems(knowledge: Knowledge, callout: Callout) -> tuple[Problem, ...]:
    """Every key of the log that the knowledge does not have, and every reading it cannot read."""
    return tuple(problem for entry in callout.log for problem in _of(knowledge, entry))


def entry_problems(callout: Callout, entry: LogEntry) -> tuple[Problem, ...]:
    """What is wrong with a look that is logged now: it is before the repair, or says two things
    of the water."""
    if not isinstance(entry, Looked):
        return ()
    earlier = [one for one in in_order(callout.log, entry.leak) if one.day <= entry.day]
    done = [one for one in earlier if isinstance(one, Done)]
    if not any(isinstance(one, Secured | Agreed | Done | Closed) for one in earlier):
        return (
            Problem(
                message=f"no repair is logged up to {entry.day}",
                key="looked",
                expected="done=METHOD first; what is seen before a repair is a visit of the file",
            ),
        )
    before = done[-1].water_height if done else None
    now = entry.water_height
    if entry.water_up == "yes" and before is not None and now is not None and now < before:
        told = f"{say_number(now)} m is lower than before the repair, {say_number(before)} m"
        return (Problem(message=told, key="water-height", expected="water-up=no"),)
    return ()


def _of(knowledge: Knowledge, entry: LogEntry) -> Iterator[Problem]:
    place = entry.place
    match entry:
        case Secured() | Agreed():
            yield from _unknown([entry.method], knowledge.methods, "method", place)
        case Done():
            yield from _unknown([entry.method], knowledge.methods, "method", place)
            counted = {**knowledge.quantities, **knowledge.materials}
            yield from _unknown(entry.quantities, counted, "quantity or material", place)
        case Confirmed():
            if entry.cause == NOT_IN_THIS_LIST and not entry.words:
                told, expected = "what it was is not said", "words: what it was; no names"
                yield problem_at(place, told, key="words", expected=expected)
            yield from _unknown([entry.cause], knowledge.causes, "cause", place)
            known = {**knowledge.contributors, **knowledge.causes}
            yield from _unknown(entry.contributors, known, "contributor or cause", place)
        case Supported():
            yield from _unknown([entry.cause], knowledge.causes, "cause", place)
        case Looked():
            named = [entry.proof] if entry.proof else []
            yield from _unknown(named, knowledge.proofs, "proof", place)
            yield from _unknown(entry.readings, knowledge.attributes, "attribute", place)
            yield from _unreadable(knowledge, entry)


def _unknown(
    keys: Iterable[str], known: Collection[str], what: str, place: Place
) -> Iterator[Problem]:
    for key in keys:
        if key not in known:
            yield problem_at(
                place,
                f'there is no {what} "{key}"',
                key="log",
                expected=f"a {what} that `advisor knowledge list` shows",
                nearest=nearest(key, known),
            )


def _unreadable(knowledge: Knowledge, entry: Looked) -> Iterator[Problem]:
    for key, written in entry.readings.items():
        attribute = knowledge.attributes.get(key)
        if attribute is None:
            continue
        try:
            read_value(Scalar(written, False, False, entry.place), attribute)
        except Faulty as faulty:
            yield from faulty.problems
