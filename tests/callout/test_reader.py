"""Every form a callout file can take. All callouts here are invented."""

from datetime import date

import pytest

from advisor.callout import Callout, Reading
from advisor.terms import Faulty, Range
from tests.callout.conftest import Attributes, Parse

DESIGN_EXAMPLE = """\
callout: ID
private: {}                       # names, address, phone, contract; never leaves the file
structure: {kind: basement}       # attributes of the structure
visits:
  - {date: 2031-04-16}            # roles present, rain, outside water, pumps
leaks:
  - leak: L1
    where: "free text for people"
    findings:
      relation-to-joint: at the joint
      crack-width: 0.2-0.3 mm
      flow: {value: 40 drops/min, how: measured, visit: 1}
      wet-after-rain: {value: yes, how: told, sure: false}
"""

FULL = """\
callout: 2031-017
private:
  owner: Invented Owner
  phone: ["0123", "0456"]
  contract: {number: 12, signed: 2029-01-01}
structure:
  kind: basement
  pour-date: {value: 2030-03-01, how: document}
visits:
  - date: 2031-04-16
    rain: heavy
    roles-present: [occupant]
    outside-water-level: {value: 1.2 m, note: standpipe 2}
  - date: 2031-05-20
    outside-water-level: 0.4 m
leaks:
  - leak: north wall
    findings:
      crack-width:
        - {value: 0.2 mm, visit: 1}
        - {value: 0.5 mm, visit: 2}
        - {value: 0.3 mm, corrects: 2, note: card held wrong}
  - leak: L2
    same-water: north wall
truth: {causes: [wall-foot-joint], blind: true, because: cored}
"""


def reading(callout: Callout, key: str, number: int = 1) -> Reading:
    return callout.leaks[0].findings[key].readings[number - 1]


def test_the_example_of_the_design_is_valid_as_printed(parse: Parse) -> None:
    callout = parse(DESIGN_EXAMPLE)
    leak = callout.leaks[0]
    assert (callout.key, leak.key, leak.where) == ("ID", "L1", "free text for people")
    assert reading(callout, "crack-width").value == Range(0.2, 0.3)
    rain = reading(callout, "wet-after-rain")
    assert (rain.value, rain.how, rain.sure, rain.is_sure) == (1, "told", False, False)
    assert rain.day == date(2031, 4, 16)


def test_every_part_is_kept(parse: Parse) -> None:
    callout = parse(FULL)
    assert callout.key == "2031-017"
    assert callout.private == {
        "owner": "Invented Owner",
        "phone": ["0123", "0456"],
        "contract": {"number": "12", "signed": "2029-01-01"},
    }
    assert callout.structure["pour-date"].readings[0].value == date(2030, 3, 1)
    assert [visit.day for visit in callout.visits] == [date(2031, 4, 16), date(2031, 5, 20)]
    assert callout.visits[0].findings["outside-water-level"].readings[0].note == "standpipe 2"
    assert [leak.key for leak in callout.leaks] == ["north-wall", "L2"]
    assert callout.leaks[1].same_water == "north-wall"
    assert callout.truth is not None
    assert callout.truth.causes == ("wall-foot-joint",)
    assert callout.truth.blind
    assert callout.last_day == date(2031, 5, 20)
    assert [f.attribute for f in callout.findings()] == [
        "kind",
        "pour-date",
        "rain",
        "roles-present",
        "outside-water-level",
        "outside-water-level",
        "crack-width",
    ]


def test_a_correction_is_an_addition_and_takes_the_day_of_what_it_corrects(parse: Parse) -> None:
    callout = parse(FULL)
    assert [r.value for r in callout.leaks[0].findings["crack-width"].readings] == [
        Range.point(0.2),
        Range.point(0.5),
        Range.point(0.3),
    ]
    third = reading(callout, "crack-width", 3)
    assert (third.corrects, third.visit, third.day) == (2, 2, date(2031, 5, 20))


@pytest.mark.parametrize(
    "findings", ["", "    findings: {}\n", "    findings:\n"], ids=["none", "empty", "blank"]
)
@pytest.mark.parametrize("visits", ["", "visits: []\n", "visits:\n"])
def test_a_kind_and_one_wet_place_are_enough(parse: Parse, findings: str, visits: str) -> None:
    text = f"callout: X\nstructure: {{kind: tank}}\n{visits}leaks:\n  - leak: L1\n{findings}"
    callout = parse(text)
    assert callout.leaks[0].findings == {}
    assert callout.last_day is None
    assert callout.structure["kind"].readings[0].day is None


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("member: wall", 0b1),
        ("member: wall or floor", 0b11),
        ("member: {not: wall}", 0b11110),
        ("member: {not: [wall, floor]}", 0b11100),
        ("member: column or beam", 0b1000),
        ("member: unknown", 0b11111),
        ("member: {value: {not: wall}, how: told}", 0b11110),
        ("wet-after-rain: no", 0b10),
        ("crack-width: 0,3 mm", Range.point(0.3)),
        ("crack-width: under 0.2 mm", Range(0, 0.2)),
        ("first-wet: 2030-11-02", date(2030, 11, 2)),
    ],
)
def test_forms_of_a_value(one_finding: Parse, written: str, value: object) -> None:
    callout = one_finding(written)
    assert reading(callout, written.split(":", maxsplit=1)[0]).value == value


@pytest.mark.parametrize(
    ("written", "has", "has_not"),
    [
        ("deposits: [lime, rust]", {"lime", "rust"}, None),
        ("deposits: lime", {"lime"}, None),
        ("deposits: []", set(), None),
        ("deposits: {has: [lime], has-not: [rust]}", {"lime"}, {"rust"}),
        ("deposits: {value: {has: lime}, sure: no}", {"lime"}, set()),
        ("deposits: [{value: [lime], visit: 1}]", {"lime"}, None),
    ],
)
def test_forms_of_several_choices(
    one_finding: Parse,
    attributes: Attributes,
    written: str,
    has: set[str],
    has_not: set[str] | None,
) -> None:
    """Has not, where None stands: all others of the list."""
    choices = [c.key for c in attributes["deposits"].choices]
    has_not = set(choices) - has if has_not is None else has_not
    value = reading(one_finding(written), "deposits").value
    assert value == tuple(
        sum(1 << choices.index(choice) for choice in some) for some in (has, has_not)
    )


@pytest.mark.parametrize("why", ["not-asked", "nobody-knows", "no-access", "not-applicable"])
def test_missing_has_kinds(one_finding: Parse, why: str) -> None:
    found = reading(
        one_finding(f"flow: {{missing: {why.replace('-', ' ')}, note: locked}}"), "flow"
    )
    assert (found.value, found.missing, found.note) == (None, why, "locked")


def test_a_day_that_is_unknown_is_one_that_nobody_knows(one_finding: Parse) -> None:
    found = reading(one_finding("first-wet: unknown"), "first-wet")
    assert (found.value, found.missing) == (None, "nobody-knows")


@pytest.mark.parametrize(
    ("written", "visit", "day"),
    [
        ("flow: 1 L/h", 3, date(2031, 6, 16)),
        ("flow: {value: 1 L/h, visit: 1}", 1, date(2031, 4, 16)),
        ("flow: {value: 1 L/h, date: 2031-05-01}", 2, date(2031, 5, 1)),
        ("flow: {value: 1 L/h, date: 2031-05-01, visit: 3}", 3, date(2031, 5, 1)),
    ],
)
def test_when_a_reading_was_made(one_finding: Parse, written: str, visit: int, day: date) -> None:
    found = reading(one_finding(written), "flow")
    assert (found.visit, found.day) == (visit, day)


def test_the_last_visit_is_the_latest_day_not_the_last_line(parse: Parse) -> None:
    callout = parse(
        "callout: X\nstructure: {kind: tank}\n"
        "visits: [{date: 2031-05-01}, {date: 2031-04-01}]\n"
        "leaks: [{leak: L1, findings: {member: wall}}]\n"
    )
    assert reading(callout, "member").visit == 1


@pytest.mark.parametrize(
    ("written", "how", "sure"),
    [
        ("member: wall", "seen", True),
        ("crack-width: 1 mm", "measured", True),
        ("member: {value: wall, how: document}", "document", True),
        ("member: {value: wall, how: told}", "told", False),
        ("member: {value: wall, how: assumed}", "assumed", False),
        ("member: {value: wall, how: assumed, sure: yes}", "assumed", True),
        ("member: {value: wall, sure: false}", "seen", False),
    ],
)
def test_how_known_says_how_sure(one_finding: Parse, written: str, how: str, sure: bool) -> None:
    found = reading(one_finding(written), written.split(":", maxsplit=1)[0])
    assert (found.how, found.is_sure) == (how, sure)


def test_what_is_worked_out_may_be_answered_directly(one_finding: Parse) -> None:
    callout = one_finding("concrete-age: 3 years\nwet-places: 5\nregular-pitch: yes")
    assert reading(callout, "wet-places").value == Range.point(5)


def test_a_wrong_day_that_was_corrected_is_no_fault(parse: Parse) -> None:
    text = (
        "callout: X\n"
        "structure:\n"
        "  kind: tank\n"
        "  pour-date: [{value: 2091-01-01}, {value: 2030-01-01, corrects: 1}]\n"
        "visits: [{date: 2031-05-01}]\n"
        "leaks: [{leak: L1, findings: {member: wall}}]\n"
    )
    assert len(parse(text).structure["pour-date"].readings) == 2


def test_all_faults_of_a_file_are_told_at_once(attributes: Attributes) -> None:
    text = (
        "callout: a/b\n"
        "structure: {kind: basment, crack-width: 1 mm}\n"
        "visits: [{date: 2031-04-16, rain: hevy}]\n"
        "leaks:\n"
        "  - leak: L1\n"
        "    findings:\n"
        "      crack-width: 0.3\n"
        "      air-humidity: 140 %\n"
        "      flow: {value: 1 L/h, visit: 9, how: guessed}\n"
        "      colour: green\n"
        "  - leak: L1\n"
        "    same-water: L9\n"
        "truth: {cause: x}\n"
        "remarks: none\n"
    )
    with pytest.raises(Faulty) as caught:
        Callout.parse(text, "f.yaml", attributes)
    told = [(p.line, p.key) for p in caught.value.problems]
    assert sorted(told, key=str) == sorted(
        [
            (1, "callout"),
            (2, "kind"),
            (2, "crack-width"),
            (3, "rain"),
            (7, "crack-width"),
            (8, "air-humidity"),
            (9, "visit"),
            (9, "how"),
            (10, "colour"),
            (11, "leak"),
            (13, "cause"),
            (14, "remarks"),
        ],
        key=str,
    )


def test_a_fault_in_the_visits_blames_no_finding(attributes: Attributes) -> None:
    text = (
        "callout: X\nstructure: {kind: tank}\nvisits: yesterday\n"
        "leaks: [{leak: L1, findings: {flow: {value: 1 L/h, visit: 2}}}]\n"
    )
    with pytest.raises(Faulty) as caught:
        Callout.parse(text, "f.yaml", attributes)
    assert [p.key for p in caught.value.problems] == ["visits"]


def test_the_shipped_attributes_are_the_default() -> None:
    callout = Callout.parse(DESIGN_EXAMPLE, "f.yaml")
    assert "flow" in callout.leaks[0].findings
