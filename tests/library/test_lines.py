"""A case as a line: there and back the same; every fault of a line is told in words."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.library.body import canonical, checksum_of
from advisor.library.case import FORMAT, KeptCase, KeptFinding, KeptPlace
from advisor.library.moves.lines import from_line, to_line
from advisor.terms import Faulty, Problem
from tests.library.made_cases import made_case

CASE = made_case(7)
NOTES = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)


def told(case: KeptCase = CASE) -> dict[str, Any]:
    """The case of a line, to be spoilt."""
    found: dict[str, Any] = json.loads(to_line(case))["case"]
    return found


def sealed(case: Any) -> str:
    """A line whose checksum is right, whatever the case is."""
    return json.dumps({"checksum": checksum_of(canonical(case)), "case": case})


def problems(line: str) -> tuple[Problem, ...]:
    with pytest.raises(Faulty) as caught:
        from_line(line)
    for problem in caught.value.problems:
        assert problem.message
    return caught.value.problems


def problem(line: str) -> Problem:
    (one,) = problems(line)
    return one


@given(st.integers(0, 10_000), st.booleans(), st.none() | NOTES)
def test_a_case_read_again_is_the_same(number: int, invented: bool, note: str | None) -> None:
    case = made_case(number, invented=invented, note=note)
    line = to_line(case)
    assert from_line(line) == case
    assert to_line(from_line(line)) == line
    assert "\n" not in line


def test_the_least_case_says_its_format() -> None:
    case = KeptCase(case="0" * 32, kind="basement", places=())
    assert told(case) == {"case": "0" * 32, "format": FORMAT, "kind": "basement", "places": []}
    assert from_line(to_line(case)) == case


def test_the_checksum_is_that_of_any_writer() -> None:
    """The order of names, blanks and escapes do not count; what is said does."""
    line = json.loads(to_line(made_case(3, note="überall naß")))
    turned = json.dumps({"case": dict(reversed(line["case"].items())), **line}, indent=1)
    assert from_line(turned) == from_line(to_line(made_case(3, note="überall naß")))


def test_other_letters_stand_as_they_are() -> None:
    assert "naß" in to_line(made_case(3, note="naß"))


@pytest.mark.parametrize("line", ["", " ", "{", "no json", '{"checksum": 1', "{} {}", "[1,", "'"])
def test_what_is_no_json(line: str) -> None:
    assert problem(line).message.startswith("this is no JSON")


@pytest.mark.parametrize("line", ["[]", "1", "null", '"case"', "true"])
def test_what_is_json_and_no_case(line: str) -> None:
    assert problem(line).message == "this is no case"


@pytest.mark.parametrize("line", ["[" * 100_000, "1" * 10_000], ids=["deep", "long"])
def test_what_python_does_not_read(line: str) -> None:
    assert problem(line).message.startswith("this ")


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity"])
def test_numbers_that_json_does_not_know(word: str) -> None:
    assert word in problem(f'{{"checksum": {word}}}').message


def test_a_name_that_stands_twice() -> None:
    line = to_line(CASE).replace('"case":{', '"case":{"format":1,', 1)
    assert problem(line).key == "format"


def test_the_parts_of_a_line() -> None:
    line = json.loads(to_line(CASE))
    missing = problems("{}")
    assert [one.key for one in missing] == ["checksum", "case"]
    assert problem(json.dumps({**line, "chcksum": ""})).nearest == "checksum"
    assert problem(json.dumps({**line, "case": [1]})).key == "case"


@pytest.mark.parametrize("checksum", ["", "0" * 64, None, 7, ["a"]])
def test_a_wrong_checksum(checksum: Any) -> None:
    assert problem(json.dumps({"checksum": checksum, "case": told()})).key == "checksum"


@given(st.data())
def test_a_changed_letter_is_noticed(data: st.DataObject) -> None:
    line = to_line(CASE)
    at = data.draw(st.integers(0, len(line) - 1))
    letter = data.draw(st.characters(codec="ascii", exclude_categories=["Cc"]))
    changed = line[:at] + letter + line[at + 1 :]
    try:
        read = from_line(changed)
    except Faulty:
        return
    assert read == CASE


def test_a_later_format_is_told_before_all_else() -> None:
    case = {**told(), "format": FORMAT + 1, "new-name": 1}
    later = problem(json.dumps({"checksum": "of another kind", "case": case}))
    assert later.key == "format"
    assert "later advisor" in later.message


@pytest.mark.parametrize("number", [0, -1, "1", 1.5, True, []])
def test_what_is_no_format(number: Any) -> None:
    assert problem(sealed({**told(), "format": number})).key == "format"


def test_a_format_must_be_said() -> None:
    case = told()
    del case["format"]
    assert problem(sealed(case)).message == '"format" is missing'


def spoilt(path: str, value: Any) -> Problem:
    """The problem when something else stands at a path as in `places.1.status`."""
    case = told()
    *way, last = [int(step) - 1 if step.isdigit() else step for step in path.split(".")]
    inner: Any = case
    for step in way:
        inner = inner[step]
    inner[last] = value
    one = problem(sealed(case))
    assert one.key == path
    return one


@pytest.mark.parametrize(
    ("path", "nearest"),
    [
        ("orign", "origin"),
        ("places.1.statu", "status"),
        ("places.1.shown.setled_on", "settled_on"),
        ("places.1.findings.made-attribute-1.valu", "value"),
        ("places.1.looked.1.water", "water_up"),
        ("places.1.done.1.packers.1.presure", "pressure"),
    ],
)
def test_an_unknown_name_has_the_nearest_one_beside_it(path: str, nearest: str) -> None:
    case = next(c for c in map(made_case, range(200)) if c.places[0].looked)
    place = case.places[0].model_copy(
        update={"findings": {"made-attribute-1": KeptFinding(value="a")}}
    )
    written = told(case.model_copy(update={"places": (place,)}))
    *way, last = [int(step) - 1 if step.isdigit() else step for step in path.split(".")]
    inner: Any = written
    for step in way:
        inner = inner[step]
    inner[last] = 1
    one = problem(sealed(written))
    assert one.key == path
    assert one.nearest == nearest


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("case", "no token"),
        ("kind", "Keller mit Wasser"),
        ("kind", None),
        ("visits", -1),
        ("visits", "3"),
        ("invented", "yes"),
        ("quarter", "2031-Q5"),
        ("places", {}),
        ("places.1.place", 0),
        ("places.1.shown.day", 1e9),
        ("places.1.shown.causes.made-cause-one", 1.5),
    ],
)
def test_a_value_out_of_bounds(path: str, value: Any) -> None:
    assert spoilt(path, value).expected


def test_a_word_that_is_none_of_those() -> None:
    one = spoilt("places.1.status", "close")
    assert one.nearest == "closed"
    assert one.expected is not None
    assert "handed-over" in one.expected


def test_what_is_missing_is_named_with_its_place() -> None:
    case = told()
    del case["kind"], case["places"][0]["place"]
    assert {one.key for one in problems(sealed(case))} == {"kind", "places.1.place"}


def test_all_faults_of_a_case_are_told_at_once() -> None:
    case = {**told(), "visits": -1, "origin": "mine", "knd": 1}
    assert [one.key for one in problems(sealed(case))] == ["origin", "visits", "knd"]


def test_half_a_letter_is_refused() -> None:
    case = {
        **told(KeptCase(case="1" * 32, kind="a", places=(KeptPlace(place=1, status="closed"),)))
    }
    case["places"][0]["note"] = "\ud800"
    assert "letter" in problem(sealed(case)).message


def test_a_long_value_is_cut_where_it_is_shown() -> None:
    case = {**told(), "kind": "x" * 5000}
    assert len(str(problem(sealed(case)))) < 300
