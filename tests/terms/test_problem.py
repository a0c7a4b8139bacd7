import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.terms import Faults, Faulty, Problem, nearest
from advisor.terms.problem import MOST


def test_one_line_says_place_key_expectation_and_nearest() -> None:
    problem = Problem(
        message='"wal" is not one of its choices',
        file="a.yaml",
        line=3,
        column=7,
        key="place",
        expected="one of wall, floor",
        nearest="wall",
    )
    assert str(problem) == (
        'a.yaml:3:7: place: "wal" is not one of its choices; '
        'expected one of wall, floor; did you mean "wall"?'
    )


def test_what_is_not_known_is_left_out() -> None:
    assert str(Problem(message="the file is empty")) == "the file is empty"
    assert str(Problem(message="the file is empty", file="a.yaml")) == "a.yaml: the file is empty"


@given(st.text(), st.text(), st.text())
def test_a_problem_is_always_one_line(message: str, key: str, expected: str) -> None:
    assert len(str(Problem(message=message, key=key, expected=expected)).splitlines()) <= 1


def test_faulty_holds_one_or_many() -> None:
    one, two = Problem(message="one"), Problem(message="two")
    assert Faulty(one).problems == (one,)
    assert Faulty(iter([one, two])).problems == (one, two)
    assert str(Faulty([one, two])) == "one\ntwo"


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("Wall Foot Joint", "wall-foot-joint"),
        ("wall_foot_joint", "wall-foot-joint"),
        ("wall-fot-joint", "wall-foot-joint"),
        ("honey-comb", "honeycomb"),
        ("zzz", None),
        ("", None),
    ],
)
def test_nearest_forgives_spelling(word: str, meant: str | None) -> None:
    assert nearest(word, ["wall-foot-joint", "honeycomb"]) == meant


def test_faults_gathers_all_and_goes_on() -> None:
    faults = Faults()
    reached = []
    for name in ("a", "b", "c"):
        with faults.catch():
            if name != "b":
                raise Faulty(Problem(message=name))
            reached.append(name)
    assert reached == ["b"]
    with pytest.raises(Faulty) as caught:
        faults.stop()
    assert [problem.message for problem in caught.value.problems] == ["a", "c"]


def test_no_faults_no_stop() -> None:
    faults = Faults()
    faults.stop()
    assert not faults


def test_faults_stops_by_itself_when_there_are_too_many() -> None:
    faults = Faults()
    faults.add(*[Problem(message="x")] * (MOST - 1))
    with pytest.raises(Faulty) as caught, faults.catch():
        raise Faulty(Problem(message="the last"))
    assert len(caught.value.problems) == MOST


def test_other_errors_pass_through() -> None:
    with pytest.raises(KeyError), Faults().catch():
        raise KeyError
