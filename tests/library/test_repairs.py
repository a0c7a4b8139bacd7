"""What the looks at a repair tell: until when it held, and when it had not."""

import pytest

from advisor.library.case import Done, KeptPlace, Looked
from advisor.library.repairs import RepairSpan, holds, spans


def look(day: int, state: str = "tight", **told: object) -> Looked:
    return Looked.model_validate({"day": day, "state": state, "water_up": "yes", **told})


def told(*looks: Looked, days: tuple[int, ...] = (0,)) -> tuple[tuple[int, int | None], ...]:
    done = tuple(Done(day=day, method="gel") for day in days)
    place = KeptPlace(place=1, status="watching", done=done, looked=looks)
    return tuple((span.held, span.failed) for span in spans(place))


@pytest.mark.parametrize(
    ("seen", "shows"),
    [
        (look(9), True),
        (look(9, water_up="no"), None),
        (look(9, water_up="unknown"), None),
        (look(9, "better"), False),
        (look(9, "better", within=True), True),
        (look(9, "tight", within=False), False),
        (look(9, "moved-along", within=True), False),
        (look(9, "worse", water_up="no"), False),
    ],
)
def test_wet_is_wet_and_dry_counts_only_with_the_water_up(seen: Looked, shows: bool) -> None:
    assert holds(seen) is shows


def test_a_failure_lies_between_two_looks() -> None:
    assert told(look(30), look(400), look(700, "same")) == ((400, 700),)
    assert told(look(30, water_up="no")) == ((0, None),)


def test_what_was_seen_on_the_day_of_a_repair_was_seen_before_it() -> None:
    assert told(look(100, "worse"), days=(0, 100)) == ((0, 100), (0, None))
    assert told(look(0, "worse")) == ((0, None),)


def test_unless_it_was_to_prove_it() -> None:
    proof = look(100, proof="pipe-holds-pressure")
    failed = look(100, "worse", proof="pipe-holds-pressure")
    assert told(proof, look(200), days=(0, 100)) == ((0, None), (100, None))
    assert told(failed, days=(0, 100)) == ((0, None), (0, 1))


def test_each_repair_has_its_span() -> None:
    place = KeptPlace(
        place=1, status="watching", done=(Done(day=5, method="gel"),), looked=(look(35),)
    )
    assert spans(place) == (RepairSpan("gel", 30, None),)
