"""The library: what is added, found again, replaced, held and erased."""

import sqlite3
from collections.abc import Iterable, Iterator
from datetime import date
from hashlib import sha256
from pathlib import Path

import numpy as np
import pytest

from advisor.library.alike.packed import RECORD, START
from advisor.library.body import body_of
from advisor.library.case import Confirmed, Done, KeptCase, KeptPlace, Looked, Shown
from advisor.library.store.adding import Added
from advisor.library.store.failures import LibraryFailed
from advisor.library.store.rows import place_row
from advisor.library.store.store import Library, open_library
from advisor.terms import Faulty
from tests.library.made_cases import CAUSES, KINDS, METHODS, made_case, token

DAY = date(2031, 4, 16)
MADE = [made_case(number) for number in range(120)]


def nothing(_: KeptPlace) -> bytes:
    return b""


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    with open_library(tmp_path / "library.sqlite") as opened:
        yield opened


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    """Only to be read."""
    with open_library(tmp_path_factory.mktemp("full") / "library.sqlite") as opened:
        opened.add(MADE, nothing)
        yield opened


def test_a_case_comes_back_as_it_was(full: Library) -> None:
    assert [full.show(case.case) for case in MADE] == MADE
    assert [KeptCase.model_validate_json(body) for body in full.bodies()] == MADE


def test_adding_again_writes_nothing(library: Library) -> None:
    assert library.add(MADE, nothing) == Added(new=len(MADE))
    before = (library.path.with_name("library.sqlite-wal")).stat().st_size
    assert library.add(reversed(MADE), nothing) == Added(same=len(MADE))
    assert (library.path.with_name("library.sqlite-wal")).stat().st_size == before
    assert library.count() == len(MADE)


def test_a_changed_case_replaces_and_its_history_is_kept(library: Library) -> None:
    forms = [made_case(7, seed=seed) for seed in range(4)]
    library.add(MADE, nothing)
    for form in forms[1:]:
        assert library.add([form, MADE[8]], nothing) == Added(replaced=1, same=1)
    assert library.history(token(7)) == tuple(forms)
    assert library.show(token(7)) == forms[-1]
    assert library.count() == len(MADE)
    assert library.find(after=9)[0].version == 4
    columns = library.columns()
    assert len(columns.case) == sum(len(case.places) for case in [*MADE[:7], forms[-1], *MADE[8:]])


def test_the_same_case_twice_in_one_call_counts_in_its_order(library: Library) -> None:
    first, second = made_case(1), made_case(1, seed=9)
    assert library.add([first, second, second], nothing) == Added(new=1, replaced=1, same=1)
    assert library.history(token(1)) == (first, second)


def test_invented_and_real_cases_are_kept_apart(tmp_path: Path, library: Library) -> None:
    with pytest.raises(Faulty, match="own library takes real ones only"):
        library.add([MADE[0], made_case(500, invented=True)], nothing)
    assert library.count() == 0
    with open_library(tmp_path / "demonstration.sqlite", invented=True) as demonstration:
        assert demonstration.add([made_case(500, invented=True)], nothing).new == 1
        with pytest.raises(Faulty, match="all in it is invented"):
            demonstration.add([MADE[0]], nothing)
    with open_library(tmp_path / "demonstration.sqlite") as again:
        assert again.invented
        assert again.refusal(MADE[0]) is not None
        assert again.refusal(made_case(1, invented=True)) is None


def packed_numbers(numbers: Iterable[int]) -> bytes:
    records = [(number, 1) for number in sorted(numbers)]
    return START + np.array(records, dtype=RECORD).tobytes()


def test_what_a_pack_makes_is_stored_with_its_names(library: Library) -> None:
    def pack(place: KeptPlace) -> bytes:
        numbers = library.names_for(sorted(place.findings))
        return packed_numbers(numbers.values())

    library.add(MADE, pack)
    names = library.names()
    assert set(names) == {key for case in MADE for place in case.places for key in place.findings}
    expected = [
        packed_numbers(names[key] for key in place.findings)
        for case in MADE
        for place in case.places
    ]
    packed = library.packed()
    assert packed.joined == b"".join(expected)
    assert len(packed) == len(expected)
    library.close()
    with open_library(library.path) as again:
        assert again.names_for(["made-attribute-3", "new-one"]) == {
            "made-attribute-3": names["made-attribute-3"],
            "new-one": len(names) + 1,
        }


def test_names_of_an_add_that_failed_are_undone(library: Library) -> None:
    def pack(place: KeptPlace) -> bytes:
        library.names_for(["lost"])
        raise ValueError(place.place)

    with pytest.raises(ValueError, match="1"):
        library.add(MADE, pack)
    assert library.names() == {}
    assert library.names_for(["kept"]) == library.names() == {"kept": 1}


@pytest.mark.parametrize(
    "wanted",
    [
        {},
        {"kind": KINDS[0]},
        {"cause": CAUSES[1]},
        {"method": METHODS[2]},
        {"status": "closed"},
        {"cause": CAUSES[1], "status": "closed"},
        {"cause": CAUSES[0], "method": METHODS[1], "status": "watching", "kind": KINDS[1]},
        {"quarter_from": "2020-Q2", "quarter_to": "2022-Q3"},
        {"quarter_from": "2029-Q4", "origin": "own"},
        {"words": "made-attribute-12"},
        {"words": "Made-Attribute-12 mm"},
        {"words": "100%_"},
        {"kind": "nowhere"},
    ],
    ids=str,
)
def test_find_and_count_agree_with_a_plain_search(full: Library, wanted: dict[str, str]) -> None:
    expected = [case.case for case in reversed(MADE) if is_as_wanted(case, **wanted)]
    assert [found.case for found in full.find(limit=1000, **wanted)] == expected  # type: ignore[arg-type]
    assert full.count(**wanted) == len(expected)
    paged: list[str] = []
    after = None
    while page := full.find(limit=7, after=after, **wanted):
        paged += [found.case for found in page]
        after = page[-1].id
    assert paged == expected


def is_as_wanted(case: KeptCase, **wanted: str) -> bool:
    quarter = case.quarter or ""
    whole = case.model_dump_json().lower()
    return (
        case.kind == wanted.get("kind", case.kind)
        and case.origin == wanted.get("origin", case.origin)
        and wanted.get("quarter_from", "") <= quarter <= wanted.get("quarter_to", "9")
        and all(word.lower() in whole for word in wanted.get("words", "").split())
        and any(place_is_as_wanted(place, **wanted) for place in case.places)
    )


def place_is_as_wanted(place: KeptPlace, **wanted: str) -> bool:
    cause = place.confirmed.cause if place.confirmed else None
    return (
        place.status == wanted.get("status", place.status)
        and cause == wanted.get("cause", cause)
        and ("method" not in wanted or wanted["method"] in [done.method for done in place.done])
    )


def test_a_case_is_named_by_the_beginning_of_its_token(full: Library) -> None:
    assert full.show(token(3)[:16]) == MADE[3]
    with pytest.raises(Faulty, match="no case of the library begins with"):
        full.show("zzz")
    with pytest.raises(Faulty, match="more than one case begins with"):
        full.show("")


def test_columns_tell_what_the_cases_tell(full: Library) -> None:
    columns = full.columns()
    places = [(case, place) for case in MADE for place in case.places]
    assert [columns.site.words[at] for at in columns.site.at] == [
        case.labels["site"] for case, _ in places
    ]
    assert list(columns.place) == [place.place for _, place in places]
    assert list(columns.status.are("closed")) == [p.status == "closed" for _, p in places]
    assert not columns.status.are("nowhere").any()
    assert list(columns.cause.at < 0) == [place.confirmed is None for _, place in places]
    ranks = np.nan_to_num(columns.shown_rank, nan=0)
    assert list(ranks) == [place_row(place)["shown_rank"] or 0 for _, place in places]
    done = [number for number, (_, place) in enumerate(places) for _ in place.done]
    assert list(columns.repair_row) == done
    assert [columns.repair_method.words[at] for at in columns.repair_method.at] == [
        one.method for _, place in places for one in place.done
    ]
    ids = [int(columns.place_id[5]), int(columns.place_id[0])]
    assert full.places_of(ids) == {
        int(columns.place_id[at]): (places[at][0].case, places[at][1].place) for at in (0, 5)
    }


def test_columns_of_an_empty_library(library: Library) -> None:
    columns = library.columns()
    assert len(columns.case) == len(columns.repair_row) == 0
    assert len(library.packed()) == 0
    assert list(library.bodies()) == []


def test_the_row_of_a_place() -> None:
    place = KeptPlace(
        place=2,
        status="repaired",
        shown=Shown(day=2, advisor="1", knowledge="k", causes={"b": 0.4, "a": 0.4, "c": 0.2}),
        confirmed=Confirmed(day=3, cause="b", how="document", contributors=("x", "y")),
        done=(Done(day=9, method="late"), Done(day=5, method="early")),
        looked=(Looked(day=40, state="tight", water_up="yes"),),
    )
    row = place_row(place)
    assert (row["shown_best"], row["shown_rank"], row["shown_confidence"]) == ("a", 2, 0.4)
    assert (row["method"], row["first_day"], row["contributors"]) == ("late", 2, "x y")
    bare = place_row(KeptPlace(place=1, status="reported"))
    told = {key for key, value in bare.items() if value is not None}
    assert told == {"place", "status", "reopened", "first_day"}


def test_what_is_answered_once_the_cause_is_known_is_no_first_belief() -> None:
    shown = Shown(day=9, advisor="1", knowledge="k", causes={"a": 0.9})
    confirmed = Confirmed(day=3, cause="a", how="document")
    row = place_row(KeptPlace(place=1, status="watching", shown=shown, confirmed=confirmed))
    assert (row["shown_best"], row["shown_rank"], row["shown_confidence"]) == (None, None, None)


def test_a_case_that_comes_without_labels_keeps_those_that_are_there(library: Library) -> None:
    case = made_case(1).model_copy(update={"labels": {"site": "site-12345678"}})
    library.add([case], nothing)
    assert library.add([case.model_copy(update={"labels": {}})], nothing) == Added(same=1)
    changed = case.model_copy(update={"labels": {}, "visits": case.visits + 1})
    assert library.add([changed], nothing) == Added(replaced=1)
    assert library.show(case.case).labels == case.labels


def test_the_same_answers_in_another_order_are_the_same_case(library: Library) -> None:
    case = made_case(1)
    turned = [
        place.model_copy(update={"findings": dict(reversed(place.findings.items()))})
        for place in case.places
    ]
    library.add([case], nothing)
    assert library.add([case.model_copy(update={"places": tuple(turned)})], nothing) == Added(
        same=1
    )


def test_photos_stay_where_a_changed_case_says_nothing_of_them(library: Library) -> None:
    case = made_case(1)
    picture = b"\x89PNG invented"
    library.add([case], nothing, {case.case: {1: (picture,)}})
    library.add([case.model_copy(update={"visits": case.visits + 1})], nothing)
    assert library.photos(case.case) == {1: (picture,)}


def test_what_is_streamed_is_not_disturbed_by_what_is_written(library: Library) -> None:
    library.add(MADE, nothing)
    streamed = library.bodies()
    first = next(streamed)
    library.add([made_case(300)], nothing)
    assert [first, *streamed] == [body_of(case) for case in MADE]


def test_the_checksum_is_that_of_the_body(library: Library) -> None:
    library.add(MADE[:3], nothing)
    with sqlite3.connect(library.path) as raw:
        rows = raw.execute(
            "SELECT body, checksum FROM cases JOIN bodies ON case_id = id"
        ).fetchall()
        assert [sha256(body.encode()).hexdigest() for body, _ in rows] == [sum for _, sum in rows]
        raw.execute("UPDATE bodies SET body = replace(body, '0.6', '0.7')")
    raw.close()
    with pytest.raises(LibraryFailed, match=r"damaged \(a case is not as it was written\)"):
        library.show(token(1))
