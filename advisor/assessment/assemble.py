"""Callouts in, the result out."""

from collections.abc import Iterable, Iterator, Sequence

from advisor.assessment.result import Assessment, LeakResult
from advisor.callout import Callout, Leak, resolve
from advisor.diagnosis import check_words, diagnose, failing, place_of
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
    """Numbers whose inputs are known, but whose formula does not hold; one line a reason."""
    found = place_of(knowledge, resolve(callout, place, knowledge.attributes))
    unheld: dict[str, list[str]] = {}
    for key, way in found.ways.items():
        if not found.is_known(key):
            reasons = check_words(knowledge, failing(found, way), "impossible", "outside")
            why = " ".join(reasons) or knowledge.say("limit-of-a-range")
            unheld.setdefault(why, []).append(key)
    for why, keys in unheld.items():
        facts = ", ".join(knowledge.attributes[key].label for key in keys)
        said = knowledge.say("outside-its-formula", leak=place.key, facts=facts, why=why)
        yield Problem(message=said, file=callout.file, key=keys[0])
