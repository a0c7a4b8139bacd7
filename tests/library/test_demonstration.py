"""The demonstration library: invented, made anew the same, from a world that is not the book."""

from collections import Counter
from pathlib import Path
from typing import get_args

import numpy as np
import pytest
from scipy.stats import chisquare

from advisor import open_knowledge
from advisor.library.alike.findings import read_findings
from advisor.library.case import KeptCase, KeptPlace, Origin, Status
from advisor.library.moves.lines import from_line, to_line
from advisor.library.repairs import holds, spans
from advisor.library.store.adding import Added
from advisor.library.store.store import open_library
from advisor.repair.holding import rates
from advisor.terms import Faulty
from cases.demonstration.make_histories import HISTORIES, histories
from cases.demonstration.world import cause_rates, law_of, read_world

KNOWLEDGE = open_knowledge()
WORLD = read_world()
LINES = HISTORIES.read_text(encoding="utf-8").splitlines()
CASES = [from_line(line) for line in LINES]
PLACES = [place for case in CASES for place in case.places]
ANSWERED = 60
MAKE_ANEW = "the knowledge has changed: python -m cases.demonstration.make_histories"


@pytest.fixture(scope="module")
def again() -> list[KeptCase]:
    return list(histories(WORLD, KNOWLEDGE, answered=ANSWERED))


def without_answers(case: KeptCase) -> KeptCase:
    places = tuple(place.model_copy(update={"shown": None}) for place in case.places)
    return case.model_copy(update={"places": places})


def test_the_script_makes_the_same_cases_again(again: list[KeptCase]) -> None:
    made = [to_line(without_answers(case)) for case in again]
    assert made == [to_line(without_answers(case)) for case in CASES], MAKE_ANEW


def test_the_advisor_still_says_what_was_shown(again: list[KeptCase]) -> None:
    compared = 0
    for new, kept in zip(again[:ANSWERED], CASES[:ANSWERED], strict=True):
        for one, other in zip(new.places, kept.places, strict=True):
            assert (one.shown is None) == (other.shown is None)
            if one.shown is None or other.shown is None:
                continue
            compared += 1
            for cause in one.shown.causes.keys() | other.shown.causes.keys():
                now, then = one.shown.causes.get(cause, 0), other.shown.causes.get(cause, 0)
                assert now == pytest.approx(then, abs=0.02), MAKE_ANEW
    assert compared > ANSWERED / 3


def test_there_are_enough_of_them_in_little_room() -> None:
    assert len(CASES) == WORLD.cases >= 300
    assert len({case.case for case in CASES}) == len(CASES)
    assert HISTORIES.stat().st_size < 3_000_000
    assert [to_line(case) for case in CASES] == LINES


def test_all_of_it_is_marked_as_invented() -> None:
    assert WORLD.invented
    assert all(case.invented for case in CASES)
    assert all('"invented":true' in line for line in LINES)
    for file in ("README.md", "world.yaml"):
        assert "invented" in HISTORIES.with_name(file).read_text(encoding="utf-8")[:300].lower()


def test_the_days_and_sites_are_as_they_should_be() -> None:
    quarters = [case.quarter or "" for case in CASES]
    assert min(quarters) >= "2019-Q1"
    assert max(quarters) <= "2031-Q4"
    sites = Counter(case.labels["site"] for case in CASES)
    assert sum(count > 1 for count in sites.values()) > 30
    by_site = {(case.labels["site"], case.kind) for case in CASES}
    assert len(by_site) == len(sites), "a site has one kind of structure"
    assert Counter(len(case.places) for case in CASES)[1] > 200
    assert max(len(case.places) for case in CASES) == 3


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.case[:8])
def test_a_case_is_good_under_the_present_knowledge(case: KeptCase) -> None:
    assert case.kind in {choice.key for choice in KNOWLEDGE.attributes["kind"].choices}
    for place in case.places:
        facts, problems = read_findings(KNOWLEDGE, place.findings)
        assert not problems
        assert facts
        assert causes_of(place) <= KNOWLEDGE.causes.keys()
        assert methods_of(place) <= KNOWLEDGE.methods.keys()
        amounts = {key for done in place.done for key in done.quantities}
        assert amounts <= KNOWLEDGE.materials.keys() | KNOWLEDGE.quantities.keys()
        proofs = {look.proof for look in place.looked if look.proof}
        assert proofs <= KNOWLEDGE.proofs.keys()
        if place.confirmed:
            assert set(place.confirmed.contributors) <= KNOWLEDGE.contributors.keys()


def causes_of(place: KeptPlace) -> set[str]:
    told = {place.supported, place.confirmed.cause if place.confirmed else None} - {None}
    return {str(key) for key in told} | set(place.shown.causes if place.shown else ())


def methods_of(place: KeptPlace) -> set[str]:
    told = {place.agreed, place.shown.advised if place.shown else None} - {None}
    done = {done.method for done in place.done}
    shown = set(place.shown.methods) if place.shown else set()
    return {str(key) for key in told} | done | shown | set(place.secured)


def test_the_keys_of_the_world_are_those_of_the_knowledge() -> None:
    families = {family.key: family for family in KNOWLEDGE.model.families}
    paths = KNOWLEDGE.causes.keys() | KNOWLEDGE.groups.keys()
    assert WORLD.causes.keys() <= KNOWLEDGE.causes.keys()
    assert WORLD.does.keys() <= paths
    assert KNOWLEDGE.groups.keys() - WORLD.does.keys() == set(), "every path is worked on somehow"
    assert {key for shares in WORLD.does.values() for key in shares} <= KNOWLEDGE.methods.keys()
    assert WORLD.fails.keys() <= KNOWLEDGE.methods.keys()
    assert {key for laws in WORLD.fails.values() for key in laws} <= paths
    assert WORLD.confirmed.contributors.keys() <= KNOWLEDGE.contributors.keys()
    for one in WORLD.findings.differences:
        assert set(one.readings) == set(families[one.family].readings)
        assert one.cause in KNOWLEDGE.causes
        assert sum(one.readings.values()) == pytest.approx(1)


def test_statuses_and_origins_are_many() -> None:
    statuses = {place.status for place in PLACES}
    assert statuses <= set(get_args(Status))
    assert len(statuses) >= 8
    assert {case.origin for case in CASES} == set(get_args(Origin))
    assert not any(p.shown for case in CASES if case.origin != "own" for p in case.places)
    confirmed = sum(place.confirmed is not None for place in PLACES) / len(PLACES)
    assert 0.3 < confirmed < 0.8


def test_many_repairs_are_never_seen_to_fail() -> None:
    all_spans = [span for place in PLACES for span in spans(place)]
    assert len(all_spans) > 250
    censored = sum(span.failed is None for span in all_spans) / len(all_spans)
    assert 0.2 < censored < 0.8
    untested = [look for p in PLACES for look in p.looked if holds(look) is None]
    assert len(untested) > 50, "dry without the water up"


def test_the_causes_are_not_those_of_the_book() -> None:
    """Pearson's chi-square of the confirmed causes against the shipped rates of the same kinds,
    causes that are hardly expected taken together."""
    choices = [choice.key for choice in KNOWLEDGE.attributes["kind"].choices]
    rows = [choices.index(case.kind) for case in CASES for p in case.places if p.confirmed]
    expected = KNOWLEDGE.engine.calculus.base_rates[rows].sum(axis=0)
    counts = Counter(p.confirmed.cause for p in PLACES if p.confirmed)
    observed = np.array([counts[cause] for cause in KNOWLEDGE.causes])
    rare = expected < 5
    found = np.append(observed[~rare], observed[rare].sum())
    wanted = np.append(expected[~rare], expected[rare].sum())
    assert chisquare(found, wanted).pvalue < 0.001


def test_how_long_repairs_hold_is_not_what_the_book_says() -> None:
    shipped = rates(KNOWLEDGE)
    methods, causes = list(KNOWLEDGE.methods), list(KNOWLEDGE.causes)
    other = {
        method
        for method, laws in WORLD.fails.items()
        for cause in KNOWLEDGE.causes
        if {cause, KNOWLEDGE.causes[cause].group} & laws.keys()
        if (book := shipped[methods.index(method), causes.index(cause)]) > 0
        if abs(law_of(WORLD, KNOWLEDGE, method, cause).holding(24) - book) > 0.2
    }
    assert len(other) >= 3


@pytest.mark.parametrize("kind", WORLD.kinds)
def test_the_rates_of_a_kind_sum_to_one(kind: str) -> None:
    here = cause_rates(WORLD, KNOWLEDGE, kind)
    assert sum(here.values()) == pytest.approx(1)
    choices = [choice.key for choice in KNOWLEDGE.attributes["kind"].choices]
    shipped = KNOWLEDGE.engine.calculus.base_rates[choices.index(kind)]
    book = dict(zip(KNOWLEDGE.causes, shipped, strict=True))
    twice = [cause for cause in WORLD.causes if here[cause] >= 1.9 * book[cause] > 0]
    assert len(twice) >= 1


def test_half_have_failed_at_the_median() -> None:
    law = law_of(WORLD, KNOWLEDGE, *next((m, c) for m, laws in WORLD.fails.items() for c in laws))
    assert law.holding(law.median) == pytest.approx(0.5)
    random = np.random.default_rng(1)
    drawn = [law.draw(random) for _ in range(4000)]
    assert np.mean(np.array(drawn) > law.median) == pytest.approx(0.5, abs=0.03)


def seen_to_fail(method: str) -> float:
    """The share of the repairs by a method that were seen to fail."""
    of_it = [span for place in PLACES for span in spans(place) if span.method == method]
    return sum(span.failed is not None for span in of_it) / len(of_it)


def test_the_histories_show_how_long_the_world_lets_repairs_hold() -> None:
    laws = {
        method: [law.holding(24) for law in WORLD.fails[method].values()] for method in WORLD.fails
    }
    done = Counter(done.method for place in PLACES for done in place.done)
    often = [method for method, count in done.items() if count >= 12]
    long = [method for method in often if min(laws[method]) > 0.75]
    short = [method for method in often if max(laws[method]) < 0.5]
    assert len(long) >= 2
    assert len(short) >= 2
    assert max(map(seen_to_fail, long)) < min(map(seen_to_fail, short))


def test_a_demonstration_library_takes_them_and_no_other(tmp_path: Path) -> None:
    with open_library(tmp_path / "demonstration.sqlite", invented=True) as library:
        assert library.add(CASES, lambda _: b"") == Added(new=len(CASES))
    with open_library(tmp_path / "own.sqlite") as library, pytest.raises(Faulty):
        library.add(CASES[:1], lambda _: b"")
