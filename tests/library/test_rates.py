"""What was built, read from a file, and leaks and repairs for it."""

from pathlib import Path

import pytest

from advisor import open_knowledge
from advisor.library.facts.facts import facts_of
from advisor.library.facts.rates import Rate, Rates
from advisor.library.facts.supplied import parse_supplied, read_supplied
from advisor.terms import Faulty
from tests.library.kept_places import DEW, GEL, JOINT, columns_of, kept_case, kept_place

KNOWLEDGE = open_knowledge()
HEAD = "kind,quarter,metres-of-joint,cubic-metres\n"


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Rates:
    """Three leaks at joints from 2030-Q4 to 2031-Q2, two of them in basements and one repaired;
    one that is none; one without a quarter."""
    joint = kept_place(cause=JOINT)
    cases = [
        kept_case(1, kept_place(cause=JOINT, repairs={10: GEL}), quarter="2030-Q4"),
        kept_case(2, joint, quarter="2031-Q2"),
        kept_case(3, joint, quarter="2031-Q1", kind="tank"),
        kept_case(4, kept_place(cause=DEW), quarter="2031-Q1"),
        kept_case(5, joint, quarter=None),
    ]
    text = (
        "kind;quarter;year;metres-of-joint;cubic-metres\n"
        "all;2030-Q4;;500;\nall;2031-Q1;;700;9000\nall;2031-Q3;;900;\n"
        "basement;2031-Q2;;400;\nbasement;;2030;400;\n"
    )
    columns = columns_of(cases, tmp_path_factory.mktemp("rates"))
    facts = facts_of(KNOWLEDGE, columns, parse_supplied(text, "s.csv", KNOWLEDGE))
    assert facts.rates is not None
    return facts.rates


def one(rates: Rates, kind: str | None, base: str, of: str = "leaks") -> Rate:
    [found] = [
        rate
        for rate in rates.rates
        if (rate.kind, rate.base_is, rate.of, rate.path) == (kind, base, of, None)
    ]
    return found


def test_only_quarters_that_both_cover_count(told: Rates) -> None:
    assert (told.first, told.last, told.undated) == ("2030-Q4", "2031-Q2", 1)
    # 2031-Q3, and the year of which the library covers one quarter.
    assert told.left_out == 5
    joints = one(told, None, "metres-of-joint")
    assert (joints.count, joints.base, joints.quarters) == (2, 1200, 2)
    assert (joints.first, joints.last) == ("2030-Q4", "2031-Q1")
    assert joints.rate == pytest.approx(2 / 1.2)
    assert joints.low < joints.rate < joints.high
    assert one(told, None, "metres-of-joint", "repairs").count == 1
    assert one(told, "basement", "metres-of-joint").count == 1
    assert one(told, None, "cubic-metres").count == 1


def test_leaks_are_told_by_path_too(told: Rates) -> None:
    by_path = {r.path: r.count for r in told.rates if r.kind is None and r.per == 1000 and r.path}
    assert by_path == {KNOWLEDGE.causes[JOINT].group: 2}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (HEAD + "cellar,2031-Q1,1,1\n", "no kind of structure"),
        (HEAD + "all,2031-Q5,1,1\n", "is no quarter"),
        (HEAD + "all,,1,1\n", "of a quarter or of a year"),
        (HEAD + "all,2031-Q1,,\n", "no amount"),
        (HEAD + "all,2031-Q1,-3,\n", "is no amount"),
        (HEAD + 'all,2031-Q1,"1,5",\n', "is no amount"),
        (HEAD + "all,2031-Q1,nan,\n", "is no amount"),
        (HEAD + "all,2031-Q1,=1+1,\n", "is no amount"),
        (HEAD + "all,2031-Q1,1,\nall,2031-Q1,2,\n", "counted in line 2 already"),
        ("kind,year,quarter,cubic-metres\nall,2031,,1\nall,,2031-Q4,1\n", "in line 2 already"),
        ("kind,year,cubic-metres\nall,31,1\n", "is no year"),
        ("kind,year\nall,2031\n", "there is no column metres-of-joint or cubic-metres"),
        ("year,cubic-metres\n2031,1\n", "there is no column kind"),
        ("kind,yaer,cubic-metres\nall,2031,1\n", "not known here"),
        ("kind,year,year,cubic-metres\nall,2031,2031,1\n", "stands there twice"),
        ("", "empty"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(text: str, message: str) -> None:
    with pytest.raises(Faulty, match=message) as caught:
        parse_supplied(text, "s.csv", KNOWLEDGE)
    assert all(problem.file == "s.csv" for problem in caught.value.problems)


def test_all_faults_are_told_at_once() -> None:
    with pytest.raises(Faulty) as caught:
        parse_supplied(HEAD + "cellar,2031-Q1,1,1\nall,2031-Q9,1,1\n", "s.csv", KNOWLEDGE)
    assert [problem.line for problem in caught.value.problems] == [2, 3]


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(Faulty, match="no such file"):
        read_supplied(tmp_path / "none.csv", KNOWLEDGE)


def test_without_a_common_quarter_nothing_is_told(tmp_path: Path) -> None:
    base = parse_supplied(HEAD + "all,2031-Q1,1,1\n", "s.csv", KNOWLEDGE)
    for cases in ([], [kept_case(1, kept_place(), quarter="2020-Q1")]):
        rates = facts_of(KNOWLEDGE, columns_of(cases, tmp_path), base).rates
        assert rates is not None
        assert (rates.rates, rates.left_out) == ((), 1)
