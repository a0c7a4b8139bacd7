"""Places most alike: what must hold for any library. All invented."""

from collections.abc import Mapping, Sequence
from math import inf, nextafter
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor import open_knowledge
from advisor.callout import Resolved
from advisor.library.alike import likeness
from advisor.library.alike.likeness import Alike, most_alike
from advisor.library.alike.packed import pack, together
from advisor.library.alike.telling import telling
from advisor.terms import Range

KNOWLEDGE = open_knowledge()
WEIGHTS = telling(KNOWLEDGE)
CHOICES = ("kind", "member", "wetness", "crack-form", "deposits.lime", "wet-after-rain")
NUMBERS = ("crack-width", "wall-thickness", "flow")
KEYS = (*CHOICES, *NUMBERS)
NAMES = {key: number for number, key in enumerate(reversed(KEYS))}

Place = dict[str, Resolved]


def exact(key: str, bit: int) -> Resolved:
    attribute = KNOWLEDGE.attributes[key.partition(".")[0]]
    count = 2 if "." in key else len(attribute.choices)
    return Resolved(1 << bit % count)


VALUES = {key: st.integers(0, 30).map(lambda bit, key=key: exact(key, bit)) for key in CHOICES}
VALUES |= {
    key: st.integers(30, 50).map(lambda x: Resolved(Range.point(float(x)))) for key in NUMBERS
}
COMPLETE = st.fixed_dictionaries(VALUES)
PARTLY = st.fixed_dictionaries({}, optional=VALUES)


def alike(query: Place, places: Sequence[Place], **more: int) -> tuple[Alike, ...]:
    packed = together([pack(KNOWLEDGE, place, NAMES) for place in places])
    return most_alike(KNOWLEDGE, query, packed, NAMES, WEIGHTS, **({"n": len(places)} | more))


def by_row(query: Place, places: Sequence[Place]) -> Mapping[int, float]:
    return {one.row: one.alike for one in alike(query, places)}


@given(st.lists(PARTLY, min_size=1, max_size=8), st.data())
def test_a_place_is_wholly_alike_itself(places: list[Place], data: st.DataObject) -> None:
    row = data.draw(st.integers(0, len(places) - 1))
    if places[row]:
        found = {one.row: one for one in alike(places[row], places)}[row]
        assert found.alike == pytest.approx(1)
        assert found.compared == len(places[row])
        assert not found.differs


@given(st.lists(COMPLETE, min_size=2, max_size=8))
def test_on_complete_data_it_is_symmetric(places: list[Place]) -> None:
    there = by_row(places[0], places)
    for row, place in enumerate(places):
        assert by_row(place, places)[0] == pytest.approx(there[row])


@given(PARTLY, st.lists(PARTLY, max_size=8))
def test_it_lies_between_0_and_1_and_falls(query: Place, places: list[Place]) -> None:
    found = [one.alike for one in alike(query, places)]
    assert all(0 <= one <= 1 for one in found)
    assert found == pytest.approx(sorted(found, reverse=True))


@given(PARTLY, st.lists(PARTLY, min_size=1, max_size=8), st.randoms(use_true_random=False))
def test_the_order_of_the_rows_does_not_matter(
    query: Place, places: list[Place], chance: Random
) -> None:
    there = by_row(query, places)
    order = list(range(len(places)))
    chance.shuffle(order)
    shuffled = by_row(query, [places[row] for row in order])
    assert {order[row]: one for row, one in shuffled.items()} == pytest.approx(there)


@given(COMPLETE, st.lists(COMPLETE, min_size=2, max_size=8), st.sampled_from(NUMBERS))
def test_what_is_unknown_there_counts_as_its_mean(
    query: Place, places: list[Place], key: str
) -> None:
    """A place without a finding is as alike as with one that is as alike as the mean."""
    here = query[key].value
    assert isinstance(here, Range)
    without = {other: fact for other, fact in query.items() if other != key}
    middles = [here.lo, *(place[key].value.lo for place in places)]
    spread = max(middles) - min(middles)
    apart = sum(abs(middle - here.lo) for middle in middles[1:]) / len(places)
    # On the side of the query where there is room, so that the spread stays what it is.
    upwards = max(middles) - here.lo >= apart
    mean = here.lo + apart if upwards else here.lo - apart
    if not min(middles) <= mean <= max(middles) or spread == 0:
        return
    before = by_row(query, [*places, without])
    after = by_row(query, [*places, without | {key: Resolved(Range.point(mean))}])
    assert after == pytest.approx(before, abs=1e-6)


@given(COMPLETE, st.lists(COMPLETE, min_size=1, max_size=8), st.sampled_from(KEYS))
def test_what_is_unknown_here_counts_nothing(query: Place, places: list[Place], key: str) -> None:
    asked = {other: fact for other, fact in query.items() if other != key}
    less = [{other: fact for other, fact in place.items() if other != key} for place in places]
    assert by_row(asked, places) == pytest.approx(by_row(asked, less))


def test_ties_stand_in_the_order_of_the_rows() -> None:
    one = {"member": exact("member", 0)}
    other = {"member": exact("member", 1)}
    found = alike(one, [other, one, other, one, one], n=4)
    assert [(each.row, each.alike) for each in found] == [(1, 1), (3, 1), (4, 1), (0, 0)]


def test_a_row_to_skip_is_no_answer() -> None:
    one = {"member": exact("member", 0)}
    packed = together([pack(KNOWLEDGE, one, NAMES)] * 3)
    found = most_alike(KNOWLEDGE, one, packed, NAMES, WEIGHTS, skip={0, 2})
    assert [each.row for each in found] == [1]
    assert most_alike(KNOWLEDGE, one, packed, NAMES, WEIGHTS, skip={0, 1, 2}) == ()


def test_sets_are_as_alike_as_what_they_have_in_common() -> None:
    query = {"member": Resolved(0b011)}
    places = [{"member": Resolved(mask)} for mask in (0b001, 0b011, 0b110, 0b100)]
    assert by_row(query, places) == pytest.approx({0: 1 / 2, 1: 1, 2: 1 / 3, 3: 0})


def test_a_number_told_from_one_side_stands_at_that_end() -> None:
    query = {"flow": Resolved(Range.point(10.0))}
    over = Range(8.0, nextafter(KNOWLEDGE.attributes["flow"].highest, inf))
    values = (Range.point(2.0), over, Range(2.0, 4.0), Range(8.0, 12.0), Range(0.0, 6.0))
    places = [{"flow": Resolved(value)} for value in values]
    expected = {0: 0, 1: 1 - 2 / 8, 2: 1 - 7 / 8, 3: 1, 4: 1 - 4 / 8}
    assert by_row(query, places) == pytest.approx(expected)


def test_the_blocks_of_a_large_library_leave_no_seam(monkeypatch: pytest.MonkeyPatch) -> None:
    chance = Random(6)
    places = [
        {key: exact(key, chance.randrange(5)) for key in CHOICES if chance.random() < 0.7}
        for _ in range(23)
    ]
    query = {key: exact(key, 0) for key in CHOICES}
    whole = alike(query, places)
    monkeypatch.setattr(likeness, "BLOCK", 4)
    assert alike(query, places) == whole


def test_it_says_in_what_they_are_alike_and_in_what_they_differ() -> None:
    query = {key: exact(key, 0) for key in CHOICES}
    place = {key: exact(key, 0) for key in CHOICES[:3]} | {CHOICES[3]: exact(CHOICES[3], 1)}
    (found,) = alike(query, [place])
    assert found.compared == 4
    assert set(found.in_) == set(CHOICES[:3])
    assert list(found.in_) == sorted(CHOICES[:3], key=lambda key: -WEIGHTS[key])
    assert found.differs == (CHOICES[3],)


@pytest.mark.parametrize("places", [[], [{}], [{"flow": Resolved(Range.point(1.0))}]])
def test_nothing_to_compare_is_no_answer(places: list[Place]) -> None:
    assert alike({"member": exact("member", 0)}, places) == ()
    assert alike({}, places) == ()


def test_what_tells_nothing_or_has_no_name_is_not_compared() -> None:
    query = {"member": exact("member", 0), "wetness": exact("wetness", 0)}
    packed = together([pack(KNOWLEDGE, query, NAMES)])
    names = {"member": NAMES["member"], "wetness": NAMES["wetness"]}
    (found,) = most_alike(KNOWLEDGE, query, packed, names, {"member": 1.0})
    assert found.in_ == ("member",)
    del names["wetness"]
    (found,) = most_alike(KNOWLEDGE, query, packed, names, WEIGHTS)
    assert found.in_ == ("member",)
