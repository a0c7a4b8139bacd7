"""Facts over the wet places of a callout. All positions are invented."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.callout import Resolved, waters
from advisor.callout.places import count, over_places, regular_pitch
from advisor.callout.readings import UNKNOWN
from advisor.terms import Attribute, Faulty, Range
from tests.callout.conftest import Parse

YES, NO = 1, 2


def at(*positions: float | tuple[float, float], sure: bool = True) -> list[tuple[Resolved, ...]]:
    """Places along a wall, or along and up."""
    return [
        tuple(
            Resolved(Range.point(x), sure=sure)
            for x in (place if isinstance(place, tuple) else (place,))
        )
        for place in positions
    ]


def test_count_is_the_number_of_wet_places() -> None:
    assert count(at(1, 2, 3, 4)) == Resolved(Range.point(4))


@pytest.mark.parametrize(
    ("positions", "answer"),
    [
        ((0, 1.2, 2.4), YES),
        ((2.4, 0, 1.2), YES),
        ((0, 1.2, 3.6), YES),
        ((0, 1.25, 2.4, 3.65), YES),
        ((0, 1.2, 2.9), NO),
        ((0, 1, 2.5), None),  # half the smallest spacing fits: 0.5
        ((0, 5, 10), None),  # 2.5 fits, with dry points between
        ((0, 9, 18), NO),  # no pitch that anyone sets
        ((0, 0.2, 0.4), NO),
        ((0, 1.2), None),
        ((), None),
        ((1, 1, 1), None),
        ((0, 0.05, 1.2, 2.4), YES),
        (((0, 1), (1.2, 1), (2.4, 1)), YES),
        (((0, 1), (1.2, 1), (2.4, 2.5)), YES),
        (((0, 1), (0, 2), (0, 3)), YES),
        (((0, 1), (1.2, 2.5), (2.4, 3.2)), NO),
        (((0, 0), (0, 1), (1, 0), (1, 1)), None),  # any four corners fit
    ],
)
def test_regular_pitch(
    positions: tuple[float | tuple[float, float], ...], answer: int | None
) -> None:
    assert regular_pitch(at(*positions)).value == answer


def test_an_axis_not_known_everywhere_is_passed_over() -> None:
    places = at((0, 0), (1.2, 0.7), (2.4, 1.9))
    assert regular_pitch(places).value == NO
    places[1] = (places[1][0], UNKNOWN)
    assert regular_pitch(places).value == YES


def test_only_known_positions_count() -> None:
    places = [*at(0, 1.2, 2.4), (UNKNOWN,), (Resolved(Range(3, 9)),)]
    assert regular_pitch(places) == Resolved(YES)


def test_regular_pitch_is_sure_when_the_sure_positions_say_it_alone() -> None:
    unsure = at(3.6, sure=False)
    assert regular_pitch([*at(0, 1.2, 2.4), *unsure]).sure
    assert not regular_pitch([*at(0, 1.2), *unsure]).sure


@given(
    st.floats(0.3, 4),
    st.sets(st.integers(0, 20), min_size=3, max_size=8).filter(
        lambda steps: any(step + 1 in steps for step in steps)
    ),
    st.floats(0, 50),
)
def test_any_grid_with_two_neighbours_wet_is_found(
    pitch: float, steps: set[int], start: float
) -> None:
    places = at(*(start + pitch * step for step in steps))
    assert regular_pitch(places).value == YES


def test_a_function_that_is_not_there_is_told() -> None:
    attribute = Attribute(
        key="a",
        label="a",
        kind="yes-no",
        of="leak",
        question="?",
        check="",
        who=(),
        over_places=("regular-pich", ()),
    )
    with pytest.raises(Faulty, match="regular-pitch"):
        over_places(attribute, [])


def test_waters_are_groups_of_linked_wet_places(parse: Parse) -> None:
    callout = parse(
        "callout: X\nstructure: {kind: tank}\nleaks:\n"
        "  - {leak: A, same-water: C}\n"
        "  - {leak: B}\n"
        "  - {leak: C}\n"
        "  - {leak: D, same-water: A}\n"
    )
    assert waters(callout) == (("A", "C", "D"), ("B",))
