"""Past wet places that are like this one: what was done there, and whether it held."""

from collections.abc import Iterable, Mapping

import numpy as np

from advisor.assessment.similar_result import BothFound, SimilarPlace, SimilarRepair
from advisor.callout import Callout, Leak, resolve
from advisor.knowledge import Knowledge
from advisor.library.alike.findings import read_findings, say_findings
from advisor.library.alike.likeness import Alike, most_alike
from advisor.library.alike.telling import telling
from advisor.library.case import KeptCase, KeptFinding, KeptPlace
from advisor.library.repairs import spans
from advisor.library.scrub.banding import banded
from advisor.library.store.store import Library

NEAREST = 5


def similar_places(
    knowledge: Knowledge, library: Library, callout: Callout, leak: Leak, *, token: str = ""
) -> tuple[SimilarPlace, ...]:
    """The most alike first. token: of the callout itself, which is no answer to itself.

    Raises LibraryFailed where the library cannot be read.
    """
    known = banded(knowledge, resolve(callout, leak, knowledge.attributes))[0]
    # What is never kept of others is not asked of this one.
    findings = say_findings(knowledge, known)
    return places_like(knowledge, library, findings, token=token)


def places_like(
    knowledge: Knowledge,
    library: Library,
    findings: Mapping[str, KeptFinding],
    *,
    token: str = "",
) -> tuple[SimilarPlace, ...]:
    """token: of the case itself. The library is to be packed by this knowledge."""
    packed = library.packed()
    found = most_alike(
        knowledge,
        read_findings(knowledge, findings)[0],
        packed,
        library.names(),
        telling(knowledge),
        n=NEAREST,
        skip=np.flatnonzero(np.isin(packed.ids, library.ids_of(token))).tolist(),
    )
    ids = {one.row: int(packed.ids[one.row]) for one in found}
    where = library.places_of(list(ids.values()))
    told = []
    for one in found:
        case_token, number = where[ids[one.row]]
        case = library.show(case_token)
        place = next(place for place in case.places if place.place == number)
        told.append(_told(findings, case, place, one))
    return tuple(told)


def _told(
    findings: Mapping[str, KeptFinding], case: KeptCase, place: KeptPlace, one: Alike
) -> SimilarPlace:
    confirmed = place.confirmed
    return SimilarPlace(
        case=case.case,
        place=place.place,
        alike=one.alike,
        compared=one.compared,
        in_=_both(findings, place, one.in_),
        differs=_both(findings, place, one.differs),
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


def _both(
    findings: Mapping[str, KeptFinding], place: KeptPlace, keys: Iterable[str]
) -> tuple[BothFound, ...]:
    """What is compared is known of both: it has a value here and there."""
    return tuple(
        BothFound(
            attribute=key,
            here=findings[key].value or "",
            there=place.findings[key].value or "",
        )
        for key in keys
    )
