"""Worked cases: how they are read, how they are scored, what is below a floor."""

from collections.abc import Mapping
from math import log
from pathlib import Path

import pytest
from pydantic import TypeAdapter

from advisor import Callout, open_knowledge
from advisor.assessment import worked
from advisor.assessment.cases import FLOOR
from advisor.assessment.worked import Case, CaseReport, below_floor, judge, read_cases, score
from advisor.diagnosis import CauseBelief
from advisor.terms import Faulty

KNOWLEDGE = open_knowledge()

CALLOUT = """\
callout: invented
structure: {{kind: basement}}
leaks: [{leaks}]
truth: {{causes: [{causes}], blind: {blind}, because: "Invented."}}
"""


def believed(shares: Mapping[str, float]) -> tuple[CauseBelief, ...]:
    """All causes, those not named with a confidence of 0, in the order of a diagnosis."""
    beliefs = [
        CauseBelief(
            cause=c.key,
            group=c.group,
            water=c.water,
            confidence=shares.get(c.key, 0.0),
            base_rate=0.1,
            book=1.0,
            ruled_out=None,
            needs=(),
            for_=(),
            against=(),
        )
        for c in KNOWLEDGE.causes.values()
    ]
    return tuple(sorted(beliefs, key=lambda b: (-b.confidence, b.cause)))


def case(causes: str, *, blind: str = "no", leaks: int = 1, file: str = "invented.yaml") -> Case:
    names = ", ".join(f"{{leak: L{i}}}" for i in range(1, leaks + 1))
    text = CALLOUT.format(leaks=names, causes=causes, blind=blind)
    callout = Callout.parse(text, file, KNOWLEDGE.attributes)
    assert callout.truth is not None
    return Case(callout, callout.truth)


def always(monkeypatch: pytest.MonkeyPatch, shares: Mapping[str, float]) -> None:
    """Every wet place is answered with these beliefs."""
    monkeypatch.setattr(worked, "cause_beliefs", lambda *_: believed(shares))


# Rules of scoring.


def test_one_cause_leads() -> None:
    verdict = judge(KNOWLEDGE, ["honeycomb"], believed({"honeycomb": 0.8, "wall-foot-joint": 0.2}))
    assert (verdict.top_1, verdict.top_3, verdict.group_top_1) == (True, True, True)
    assert (verdict.through, verdict.right) == (True, True)
    assert verdict.log_loss == pytest.approx(-log(0.8))


def test_of_several_causes_any_may_lead_and_all_stand_in_the_first_three() -> None:
    truth = ["honeycomb", "wall-foot-joint"]
    third = {"honeycomb": 0.5, "waterstop-fault": 0.3, "wall-foot-joint": 0.2}
    verdict = judge(KNOWLEDGE, truth, believed(third))
    assert (verdict.top_1, verdict.top_3) == (True, True)
    assert verdict.log_loss == pytest.approx(-log(0.7))
    fourth = {**third, "waterstop-fault": 0.2, "service-penetration": 0.2, "wall-foot-joint": 0.1}
    verdict = judge(KNOWLEDGE, truth, believed(fourth))
    assert (verdict.top_1, verdict.top_3) == (True, False)
    assert verdict.log_loss == pytest.approx(-log(0.6))


def test_a_fault_within_another_is_hit_by_itself_only_and_its_group_counts() -> None:
    joint = believed({"wall-foot-joint": 0.6, "honeycomb": 0.4})
    verdict = judge(KNOWLEDGE, ["waterstop-fault"], joint)
    assert (verdict.top_1, verdict.group_top_1) == (False, True)
    fault = believed({"waterstop-fault": 0.6, "honeycomb": 0.4})
    verdict = judge(KNOWLEDGE, ["wall-foot-joint"], fault)
    assert (verdict.top_1, verdict.group_top_1) == (False, True)


def test_a_group_leads_by_its_sum() -> None:
    shares = {"honeycomb": 0.4, "wall-foot-joint": 0.3, "vertical-construction-joint": 0.3}
    verdict = judge(KNOWLEDGE, ["wall-foot-joint"], believed(shares))
    assert (verdict.top_1, verdict.group_top_1) == (False, True)


@pytest.mark.parametrize(
    ("truth", "leader", "right"),
    [
        ("surface-condensation", "supply-pipe-leak", True),
        ("surface-condensation", "honeycomb", False),
        ("early-thermal-crack", "honeycomb", True),
        ("not-in-this-list", "not-in-this-list", True),
        ("not-in-this-list", "honeycomb", False),
    ],
)
def test_through_the_concrete_or_not(truth: str, leader: str, right: bool) -> None:
    assert judge(KNOWLEDGE, [truth], believed({leader: 1.0})).through is right


def test_settled_on_a_group_is_right_when_the_group_is() -> None:
    shares = {"wall-foot-joint": 0.5, "waterstop-fault": 0.45, "honeycomb": 0.05}
    assert judge(KNOWLEDGE, ["vertical-construction-joint"], believed(shares)).right is True
    assert judge(KNOWLEDGE, ["honeycomb"], believed(shares)).right is False


def test_what_is_not_settled_is_neither_right_nor_wrong() -> None:
    shares = {"honeycomb": 0.5, "wall-foot-joint": 0.5}
    assert judge(KNOWLEDGE, ["honeycomb"], believed(shares)).right is None


def test_a_cause_that_is_out_costs_much_but_not_endlessly() -> None:
    verdict = judge(KNOWLEDGE, ["honeycomb"], believed({"wall-foot-joint": 1.0}))
    assert verdict.log_loss == pytest.approx(-log(worked.LEAST))


# The report.


def test_halves_are_reported_apart_and_together(monkeypatch: pytest.MonkeyPatch) -> None:
    always(monkeypatch, {"honeycomb": 0.8, "wall-foot-joint": 0.2})
    cases = [case("honeycomb", blind="yes"), case("honeycomb"), case("wall-foot-joint")]
    report = score(cases, KNOWLEDGE)
    assert report.blind is not None
    assert report.seen is not None
    assert report.together is not None
    assert (report.blind.cases, report.blind.top_1) == (1, 1.0)
    assert (report.seen.cases, report.seen.top_1, report.seen.top_3) == (2, 0.5, 1.0)
    assert report.seen.log_loss == pytest.approx((-log(0.8) - log(0.2)) / 2)
    assert (report.seen.settled, report.seen.right_when_settled) == (1.0, 0.5)
    assert report.together.top_1 == pytest.approx(2 / 3)


def test_a_file_counts_once_however_many_wet_places_it_has(monkeypatch: pytest.MonkeyPatch) -> None:
    always(monkeypatch, {"honeycomb": 1.0})
    report = score([case("honeycomb", leaks=3), case("wall-foot-joint")], KNOWLEDGE)
    assert report.together is not None
    assert (report.together.cases, report.together.top_1) == (2, pytest.approx(0.5))


def test_a_miss_says_what_led_and_what_the_truth_got(monkeypatch: pytest.MonkeyPatch) -> None:
    always(monkeypatch, {"honeycomb": 0.7, "wall-foot-joint": 0.2, "waterstop-fault": 0.1})
    report = score([case("wall-foot-joint, waterstop-fault", leaks=2)], KNOWLEDGE)
    assert [(m.file, m.leak, m.led) for m in report.misses] == [
        ("invented.yaml", "L1", "honeycomb"),
        ("invented.yaml", "L2", "honeycomb"),
    ]
    assert report.misses[0].truth == ("wall-foot-joint", "waterstop-fault")
    assert report.misses[0].led_confidence == pytest.approx(0.7)
    assert report.misses[0].confidence == pytest.approx(0.3)


def test_no_case_no_score() -> None:
    report = score([], KNOWLEDGE)
    assert (report.blind, report.seen, report.together, report.misses) == (None, None, None, ())


def test_the_report_goes_through_json() -> None:
    report = score([case("honeycomb")], KNOWLEDGE)
    assert TypeAdapter(CaseReport).validate_json(report.to_json()) == report


# Reading.


def write(folder: Path, name: str, causes: str = "honeycomb") -> Path:
    path = folder / name
    path.write_text(CALLOUT.format(leaks="{leak: L1}", causes=causes, blind="no"))
    return path


def test_folders_are_walked_and_the_floor_is_left_out(tmp_path: Path) -> None:
    (tmp_path / "deep" / "er").mkdir(parents=True)
    write(tmp_path, "b.yaml")
    write(tmp_path / "deep" / "er", "a.yaml")
    (tmp_path / FLOOR).write_text("blind: {}\n")
    (tmp_path / "notes.txt").write_text("no case\n")
    cases, problems = read_cases([tmp_path], KNOWLEDGE)
    assert [Path(c.callout.file).name for c in cases] == ["b.yaml", "a.yaml"]
    assert problems == ()


def test_faulty_files_are_all_told_and_the_others_still_read(tmp_path: Path) -> None:
    good = write(tmp_path, "good.yaml")
    write(tmp_path, "misspelt.yaml", "honeycom, wall-foot-joint, kicker")
    (tmp_path / "no-truth.yaml").write_text(
        "callout: c\nstructure: {kind: basement}\nleaks: [{leak: L1}]\n"
    )
    (tmp_path / "empty.yaml").write_text("")
    cases, problems = read_cases([tmp_path, tmp_path / "absent.yaml"], KNOWLEDGE)
    assert [c.callout.file for c in cases] == [str(good)]
    found = [(Path(p.file).name, p.line, p.key, p.nearest) for p in problems]
    assert ("misspelt.yaml", 4, "truth", "honeycomb") in found
    assert [f for f in found if f[0] == "misspelt.yaml"][1][3] is None
    assert ("no-truth.yaml", None, "truth", None) in found
    assert {name for name, *_ in found} == {
        "misspelt.yaml",
        "no-truth.yaml",
        "empty.yaml",
        "absent.yaml",
    }


def test_a_folder_without_a_case_is_told(tmp_path: Path) -> None:
    cases, problems = read_cases([tmp_path], KNOWLEDGE)
    assert cases == ()
    assert [p.message for p in problems] == ["there is no worked case in this folder"]


# The floor.


def floor(folder: Path, text: str) -> Path:
    path = folder / FLOOR
    path.write_text(text)
    return path


def test_below_the_floor(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    always(monkeypatch, {"honeycomb": 0.8, "wall-foot-joint": 0.2})
    report = score([case("honeycomb"), case("service-penetration")], KNOWLEDGE)
    low = floor(tmp_path, "seen: {top-1: 0.5, top-3: 0.5, log-loss: 11, because: reached}\n")
    assert below_floor(report, low) == ()
    high = floor(tmp_path, "seen: {top-1: 0.6, top-3: 0.7, log-loss: 0.1, because: wished}\n")
    assert below_floor(report, high) == (
        "seen: top-1 is 0.500, at least 0.6 is recorded",
        "seen: top-3 is 0.500, at least 0.7 is recorded",
        f"seen: log-loss is {(-log(0.8) - log(worked.LEAST)) / 2:.3f}, at most 0.1 is recorded",
    )
    other = floor(tmp_path, "blind: {top-1: 0, top-3: 0, log-loss: 99, because: reached}\n")
    assert below_floor(report, other) == ("blind: no case was read",)


@pytest.mark.parametrize(
    "text",
    [
        "sean: {top-1: 0.5, top-3: 0.5, log-loss: 1, because: x}",
        "seen: {top-1: 0.5, top-3: 0.5, log-loss: 1}",
        "seen: {top-1: half, top-3: 0.5, log-loss: 1, because: x}",
        "seen: 0.5",
        "",
    ],
)
def test_a_faulty_floor_is_refused(tmp_path: Path, text: str) -> None:
    path = floor(tmp_path, text)
    with pytest.raises(Faulty) as refused:
        below_floor(score([case("honeycomb")], KNOWLEDGE), path)
    assert refused.value.problems[0].file == str(path)
