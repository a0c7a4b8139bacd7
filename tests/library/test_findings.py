"""Findings as they are kept: said and read again they are the same; what cannot be read is told."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor import Callout, open_knowledge
from advisor.callout import Resolved, resolve
from advisor.diagnosis import table_of
from advisor.library.alike.findings import KEPT_KINDS, read_findings, say_findings
from advisor.library.case import KeptFinding
from advisor.terms import Attribute, Range

KNOWLEDGE = open_knowledge()
ATTRIBUTES = KNOWLEDGE.attributes
CHOICES = [a for a in ATTRIBUTES.values() if a.kind in ("choice", "yes-no")]
NUMBERS = [a for a in ATTRIBUTES.values() if a.kind == "number"]
SEVERAL = [a for a in ATTRIBUTES.values() if a.kind == "several"]

CALLOUT = """
callout: invented
structure: {kind: basement, pour-date: 2029-05-01}
visits: [{date: 2031-02-16, danger-signs: []}]
leaks:
  - leak: L1
    where: left of the door
    findings:
      relation-to-joint: at-the-joint or beside-the-joint
      crack-width:
        - {value: 0.1 mm, visit: 1}
        - {value: 0.2 to 0.3 mm, visit: 1, how: told, corrects: 1}
      deposits: [lime]
      bay-length: under 6 m
      joint-kind: {missing: not-applicable}
"""


def choices(attribute: Attribute) -> st.SearchStrategy[Resolved]:
    """Any set of choices, but for all of them, which says nothing."""
    return st.builds(Resolved, st.integers(1, attribute.every_choice - 1), sure=st.booleans())


def ranges(attribute: Attribute) -> st.SearchStrategy[Range]:
    """Of any number, and of such as people write. Nothing smaller than a millionth is measured."""
    any_one = st.floats(attribute.lowest, attribute.highest)
    short = any_one.map(lambda x: float(f"{x:.3g}"))
    one = (any_one | short).filter(
        lambda x: attribute.lowest <= x <= attribute.highest and (x == 0 or abs(x) > 1e-6)
    )
    two = st.tuples(one, one).filter(lambda pair: pair[0] != pair[1])
    return one.map(Range.point) | two.map(lambda pair: Range(min(pair), max(pair)))


@given(st.data())
def test_choices_read_again_are_the_same(data: st.DataObject) -> None:
    attribute = data.draw(st.sampled_from(CHOICES))
    facts = {attribute.key: data.draw(choices(attribute))}
    assert read_findings(KNOWLEDGE, say_findings(KNOWLEDGE, facts)) == (facts, ())


@given(st.data())
def test_one_of_several_choices_reads_again_the_same(data: st.DataObject) -> None:
    attribute = data.draw(st.sampled_from(SEVERAL))
    choice = data.draw(st.sampled_from(attribute.choices))
    key = f"{attribute.key}.{choice.key}"
    facts = {key: Resolved(data.draw(st.sampled_from([1, 2])), sure=data.draw(st.booleans()))}
    said = say_findings(KNOWLEDGE, facts)
    assert said[key].value in ("yes", "no")
    assert read_findings(KNOWLEDGE, said) == (facts, ())


@given(st.data())
def test_numbers_read_again_are_the_same(data: st.DataObject) -> None:
    attribute = data.draw(st.sampled_from(NUMBERS))
    value = data.draw(ranges(attribute))
    facts = {attribute.key: Resolved(value)}
    said = say_findings(KNOWLEDGE, facts)
    if not said:  # a range of all that can be says nothing
        assert value.lo <= attribute.lowest
        assert value.hi > attribute.highest
        return
    read, problems = read_findings(KNOWLEDGE, said)
    assert not problems
    again = read[attribute.key].value
    assert isinstance(again, Range)
    assert (again.lo, again.hi) == (value.lo, value.hi)


@pytest.mark.parametrize("sure", [True, False])
def test_what_does_not_apply_stays_so(sure: bool) -> None:
    for attribute in (CHOICES[1], NUMBERS[0]):
        facts = {attribute.key: Resolved(sure=sure, not_applicable=True)}
        said = say_findings(KNOWLEDGE, facts)
        assert said == {attribute.key: KeptFinding(value=None, sure=sure)}
        assert read_findings(KNOWLEDGE, said) == (facts, ())


def facts_of_the_callout() -> dict[str, Resolved]:
    callout = Callout.parse(CALLOUT, "invented.yaml", ATTRIBUTES)
    return resolve(callout, callout.leaks[0], ATTRIBUTES)


def test_a_callout_as_it_is_kept() -> None:
    said = say_findings(KNOWLEDGE, facts_of_the_callout())
    assert said["relation-to-joint"].value == "at-the-joint or beside-the-joint"
    assert said["crack-width"] == KeptFinding(value="0.2-0.3 mm", sure=False)
    assert said["bay-length"].value == "under 6 m"
    assert said["deposits.lime"].value == "yes"
    assert said["deposits.rust"].value == "no"
    assert said["joint-kind"].value is None
    assert "pour-date" not in said
    assert not any(key.endswith((".first", ".highest", ".lowest", ".change")) for key in said)


def test_the_engine_believes_of_the_kept_case_what_it_did_of_the_callout() -> None:
    facts = facts_of_the_callout()
    read, problems = read_findings(KNOWLEDGE, say_findings(KNOWLEDGE, facts))
    assert not problems
    beliefs = KNOWLEDGE.engine.run(table_of(KNOWLEDGE.engine, [facts, read])).beliefs
    assert beliefs[0] == pytest.approx(beliefs[1], abs=1e-12)


@pytest.mark.parametrize("attribute", CHOICES, ids=lambda a: a.key)
def test_what_is_all_but_one_choice_fits_into_the_kept_form(attribute: Attribute) -> None:
    for bit in range(len(attribute.choices)):
        facts = {attribute.key: Resolved(attribute.every_choice & ~(1 << bit))}
        assert read_findings(KNOWLEDGE, say_findings(KNOWLEDGE, facts)) == (facts, ())


def test_what_cannot_be_read_is_told_and_the_rest_is_taken() -> None:
    date = next(a.key for a in ATTRIBUTES.values() if a.kind == "date")
    written = {
        "crack-wdth": "0.2 mm",
        "crack-width": "0.2",
        "deposits": "lime",
        "deposits.lme": "yes",
        "crack-width.first": "0.2 mm",
        date: "2031-01-01",
        "member": "wal",
        "crack-visible": "not perhaps",
        "bay-length": "5 m",
    }
    findings = {key: KeptFinding(value=value) for key, value in written.items()}
    facts, problems = read_findings(KNOWLEDGE, findings, "case 7")
    assert set(facts) == {"bay-length"}
    assert [problem.key for problem in problems] == list(written)[:-1]
    assert str(problems[0]) == (
        'case 7: crack-wdth: this attribute is not known here; did you mean "crack-width"?'
    )
    assert problems[6].nearest == "wall"


def test_a_hundred_and_more_faults_are_all_told() -> None:
    findings = {f"odd-{number}": KeptFinding(value="yes") for number in range(250)}
    facts, problems = read_findings(KNOWLEDGE, findings)
    assert not facts
    assert len(problems) == 250


def test_only_these_kinds_are_kept() -> None:
    keys = {a.key for a in ATTRIBUTES.values() if a.kind not in KEPT_KINDS}
    assert not say_findings(KNOWLEDGE, {key: Resolved("words") for key in keys})
