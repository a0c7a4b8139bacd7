"""Photos of a wet place, named in its record."""

import pytest

from advisor import Callout
from advisor.terms import Faulty

RECORD = "callout: A\nstructure: {kind: basement}\nleaks:\n  - leak: L1\n    photos: "


def names(photos: str) -> tuple[str, ...]:
    return Callout.parse(f"{RECORD}{photos}\n", "f.yaml").leaks[0].photos


@pytest.mark.parametrize(
    ("photos", "read"),
    [
        ("[north-wall.jpg, close-up.jpg]", ("north-wall.jpg", "close-up.jpg")),
        ("\n      - near/Wand 3.JPG\n      - b.png", ("near/Wand 3.JPG", "b.png")),
        *(("[]", ()), ("", ())),
    ],
)
def test_names_stay_as_written(photos: str, read: tuple[str, ...]) -> None:
    assert names(photos) == read
    assert (
        Callout.parse(f"{RECORD.rpartition('photos')[0].rstrip()}\n", "f.yaml").leaks[0].photos
        == ()
    )


@pytest.mark.parametrize(
    ("photos", "told"),
    [
        ("north-wall.jpg", "f.yaml:5:13: photos: "),
        ('[a.jpg, ""]', "f.yaml:5:21: photos: nothing is written here; expected text"),
        ('[" "]', "f.yaml:5:14: photos: nothing is written here; expected text"),
        ("[{a: b}]", "f.yaml:5:14: photos: "),
    ],
)
def test_what_is_no_list_of_names_is_told(photos: str, told: str) -> None:
    with pytest.raises(Faulty) as caught:
        names(photos)
    (problem,) = caught.value.problems
    assert str(problem).startswith(told)
