"""Numbers worked out in a diagnosis: the chain of sums, what is taken, what it does to belief.

The callouts are invented.
"""

import pytest

from advisor import Callout, assess
from advisor.assessment import LeakResult
from advisor.diagnosis import WorkedOutFact

WALL = """
callout: invented-wall
structure: {kind: KIND}
visits: [{date: 2031-04-16, outside-water-level: LEVEL m}]
leaks:
  - leak: L1
    findings:
      crack-visible: yes
      crack-width: 0.2 mm
      wall-thickness: 300 mm
      place-level: 0.4 m
      water-temperature: 10 °C
      wet-length: 1.5 m
      flow: FLOW
"""


def result(
    flow: str = "2 L/h", level: str = "3.4", kind: str = "basement", more: str = ""
) -> LeakResult:
    text = WALL.replace("FLOW", flow).replace("LEVEL", level).replace("KIND", kind)
    (leak,) = assess(Callout.parse(text + more, "wall.yaml")).leaks
    return leak


def fact(leak: LeakResult, key: str) -> WorkedOutFact:
    return next(f for f in leak.worked_out if f.attribute == key)


def given(leak: LeakResult) -> set[str]:
    return {f.attribute for f in leak.worked_out}


def of_cause(leak: LeakResult, cause: str, attribute: str) -> float:
    found = next(c for c in leak.causes if c.cause == cause)
    return next((e.times for e in (*found.for_, *found.against) if e.attribute == attribute), 1.0)


def test_the_chain_from_heights_to_flow_is_told_step_by_step() -> None:
    leak = result()
    assert fact(leak, "head-here").low == pytest.approx(3.0)
    assert fact(leak, "gradient").likely == pytest.approx(10.0)
    # Check value of the facts on water, section 1.1: 0.20 mm, gradient 10, 10 °C.
    flow = fact(leak, "crack-flow-a-metre")
    assert [flow.low, flow.likely, flow.high] == pytest.approx([18.02, 45.04, 93.69], rel=1e-3)
    assert [i.attribute for i in flow.inputs] == [
        "crack-width",
        "head-here",
        "wall-thickness",
        "water-temperature",
    ]
    assert flow.formula
    assert flow.source
    assert flow.sure


def test_what_is_taken_where_nobody_measured_makes_it_unsure() -> None:
    text = WALL.replace("      water-temperature: 10 °C\n", "")
    text = text.replace("FLOW", "2 L/h").replace("LEVEL", "3.4").replace("KIND", "basement")
    (leak,) = assess(Callout.parse(text, "wall.yaml")).leaks
    flow = fact(leak, "crack-flow-a-metre")
    assert [i.assumed for i in flow.inputs] == [False, False, False, True]
    assert not flow.sure


def test_the_head_is_that_of_the_water_on_the_other_side() -> None:
    held = "      other-side-here: held-water\n"
    with_level = WALL.replace("outside-water-level: LEVEL m", "held-water-level: 5.4 m")
    text = with_level.replace("FLOW", "2 L/h").replace("KIND", "tank") + held
    (leak,) = assess(Callout.parse(text, "tank.yaml")).leaks
    assert fact(leak, "head-here").low == pytest.approx(5.0)
    assert "outside-head" not in given(leak)


def test_nothing_is_made_of_a_level_that_may_be_of_the_other_side() -> None:
    assert "head-here" not in given(result(kind="tank"))


@pytest.mark.parametrize(
    ("flow", "says"), [("600 L/h", "too little"), ("20 L/h", None), ("0.05 L/h", "far more")]
)
def test_the_crack_against_the_measured_flow(flow: str, says: str | None) -> None:
    means = fact(result(flow), "flow-against-crack").means
    assert says in means if says and means else means is None


def test_a_crack_that_passes_too_little_speaks_against_cracks() -> None:
    read = "crack-carries-the-flow"
    assert of_cause(result("600 L/h"), "early-thermal-crack", read) < 0.5
    assert of_cause(result("20 L/h"), "early-thermal-crack", read) > 0.9


def test_heights_say_whether_outside_water_stands_above_the_place() -> None:
    read = "outside-water"
    above, below = result(level="3.4"), result(level="-2")
    assert of_cause(above, "wall-foot-joint", read) > of_cause(below, "wall-foot-joint", read)
    assert fact(below, "gradient").high == 0


def test_what_was_found_directly_is_not_worked_out_again() -> None:
    leak = result(more="      head-here: 1 m\n")
    assert "head-here" not in given(leak)
    assert fact(leak, "gradient").likely == pytest.approx(1 / 0.3)


def test_a_crack_wider_than_the_part_is_remarked_and_says_nothing() -> None:
    text = WALL.replace("0.2 mm", "60 mm").replace("300 mm", "50 mm")
    text = text.replace("FLOW", "2 L/h").replace("LEVEL", "3.4").replace("KIND", "basement")
    found = assess(Callout.parse(text, "wall.yaml"))
    assert any("wider than the part" in r.message for r in found.remarks)
    assert "crack-flow-a-metre" not in given(found.leaks[0])


def test_too_fast_for_a_likely_figure_there_are_still_bounds() -> None:
    text = WALL.replace("crack-width: 0.2 mm", "crack-width: 2 mm")
    text = text.replace("FLOW", "2 L/h").replace("LEVEL", "3.4").replace("KIND", "basement")
    found = assess(Callout.parse(text, "wall.yaml"))
    flow = fact(found.leaks[0], "crack-flow-a-metre")
    assert flow.likely is None
    assert 0 < flow.low < flow.high
    assert any("too fast" in remark for remark in flow.remarks)
    assert '"likely": null' in found.to_json()
