"""Callouts in, the result out."""

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from advisor.assessment.result import Assessment, LeakResult
from advisor.callout import Callout, Leak, resolve
from advisor.diagnosis import diagnose
from advisor.knowledge import Knowledge, open_knowledge
from advisor.terms import Problem, Range
from advisor.version import __version__
from advisor.water import WORKERS


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
    wanted = [
        (callout, place)
        for callout in callouts
        for place in callout.leaks
        if leak in (None, place.key)
    ]
    return Assessment(
        advisor=__version__,
        knowledge=knowledge.fingerprint,
        leaks=tuple(
            LeakResult(
                file=callout.file, leak=place.key, **vars(diagnose(knowledge, callout, place))
            )
            for callout, place in wanted
        ),
        problems=tuple(problems),
        remarks=(
            *knowledge.differences,
            *(
                remark
                for callout, place in wanted
                for remark in _invalid(knowledge, callout, place)
            ),
        ),
    )


def _invalid(knowledge: Knowledge, callout: Callout, place: Leak) -> Iterator[Problem]:
    """Worked-out facts whose inputs are known, but where the formula does not hold."""
    facts = resolve(callout, place, knowledge.attributes)
    for worked in knowledge.worked_out:
        inputs = [facts[key].value for key in worked.inputs if key in facts]
        ranges = [(np.array([v.lo]), np.array([v.hi])) for v in inputs if isinstance(v, Range)]
        if len(ranges) == len(worked.inputs) and worked.attribute not in facts:
            ends = WORKERS[worked.function].work(tuple(ranges))
            if np.isnan(ends).any():
                yield Problem(
                    message=knowledge.say(
                        "outside-its-formula", leak=place.key, inputs=", ".join(worked.inputs)
                    ),
                    file=callout.file,
                    key=worked.attribute,
                )
