"""Whether what a log names is in the knowledge: causes, methods, proofs, quantities, attributes."""

from collections.abc import Collection, Iterable, Iterator

from advisor.callout import Callout
from advisor.callout.log_record import (
    Agreed,
    Confirmed,
    Done,
    LogEntry,
    Looked,
    Secured,
    Supported,
)
from advisor.knowledge import Knowledge
from advisor.terms import Faulty, Place, Problem, Scalar, nearest, problem_at
from advisor.terms.value import read_value


def log_problems(knowledge: Knowledge, callout: Callout) -> tuple[Problem, ...]:
    """Every key of the log that the knowledge does not have, and every reading it cannot read."""
    return tuple(problem for entry in callout.log for problem in _of(knowledge, entry))


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
