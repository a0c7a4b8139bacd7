"""Cases whose keys belong to the shipped knowledge, any there can be, for hypothesis."""

from collections.abc import Sequence
from typing import get_args

from hypothesis import strategies as st

from advisor import open_knowledge
from advisor.callout import Resolved
from advisor.callout.log_record import HELD, WITHOUT
from advisor.library import case as kept
from advisor.library.alike.findings import say_findings
from advisor.library.scrub.banding import banded
from advisor.terms import Range

KNOWLEDGE = open_knowledge()
CHOICES = [a for a in KNOWLEDGE.attributes.values() if a.kind in ("choice", "yes-no")]
NUMBERS = [a for a in KNOWLEDGE.attributes.values() if a.kind == "number" and a.lowest >= 0]
SEVERAL = [a for a in KNOWLEDGE.attributes.values() if a.kind == "several"]
KINDS = [choice.key for choice in KNOWLEDGE.attributes["kind"].choices]
DAYS = st.integers(-400, 4000)


def keys(known: Sequence[str]) -> st.SearchStrategy[str]:
    return st.sampled_from(list(known))


@st.composite
def findings(draw: st.DrawFn) -> dict[str, kept.KeptFinding]:
    facts = {}
    for attribute in draw(st.lists(st.sampled_from(CHOICES), max_size=3)):
        mask = draw(st.integers(1, attribute.every_choice))
        facts[attribute.key] = Resolved(mask, sure=draw(st.booleans()))
    for attribute in draw(st.lists(st.sampled_from(NUMBERS), max_size=3)):
        value = draw(st.integers(0, 1000)) / 1000 * min(attribute.highest - attribute.lowest, 1000)
        number = Range.point(round(attribute.lowest + value, 3))
        facts[attribute.key] = draw(
            st.sampled_from([Resolved(number), Resolved(not_applicable=True)])
        )
    for attribute in draw(st.lists(st.sampled_from(SEVERAL), max_size=2)):
        choice = draw(st.sampled_from(attribute.choices))
        facts[f"{attribute.key}.{choice.key}"] = Resolved(draw(st.sampled_from([1, 2])))
    return say_findings(KNOWLEDGE, banded(KNOWLEDGE, facts)[0])


LOOKED = st.builds(
    kept.Looked,
    day=DAYS,
    state=keys(get_args(kept.State)),
    within=st.sampled_from([None, True, False]),
    water_up=keys(get_args(kept.WaterUp)),
    water_above=st.none() | st.just(0.5),
)
DONE = st.builds(kept.Done, day=DAYS, method=keys(list(KNOWLEDGE.methods)))
CONFIRMED = st.builds(
    kept.Confirmed,
    day=DAYS,
    cause=keys(list(KNOWLEDGE.causes)),
    contributors=st.lists(keys(list(KNOWLEDGE.contributors)), max_size=3, unique=True).map(tuple),
    how=keys(get_args(kept.How)),
    role=st.none() | st.just("expert"),
)
SHOWN = st.builds(
    kept.Shown,
    day=DAYS,
    advisor=st.just("1"),
    knowledge=st.just("k"),
    causes=st.dictionaries(keys(list(KNOWLEDGE.causes)), st.floats(0, 1), max_size=3),
)
PLACE = st.builds(
    kept.KeptPlace,
    place=st.just(1),
    status=keys(get_args(kept.Status)),
    reopened=st.booleans(),
    findings=findings(),
    shown=st.none() | SHOWN,
    done=st.lists(DONE, max_size=3).map(tuple),
    confirmed=st.none() | CONFIRMED,
    looked=st.lists(LOOKED, max_size=4).map(tuple),
    closed=st.none() | st.builds(kept.Closed, day=DAYS, because=keys((HELD, *WITHOUT))),
    note=st.none() | st.just("a note"),
)


@st.composite
def cases(draw: st.DrawFn) -> kept.KeptCase:
    places = draw(st.lists(PLACE, min_size=1, max_size=3))
    return kept.KeptCase(
        case=draw(st.text("0123456789abcdef", min_size=32, max_size=32)),
        origin=draw(keys(get_args(kept.Origin))),
        invented=draw(st.booleans()),
        quarter=draw(st.none() | st.just("2031-Q2")),
        kind=draw(keys((*KINDS, "unknown"))),
        visits=draw(st.integers(0, 1000)),
        labels={"crew": "crew-1234abcd", "site": "site-1234abcd"},
        places=tuple(p.model_copy(update={"place": n}) for n, p in enumerate(places, 1)),
    )


def carried(case: kept.KeptCase) -> kept.KeptCase:
    """As far as CSV carries it."""
    return case.model_copy(update={"labels": {}, "places": tuple(map(_place, case.places))})


def _place(place: kept.KeptPlace) -> kept.KeptPlace:
    c = place.confirmed
    return kept.KeptPlace(
        place=place.place,
        status=place.status,
        reopened=place.reopened,
        findings=place.findings,
        done=tuple(
            kept.Done(day=one.day, method=one.method)
            for one in sorted(place.done, key=lambda one: one.day)
        ),
        confirmed=c
        and kept.Confirmed(day=c.day, cause=c.cause, contributors=c.contributors, how=c.how),
        looked=tuple(
            kept.Looked(day=one.day, state=one.state, within=one.within, water_up=one.water_up)
            for one in sorted(place.looked, key=lambda one: one.day)
        ),
        closed=place.closed,
    )
