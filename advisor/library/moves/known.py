"""Whether all that a case from a file names is in the knowledge: a row may come from anywhere."""

import re
from collections.abc import Collection, Iterator
from typing import Final

from advisor.knowledge import Knowledge
from advisor.library.alike.findings import read_findings
from advisor.library.case import KeptCase, KeptPlace
from advisor.library.scrub.scrubbing import OTHER, ROLES
from advisor.library.scrub.shown import UNKNOWN
from advisor.terms import Problem, nearest

Named = tuple[str, str, Collection[str]]
"""What it is, its key, and what there is of that kind."""

_VERSION: Final = re.compile(r"[0-9a-z.+-]{1,40}")


def unknown_in(knowledge: Knowledge, case: KeptCase) -> Problem | None:
    """The first thing that the knowledge does not have; None where there is none."""
    kinds = {*knowledge.kinds, UNKNOWN}
    named: list[Named] = [("kind of structure", case.kind, kinds)]
    for place in case.places:
        named += [*_answered(knowledge, place), *_done(knowledge, place), *_seen(knowledge, place)]
    for what, key, known in named:
        if key not in known:
            return Problem(
                message=f'there is no {what} "{key}"',
                key=case.case,
                expected=f"a {what} that is known here",
                nearest=nearest(key, known),
            )
    for place in case.places:
        if problems := read_findings(knowledge, place.findings)[1]:
            return problems[0]
        if place.shown and not all(
            _VERSION.fullmatch(text) for text in (place.shown.advisor, place.shown.knowledge)
        ):
            return Problem(message="no version of an answer", key=case.case, expected="0.1.0")
    return None


def _answered(knowledge: Knowledge, place: KeptPlace) -> Iterator[Named]:
    """What was answered and confirmed."""
    shown, confirmed = place.shown, place.confirmed
    for cause in shown.causes if shown else ():
        yield "cause", cause, knowledge.causes
    for method in shown.methods if shown else ():
        yield "method", method, knowledge.methods
    if place.supported is not None:
        yield "cause", place.supported, knowledge.causes
    if confirmed is None:
        return
    yield "cause", confirmed.cause, knowledge.causes
    for key in confirmed.contributors:
        yield "contributor or cause", key, {*knowledge.contributors, *knowledge.causes}
    for role in (confirmed.role, confirmed.accepted_by, *confirmed.present):
        yield "role", role or OTHER, ROLES


def _done(knowledge: Knowledge, place: KeptPlace) -> Iterator[Named]:
    """What was agreed and done."""
    agreed = () if place.agreed is None else (place.agreed,)
    for method in (*agreed, *place.secured, *(one.method for one in place.done)):
        yield "method", method, knowledge.methods
    counted = {*knowledge.quantities, *knowledge.materials}
    for key in (key for one in place.done for key in one.quantities):
        yield "quantity or material", key, counted


def _seen(knowledge: Knowledge, place: KeptPlace) -> Iterator[Named]:
    """What was seen later."""
    for look in place.looked:
        if look.proof is not None:
            yield "proof", look.proof, knowledge.proofs
        for key in look.readings:
            yield "attribute", key.partition(".")[0], knowledge.attributes
