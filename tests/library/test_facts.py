"""What the library tells, counted: by hand on small ones, by what must hold on made ones."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from advisor import open_knowledge
from advisor.assessment import to_json
from advisor.library.case import KeptCase
from advisor.library.facts.counting import Count
from advisor.library.facts.facts import LibraryFacts, facts_of
from advisor.library.facts.holding_facts import LEAST_SITES
from advisor.library.facts.standing import Standing
from advisor.library.store.columns import Columns, Words
from tests.library.kept_places import (
    CRACK,
    DEW,
    FOAM,
    GEL,
    JOINT,
    columns_of,
    kept_case,
    kept_place,
)
from tests.library.made_cases import made_case
from tests.library.made_columns import made_columns

KNOWLEDGE = open_knowledge()
ON_JOINT, ON_CRACK, NOT_THROUGH = (KNOWLEDGE.causes[c].group for c in (JOINT, CRACK, DEW))


def told(columns: Columns) -> LibraryFacts:
    return facts_of(KNOWLEDGE, columns)


def count(places: int, cases: int) -> Count:
    return Count(places=places, cases=cases)


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> LibraryFacts:
    """Four cases with six wet places, counted by hand below."""
    first = {JOINT: 0.7, CRACK: 0.2, DEW: 0.1}
    cases = [
        kept_case(
            1,
            kept_place(1, status="closed", cause=JOINT, closed=(100, "held"), shown=first),
            kept_place(2, status="closed", closed=(200, "within-the-agreed-class"), shown=first),
            kept_place(3, cause=DEW, shown=first),
            quarter="2031-Q3",
            visits=4,
        ),
        kept_case(2, kept_place(status="reopened", reopened=True, shown={CRACK: 0.6, DEW: 0.4})),
        kept_case(3, kept_place(status="handed-over"), kind="tank", quarter=None, visits=0),
        kept_case(
            4,
            kept_place(status="closed", closed=(400, "not-through-the-structure")),
            kind="tank",
            origin="remembered",
            visits=1,
        ),
    ]
    return told(columns_of(cases, tmp_path_factory.mktemp("small")))


def test_all_are_counted_in_places_and_in_cases(small: LibraryFacts) -> None:
    whole = small.standing.all
    assert whole.all == count(6, 4)
    assert whole.confirmed == count(2, 1)
    assert whole.open == count(2, 2)
    assert whole.closed == count(3, 2)
    assert whole.handed_over == count(1, 1)
    assert whole.reopened == count(1, 1)
    assert whole.not_through == count(2, 2)
    assert whole.within_class == count(1, 1)
    assert whole.never_confirmed == count(2, 2)
    assert whole.oldest_open == "2031-Q2"
    days, visits = whole.days_to_close, whole.visits_a_case
    assert days is not None
    assert (days.lower, days.median, days.upper, days.of) == (150, 200, 300, 3)
    assert visits is not None
    assert (visits.median, visits.of) == (2, 3)


def test_a_place_stands_under_its_confirmed_cause_else_under_the_first_one_shown(
    small: LibraryFacts,
) -> None:
    by_path = {one.key: one for one in small.standing.by_path}
    assert {key: one.all for key, one in by_path.items()} == {
        ON_JOINT: count(2, 1),
        ON_CRACK: count(1, 1),
        NOT_THROUGH: count(1, 1),
        None: count(2, 2),
    }
    assert by_path[ON_JOINT].confirmed == count(1, 1)
    assert by_path[ON_CRACK].confirmed == count(0, 0)
    assert by_path[ON_CRACK].oldest_open == "2031-Q2"
    assert by_path[NOT_THROUGH].oldest_open == "2031-Q3"
    assert by_path[ON_JOINT].oldest_open is None
    assert {one.key: one.all.places for one in small.standing.by_kind} == {"basement": 4, "tank": 2}


def test_first_beliefs_are_counted_over_confirmed_places_of_the_own_history(
    small: LibraryFacts,
) -> None:
    first = small.first_beliefs
    assert (first.places, first.cases, first.unconfirmed) == (2, 1, 2)
    assert (first.top_1.right, first.top_1.of) == (1, 2)
    assert (first.top_3.right, first.top_3.of) == (2, 2)
    assert [(one.said, one.right, one.cases) for one in first.bins] == [(0.7, 0.5, 2)]
    assert (first.calibration, first.says) == (None, None)


def test_only_with_300_cases_anything_is_said_of_the_calibration(tmp_path: Path) -> None:
    cases = [
        kept_case(number, kept_place(cause=JOINT, shown={JOINT: 0.9, CRACK: 0.1}))
        for number in range(300)
    ]
    assert told(columns_of(cases[:299], tmp_path)).first_beliefs.says is None
    first = told(columns_of(cases, tmp_path)).first_beliefs
    assert first.says == "too-unsure"
    assert first.calibration is not None
    assert first.calibration.error == pytest.approx(0.1)
    assert first.calibration.low == pytest.approx(0.1)


def test_what_was_confirmed_and_never_thought_of_is_a_miss(tmp_path: Path) -> None:
    case = kept_case(1, kept_place(cause=DEW, shown={JOINT: 0.9, CRACK: 0.1}))
    first = told(columns_of([case], tmp_path)).first_beliefs
    assert (first.top_1.right, first.top_3.right, first.top_3.of) == (0, 0, 1)


def repaired(number: int, looks: dict[int, bool], *, site: int, method: str = GEL) -> KeptCase:
    return kept_case(number, kept_place(cause=JOINT, repairs={10: method}, looks=looks), site=site)


def test_what_held_is_told_by_method_and_by_path(tmp_path: Path) -> None:
    """Six repairs at six sites, tight until day 400 but for one, which failed by day 200; one
    more was never looked at."""
    cases = [repaired(n, {100: True, 410: True}, site=n) for n in range(5)]
    cases += [repaired(5, {100: True, 210: False}, site=5), repaired(6, {}, site=6)]
    cases += [repaired(7, {100: True}, site=7, method=FOAM)]
    held = told(columns_of(cases, tmp_path)).held
    assert (held.repairs, held.silent) == (8, 1)
    [gel] = held.by_method
    assert (gel.method, gel.repairs, gel.silent, gel.sites) == (GEL, 7, 1, 6)
    assert [one.share for one in gel.kaplan_meier] == pytest.approx([1, 5 / 6, 5 / 6])
    assert [one.at_risk for one in gel.kaplan_meier] == [6, 5, 0]
    assert [one.few for one in gel.kaplan_meier] == [False, False, True]
    assert [one.share for one in gel.interval_censored][1] == pytest.approx(5 / 6)
    [on_joint] = held.by_method_and_path
    assert (on_joint.path, on_joint.confirmed, on_joint.weight) == (ON_JOINT, 7, 6.0)
    assert (held.methods_not_shown.groups, held.methods_not_shown.repairs) == (1, 1)
    assert (held.not_shown.groups, held.not_shown.repairs) == (1, 1)
    assert held.unlike == ()


def test_five_repairs_at_four_sites_are_not_shown(tmp_path: Path) -> None:
    cases = [repaired(n, {100: True}, site=n % 4) for n in range(5)]
    held = told(columns_of(cases, tmp_path)).held
    assert held.by_method == held.by_method_and_path == ()
    assert (held.not_shown.groups, held.not_shown.repairs) == (1, 5)


def test_two_methods_are_compared_where_both_have_five_sites(tmp_path: Path) -> None:
    gel = [repaired(n, {100: True, 410: True}, site=n) for n in range(8)]
    foam = [repaired(n, {50: False}, site=n, method=FOAM) for n in range(10, 16)]
    held = told(columns_of([*gel, *foam], tmp_path)).held
    [unlike] = held.unlike
    assert (unlike.path, unlike.methods, unlike.repairs) == (ON_JOINT, (GEL, FOAM), (8, 6))
    assert unlike.p < 0.001
    assert told(columns_of([*gel, *foam[:4]], tmp_path)).held.unlike == ()


def test_what_is_told_from_memory_weighs_less(tmp_path: Path) -> None:
    place = kept_place(cause=JOINT, repairs={10: GEL}, looks={100: True})
    cases = [kept_case(n, place, origin="remembered") for n in range(8)]
    [gel] = told(columns_of(cases, tmp_path)).held.by_method
    assert gel.weight == 8 * KNOWLEDGE.weights.history["remembered"]


def test_an_empty_library_is_counted_too(tmp_path: Path) -> None:
    facts = told(columns_of([], tmp_path))
    assert facts.standing.all.all == count(0, 0)
    assert not any((facts.standing.by_kind, facts.held.by_method, facts.causes))
    assert facts.first_beliefs.top_1.share is None


def rows(facts: LibraryFacts) -> list[tuple[Standing, ...]]:
    return [facts.standing.by_path, facts.standing.by_water, facts.standing.by_kind]


@pytest.mark.parametrize("places", [1, 37, 1500])
def test_parts_add_up_to_the_whole(places: int) -> None:
    columns = made_columns(KNOWLEDGE, places, seed=places)
    facts = told(columns)
    whole = facts.standing.all
    counted = [
        *("all", "confirmed", "open", "closed", "handed_over", "reopened"),
        *("not_through", "within_class", "never_confirmed"),
    ]
    for part in rows(facts):
        for name in counted:
            added = sum(getattr(one, name).places for one in part)
            assert added == getattr(whole, name).places
    assert sum(one.all.cases for one in facts.standing.by_kind) == whole.all.cases
    ended = columns.status.are("closed") | columns.status.are("handed-over")
    # What was written up later is not open: nobody says how it ended.
    later = int((~columns.origin.are("own") & ~ended).sum())
    standing = (whole.open, whole.closed, whole.handed_over)
    assert sum(one.places for one in standing) + later == places
    assert sum(one.places for one in facts.causes) == whole.confirmed.places
    held = facts.held
    for shown, hidden in (
        (held.by_method, held.methods_not_shown),
        (held.by_method_and_path, held.not_shown),
    ):
        assert sum(one.repairs for one in shown) + hidden.repairs == held.repairs
    assert sum(one.cases for one in facts.first_beliefs.bins) == facts.first_beliefs.places


@pytest.mark.parametrize("seed", range(6))
def test_a_case_of_an_unseen_kind_changes_only_its_rows(seed: int, tmp_path: Path) -> None:
    cases = [made_case(number, seed=seed) for number in range(40)]
    new = made_case(99, seed=seed).model_copy(update={"kind": "made-unseen"})
    before = told(columns_of(cases, tmp_path))
    after = told(columns_of([*cases, new], tmp_path))
    kinds = {one.key: one for one in after.standing.by_kind}
    assert kinds.pop("made-unseen").all == count(len(new.places), 1)
    assert tuple(kinds.values()) == before.standing.by_kind
    assert [one for one in after.causes if one.kind != "made-unseen"] == list(before.causes)


@pytest.mark.parametrize("seed", range(6))
def test_groups_under_five_sites_never_appear(seed: int) -> None:
    columns = made_columns(KNOWLEDGE, 200 + 100 * seed, seed=seed)
    held = told(columns).held
    tested = (columns.repair_held > 0) | np.isfinite(columns.repair_failed)
    for one in held.by_method:
        at = columns.repair_row[columns.repair_method.are(one.method) & tested]
        assert one.sites == len(set(columns.site.at[at])) >= LEAST_SITES
    assert all(one.sites >= LEAST_SITES for one in held.by_method_and_path)
    assert held.not_shown.groups > 0


def doubled(columns: Columns) -> Columns:
    """Everything once more, in other cases at the same sites."""
    size, cases = columns.case.size, int(columns.case.max()) + 1
    second = {"case": cases, "place_id": size, "repair_row": size}
    parts: dict[str, Any] = {}
    for name in Columns.__slots__:
        part = getattr(columns, name)
        if isinstance(part, Words):
            parts[name] = Words(part.words, np.r_[part.at, part.at])
        else:
            parts[name] = np.r_[part, part + second.get(name, 0)]
    return Columns(**parts)


def test_a_library_twice_over_tells_the_same_shares_of_twice_as_many() -> None:
    columns = made_columns(KNOWLEDGE, 600)
    once, twice = told(columns), told(doubled(columns))
    assert twice.standing.all.open.cases == 2 * once.standing.all.open.cases
    assert twice.first_beliefs.top_1.share == once.first_beliefs.top_1.share
    for one, two in zip(once.held.by_method, twice.held.by_method, strict=True):
        assert (two.method, two.repairs, two.sites) == (one.method, 2 * one.repairs, one.sites)
        shares = [holding.share for holding in one.kaplan_meier]
        assert [holding.share for holding in two.kaplan_meier] == pytest.approx(shares)


def test_the_order_of_the_rows_makes_no_difference() -> None:
    columns = made_columns(KNOWLEDGE, 400)
    order = np.random.default_rng(3).permutation(columns.repair_row.size)
    method = columns.repair_method
    turned = replace(
        columns,
        repair_row=columns.repair_row[order],
        repair_method=Words(method.words, method.at[order]),
        repair_held=columns.repair_held[order],
        repair_failed=columns.repair_failed[order],
    )
    assert to_json(told(turned)) == to_json(told(columns))


def test_the_json_has_every_name_and_no_number_that_is_none() -> None:
    facts = facts_of(KNOWLEDGE, made_columns(KNOWLEDGE, 300), invented=True)
    read = json.loads(to_json(facts))
    assert list(read) == [
        *("format", "invented", "knowledge", "standing", "causes", "held"),
        *("first_beliefs", "rates"),
    ]
    assert (read["format"], read["invented"], read["rates"]) == (1, True, None)
    assert [one["days"] for one in read["held"]["by_method"][0]["kaplan_meier"]] == [91, 365, 730]
