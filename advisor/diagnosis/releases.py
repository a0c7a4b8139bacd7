"""Stops that were released: by the role that can, and not found anew since."""

from collections.abc import Iterator, Sequence

from advisor.callout import Callout, Leak, Release
from advisor.callout.readings import effective
from advisor.diagnosis.result import ReleasedStop, StopState
from advisor.diagnosis.signs import Watch, answered_by
from advisor.knowledge import Knowledge
from advisor.terms import Problem, nearest


def still_standing(
    stops: Sequence[StopState], watch: Watch, callout: Callout, leak: Leak
) -> tuple[tuple[StopState, ...], tuple[ReleasedStop, ...]]:
    """The stops that still bar, and the releases that lifted the others.

    watch: what is so now. A sign that is there, and was looked at again after its release, stands
    anew.
    """
    knowledge, lifted = watch.knowledge, dict[str, Release]()
    for state in stops:
        for release in callout.releases:
            if not _lifts(release, state, leak):
                continue
            now = watch.is_true(f"stops {state.stop}")
            if not (now and _found_since(knowledge, release, callout, leak)):
                lifted[state.stop] = release
    return (
        tuple(state for state in stops if state.stop not in lifted),
        tuple(
            ReleasedStop(stop=stop, role=r.role, date=r.day.isoformat(), words=r.words)
            for stop, r in lifted.items()
        ),
    )


def idle_releases(knowledge: Knowledge, callout: Callout) -> Iterator[Problem]:
    """Releases that lift nothing because the stop is unknown or the role is another."""
    for release in callout.releases:
        stop = knowledge.stops.get(release.stop)
        if stop is None:
            told = f'a release names the stop "{release.stop}", which is not there'
            near = nearest(release.stop, knowledge.stops)
        elif not _is_role(release.role, stop.released_by):
            told, near = f"{stop.label}: not released by this role", None
        else:
            continue
        place = release.place
        yield Problem(
            message=told,
            file=place.file,
            line=place.line,
            column=place.column,
            key="releases",
            expected=None if stop is None else f"role: {stop.released_by}",
            nearest=near,
        )


def _lifts(release: Release, state: StopState, leak: Leak) -> bool:
    return (
        release.stop == state.stop
        and release.leak in (None, leak.key)
        and _is_role(release.role, state.released_by)
    )


def _is_role(role: str, released_by: str) -> bool:
    return _plain(role) == _plain(released_by)


def _plain(role: str) -> str:
    return " ".join(role.replace("-", " ").casefold().split())


def _found_since(knowledge: Knowledge, release: Release, callout: Callout, leak: Leak) -> bool:
    """Whether what the stop asks was looked at again after the release."""
    asked = answered_by(knowledge, release.stop)
    sources = [callout.structure, *(visit.findings for visit in callout.visits), leak.findings]
    return any(
        reading.day is not None and reading.day > release.day
        for findings in sources
        for key, finding in findings.items()
        if key in asked
        for reading in effective(finding.readings)
    )
