"""Past wet places that are like this one: what was done there, and whether it held."""

from collections.abc import Mapping

from advisor.assessment.similar_result import SimilarPlace, SimilarRepair
from advisor.callout import Callout, Leak, Resolved, resolve
from advisor.knowledge import Knowledge
from advisor.library.banding import banded
from advisor.library.case import KeptCase, KeptPlace
from advisor.library.findings import read_findings, say_findings
from advisor.library.likeness import Alike, most_alike
from advisor.library.repairs import spans
from advisor.library.store import Library
from advisor.library.telling import telling

NEAREST = 5


def similar_places(
    knowledge: Knowledge, library: Library, callout: Callout, leak: Leak, *, token: str = ""
) -> tuple[SimilarPlace, ...]:
    """The most alike first. token: of the callout itself, which is no answer to itself.

    Raises LibraryFailed where the library cannot be read.
    """
    known = banded(knowledge, resolve(callout, leak, knowledge.attributes))[0]
    # What is never kept of others is not asked of this one.
    facts = read_findings(knowledge, say_findings(knowledge, known))[0]
    return places_like(knowledge, library, facts, token=token, own=len(callout.leaks))


def places_like(
    knowledge: Knowledge,
    library: Library,
    facts: Mapping[str, Resolved],
    *,
    token: str = "",
    own: int = 0,
) -> tuple[SimilarPlace, ...]:
    """own: how many places of the case itself may be among them. The library is to be packed by
    this knowledge."""
    found = most_alike(
        knowledge,
        facts,
        library.packed(),
        library.names(),
        telling(knowledge),
        n=NEAREST + own,
    )
    ids = library.place_ids([one.row for one in found])
    where = library.places_of(list(ids.values()))
    told = []
    for one in found:
        case_token, number = where[ids[one.row]]
        if case_token == token:
            continue
        case = library.show(case_token)
        place = next(place for place in case.places if place.place == number)
        told.append(_told(case, place, one))
    return tuple(told[:NEAREST])


def _told(case: KeptCase, place: KeptPlace, one: Alike) -> SimilarPlace:
    confirmed = place.confirmed
    return SimilarPlace(
        case=case.case,
        place=place.place,
        alike=one.alike,
        compared=one.compared,
        in_=one.in_,
        differs=one.differs,
        kind=case.kind,
        quarter=case.quarter,
        status=place.status,
        cause=confirmed.cause if confirmed else None,
        confirmed_how=confirmed.how if confirmed else None,
        repairs=tuple(
            SimilarRepair(
                method=span.method,
                held="failed" if span.failed else "held" if span.held else "not-tested",
                days=span.failed or span.held or None,
            )
            for span in spans(place)
        ),
        invented=case.invented,
    )
