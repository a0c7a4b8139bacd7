"""Callouts in, the result out."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from advisor.assessment.result import Assessment, LeakResult
from advisor.assessment.similar_result import SimilarPlace
from advisor.callout import Callout, Leak
from advisor.diagnosis import Place, examine, idle_releases, unheld
from advisor.knowledge import Knowledge, open_knowledge
from advisor.repair import repair
from advisor.terms import Problem
from advisor.version import __version__

Like = Callable[[Callout, Leak], tuple[SimilarPlace, ...]]


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
    like: Like | None = None,
) -> Assessment:
    """leak: only wet places of this key. problems: of the files that could not be read.

    like: finds the past places that are like one; None where nobody asked for them.
    """
    wanted = [
        (callout, place)
        for callout in callouts
        for place in callout.leaks
        if leak in (None, place.key)
    ]
    found = [(callout, place.key, *examine(knowledge, callout, place)) for callout, place in wanted]
    repairs = [repair(place, diagnosis) for _, _, diagnosis, place in found]
    return Assessment(
        advisor=__version__,
        knowledge=knowledge.fingerprint,
        leaks=tuple(
            LeakResult(
                file=callout.file,
                leak=place.key,
                methods=methods,
                plan=plan,
                similar=None if like is None else like(callout, place),
                **vars(diagnosis),
            )
            for (callout, place), (_, _, diagnosis, _), (methods, plan) in zip(
                wanted, found, repairs, strict=True
            )
        ),
        problems=tuple(problems),
        remarks=(
            *knowledge.differences,
            *(
                p
                for callout in {id(c): c for c, *_ in found}.values()
                for p in idle_releases(knowledge, callout)
            ),
            *(
                remark
                for callout, key, _, place in found
                for remark in _invalid(place, key, callout.file)
            ),
        ),
    )


def _invalid(place: Place, leak: str, file: str) -> Iterator[Problem]:
    """Numbers whose inputs are known, but whose formula does not hold; one line a reason."""
    knowledge, by_reason = place.knowledge, dict[str, list[str]]()
    for key, way in place.ways.items():
        if not place.is_known(key):
            by_reason.setdefault(" ".join(unheld(place, way)), []).append(key)
    for why, keys in by_reason.items():
        facts = ", ".join(knowledge.attributes[key].label for key in keys)
        said = knowledge.say("outside-its-formula", leak=leak, facts=facts, why=why)
        yield Problem(message=said, file=file, key=keys[0])
