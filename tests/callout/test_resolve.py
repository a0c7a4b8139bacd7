"""The row of a wet place. All callouts are invented."""

from advisor.callout import Callout, Resolved, resolve, without, without_each
from advisor.knowledge import open_knowledge
from advisor.terms import Range
from tests.callout.conftest import Attributes, Parse

POINT = Range.point

TWO_VISITS = """\
callout: X
structure: {kind: basement, pour-date: 2030-01-01}
visits:
  - {date: 2031-04-16, outside-water-level: 1 m, rain: heavy}
  - {date: 2031-05-16, outside-water-level: 3 m}
leaks:
  - leak: L1
    findings:
      first-wet: {value: 2030-03-02, how: told}
      crack-width: [{value: 0.2 mm, visit: 1}, {value: 0.3 mm, visit: 2}]
      deposits: {has: [lime], has-not: [rust]}
      member: {missing: not-applicable}
      wetness: unknown
      joint-face: {missing: no-access}
      along-metres: 1.2 m
  - leak: L2
    same-water: L1
    findings: {along-metres: 2.4 m, member: wall}
  - leak: L3
    findings: {along-metres: 3.6 m}
"""


def row(callout: Callout, attributes: Attributes, leak: int = 0) -> dict[str, Resolved]:
    return resolve(callout, callout.leaks[leak], attributes)


def test_a_row_holds_every_known_variable_and_no_other(
    parse: Parse, attributes: Attributes
) -> None:
    known = row(parse(TWO_VISITS), attributes)
    assert {key: found.value for key, found in known.items()} == {
        "kind": 1,
        "kind.first": 1,
        "outside-water-level": POINT(3),
        "outside-water-level.first": POINT(1),
        "outside-water-level.highest": POINT(3),
        "outside-water-level.lowest": POINT(1),
        "outside-water-level.change": POINT(2),
        "rain": 0b100,
        "rain.first": 0b100,
        "crack-width": POINT(0.3),
        "crack-width.first": POINT(0.2),
        "crack-width.highest": POINT(0.3),
        "crack-width.lowest": POINT(0.2),
        "crack-width.change": POINT(0.1),
        "deposits.lime": 1,
        "deposits.rust": 2,
        "member": None,
        "along-metres": POINT(1.2),
        "along-metres.first": POINT(1.2),
        "along-metres.highest": POINT(1.2),
        "along-metres.lowest": POINT(1.2),
        "age-when-first-wet": POINT(60),
        "concrete-age": POINT(500),
        "regular-pitch": 1,
        "wet-places": POINT(3),
    }
    assert [key for key, found in known.items() if found.not_applicable] == ["member"]
    assert [key for key, found in known.items() if not found.sure] == ["age-when-first-wet"]


def test_a_link_shares_the_water_and_nothing_else(parse: Parse, attributes: Attributes) -> None:
    linked = row(parse(TWO_VISITS), attributes, leak=1)
    assert linked["member"] == Resolved(1)
    assert "deposits.lime" not in linked
    assert linked["wet-places"].value == POINT(3)


def test_a_direct_answer_beats_what_is_worked_out(
    one_finding: Parse, attributes: Attributes
) -> None:
    known = row(one_finding("concrete-age: 3 days\nwet-places: 7"), attributes)
    assert known["concrete-age"].value == POINT(3)
    assert known["wet-places"].value == POINT(7)
    left = row(one_finding("concrete-age: {missing: not-asked}"), attributes)
    assert left["concrete-age"].value == POINT(531)


def test_an_age_needs_both_days(parse: Parse, attributes: Attributes) -> None:
    text = TWO_VISITS.replace("pour-date: 2030-01-01", "pour-date: unknown")
    known = row(parse(text), attributes)
    assert "concrete-age" not in known
    assert "age-when-first-wet" not in known
    bare = parse("callout: X\nstructure: {kind: tank, pour-date: 2030-01-01}\nleaks: [{leak: A}]\n")
    assert "concrete-age" not in row(bare, attributes)


def test_corrections_stay_within_their_visit(parse: Parse, attributes: Attributes) -> None:
    text = (
        "callout: X\nstructure: {kind: basement}\nvisits:\n"
        "  - {date: 2031-04-16, outside-water-level: [{value: 9 m}, {value: 1 m, corrects: 1}]}\n"
        "  - {date: 2031-05-16, outside-water-level: 3 m}\n"
        "leaks: [{leak: L1}]\n"
    )
    known = row(parse(text), attributes)
    assert known["outside-water-level.highest"].value == POINT(3)
    assert known["outside-water-level.first"].value == POINT(1)


def test_what_excludes_each_other_is_listed(one_finding: Parse, attributes: Attributes) -> None:
    known = row(one_finding("wet-after-rain: [{value: yes}, {value: no, how: told}]"), attributes)
    assert known["wet-after-rain"] == Resolved(0b11, sure=False, excluded=("yes", "no"))


def test_half_known_and_unsure_in_one_finding(one_finding: Parse, attributes: Attributes) -> None:
    known = row(one_finding("member: {value: wall or floor, how: told}"), attributes)
    assert known["member"] == Resolved(0b11, sure=False)


def test_without_a_finding_all_that_is_worked_out_from_it_goes(
    parse: Parse, attributes: Attributes
) -> None:
    callout = parse(TWO_VISITS)
    leak = callout.leaks[0]
    known = resolve(callout, leak, attributes)

    def gone(key: str) -> set[str]:
        return known.keys() - without(callout, leak, key, attributes).keys()

    assert gone("pour-date") == {"concrete-age", "age-when-first-wet"}
    assert gone("first-wet") == {"age-when-first-wet"}
    assert gone("deposits") == {"deposits.lime", "deposits.rust"}
    assert gone("rain") == {"rain", "rain.first"}
    assert "regular-pitch" in gone("along-metres")
    assert gone("sounding") == set()


def test_without_each_is_without_for_each(parse: Parse, attributes: Attributes) -> None:
    callout = parse(TWO_VISITS)
    for leak in callout.leaks:
        each = without_each(callout, leak, attributes)
        assert {"kind", "pour-date", "rain", "along-metres"} <= each.keys()
        for key, known in each.items():
            assert known == without(callout, leak, key, attributes)


def test_the_order_of_findings_does_not_matter(parse: Parse, attributes: Attributes) -> None:
    lines = ["member: wall", "flow: 1 L/h", "deposits: [lime]", "first-wet: 2030-05-01"]
    head = (
        "callout: X\nstructure: {kind: tank, pour-date: 2030-01-01}\n"
        "visits: [{date: 2031-01-01}]\nleaks:\n  - leak: L1\n    findings:\n"
    )
    one, other = (
        row(parse(head + "".join(f"      {line}\n" for line in order)), attributes)
        for order in (lines, lines[::-1])
    )
    assert one == other


def test_what_was_found_of_the_water_holds_where_the_same_water_comes_out() -> None:
    attributes = open_knowledge().attributes
    callout = Callout.parse(
        """
callout: linked
structure: {kind: basement}
visits: [{date: 2031-04-16}]
leaks:
  - {leak: L1, findings: {chlorine: found, wet-shape: patch}}
  - {leak: L2, same-water: L1, findings: {wet-shape: ring}}
  - {leak: L3, same-water: L2}
  - {leak: L4}
""",
        "linked.yaml",
        attributes,
    )
    rows = [resolve(callout, leak, attributes) for leak in callout.leaks]
    assert [row["chlorine"].value if "chlorine" in row else None for row in rows] == [
        0b01,
        0b01,
        0b01,
        None,
    ]
    assert rows[1]["wet-shape"] != rows[0]["wet-shape"]
