"""Callouts in, the result out."""

from collections.abc import Iterable, Sequence

from advisor.assessment.result import Assessment, LeakResult
from advisor.callout import Callout
from advisor.diagnosis import diagnose
from advisor.knowledge import Knowledge, open_knowledge
from advisor.terms import Problem
from advisor.version import __version__


def assess(callout: Callout, knowledge: Knowledge | None = None) -> Assessment:
    """The result for one callout. knowledge: None for the shipped one.

    Raises Faulty when the shipped knowledge cannot be read.
    """
    return assess_all([callout], knowledge or open_knowledge())


def assess_all(
    callouts: Iterable[Callout],
    knowledge: Knowledge,
    *,
    leak: str | None = None,
    problems: Sequence[Problem] = (),
) -> Assessment:
    """leak: only wet places of this key. problems: of the files that could not be read."""
    return Assessment(
        advisor=__version__,
        knowledge=knowledge.fingerprint,
        leaks=tuple(
            _leak_result(knowledge, callout, place.key)
            for callout in callouts
            for place in callout.leaks
            if leak in (None, place.key)
        ),
        problems=tuple(problems),
        remarks=knowledge.differences,
    )


def _leak_result(knowledge: Knowledge, callout: Callout, key: str) -> LeakResult:
    place = callout.leak(key)
    assert place is not None
    diagnosis = diagnose(knowledge, callout, place)
    return LeakResult(file=callout.file, leak=key, **vars(diagnosis))
