"""Published tables of crack width x movement x water, against the methods that are free here.

Sources as in the project's sheet on repairs: Japanese public-works width and movement table
(verified in a trade copy), German injection limits by filler (verified in a textbook), US federal
guide specification 03931 (verified), US General Services Administration on dormant cracks
(verified), BS 8102:2009 on drained linings (verified). A cell says what may be used and what not.
"""

from functools import cache

import pytest

from advisor import Callout, open_knowledge
from advisor.callout import resolve
from advisor.diagnosis import place_of
from advisor.engine import dependencies, variables_of
from advisor.engine.soundness import all_upstream
from advisor.repair import method_beliefs, weighed

KNOWLEDGE = open_knowledge()
STIFF = {"epoxy-injection", "fine-cement-injection", "gravity-fed-resin", "chase-and-plug"}


@cache
def out(width: str, trend: str, wetness: str, more: str = "") -> frozenset[str]:
    """Methods that a crack of this width, movement and water rules out. An invented wall."""
    text = f"""
callout: invented
structure: {{kind: basement, tensioned: no, pour-date: 2026-01-01, has-movement-joints: no}}
visits: [{{date: 2031-04-16}}]
leaks:
  - leak: L1
    findings: {{member: wall, crack-visible: yes, crack-form: vertical-mid-bay,
      relation-to-joint: away-from-joints, crack-width: {width}, width-trend: {trend},
      wetness: {wetness}, surface-temperature: 15 °C, steel-scan: clear-spots-marked {more}}}
"""
    callout = Callout.parse(text, "invented.yaml", KNOWLEDGE.attributes)
    place = place_of(KNOWLEDGE, resolve(callout, callout.leaks[0], KNOWLEDGE.attributes))
    return frozenset(m.method for m in method_beliefs(weighed(place)) if m.ruled_out is not None)


@pytest.mark.parametrize("width", ["0.15 mm", "0.5 mm", "1.5 mm"])
@pytest.mark.parametrize("wetness", ["stain-only", "drips"])
def test_a_crack_that_moves_takes_no_stiff_fill(width: str, wetness: str) -> None:
    """All rows "moves" of the Japanese table: soft or flexible fills only. GSA: epoxy for dormant
    cracks only."""
    assert STIFF - {"gravity-fed-resin"} <= out(width, "seasonal", wetness)
    assert "crystalline-slurry" in out(width, "seasonal", wetness)


def test_a_wide_crack_that_moves_is_routed_and_sealed_when_dry() -> None:
    """Japanese table, 1.0 mm and more, moves: U-cut and sealant. US 03931: faces dry."""
    assert "rout-and-seal" not in out("1.5 mm", "seasonal", "stain-only")
    assert "rout-and-seal" in out("1.5 mm", "seasonal", "drips")


def test_a_still_crack_from_0_2_to_1_mm_is_injected_stiff_when_dry() -> None:
    """Japanese table, 0.2 to under 1.0 mm, does not move: hard epoxy; water state added."""
    assert "epoxy-injection" not in out("0.5 mm", "stable", "stain-only")
    assert "epoxy-injection" in out("0.5 mm", "stable", "drips")


@pytest.mark.parametrize(
    ("method", "least"),
    [("fine-cement-injection", 0.20), ("elastic-resin-injection", 0.20)],
)
def test_the_smallest_width_of_a_filler(method: str, least: float) -> None:
    """German table: cement suspension 0.20 mm; polyurethane 0.30 mm in the older rule, 0.1 as a
    product class: 0.2 mm is taken, and the conflict stands in the entry."""
    assert method in out(f"{least - 0.05:g} mm", "stable", "paper-colours")
    assert method not in out(f"{least + 0.05:g} mm", "stable", "paper-colours")
    if method == "elastic-resin-injection":
        assert "0.30" in " ".join(KNOWLEDGE.methods[method].conflicts)


def test_epoxy_and_sealant_want_it_warm_and_dry() -> None:
    """US 03931: above 10 °C; sealing on dry faces."""
    for method in ("epoxy-injection", "rout-and-seal"):
        assert "face-from-10-degrees" in KNOWLEDGE.methods[method].limits


def test_drill_and_plug_wants_a_straight_crack_and_an_end() -> None:
    """US 03931."""
    assert "drill-and-plug" in out("0.5 mm", "stable", "drips", ", crack-course: irregular")
    assert "drill-and-plug" in out("0.5 mm", "stable", "drips", ", end-in-reach: no")


def test_a_drained_lining_takes_no_running_water() -> None:
    """BS 8102:2009: leaks that are not acceptable are cured first."""
    assert "cavity-drainage" in out("0.5 mm", "stable", "runs")
    assert "outlet-kept-up" in KNOWLEDGE.methods["cavity-drainage"].limits


def test_every_cause_has_a_method_or_a_hand_over() -> None:
    named = {key for m in KNOWLEDGE.methods.values() for line in m.holds for key in line.named}
    for cause in KNOWLEDGE.causes.values():
        if cause.key != "not-in-this-list":
            assert {cause.key, cause.group} & named, cause.key


def test_every_limit_has_a_look_that_can_decide_it() -> None:
    upstream = dependencies(KNOWLEDGE.model)
    for limit in KNOWLEDGE.limits.values():
        rests = variables_of(limit.must) | all_upstream(variables_of(limit.must), upstream)
        found = {v.partition(".")[0] for v in rests}
        origins = {o for v in KNOWLEDGE.model.variables if v.key in rests for o in v.origins}
        seen = {key for look in limit.looks for key in KNOWLEDGE.looks[look].attributes}
        assert seen & (found | origins), limit.key


def test_what_drills_is_scanned_first() -> None:
    """No record of a scan, no advice to drill: safety sheet."""
    scanned = {"steel-found", "pipe-open-or-place-scanned"}
    for method in KNOWLEDGE.methods.values():
        if any("drill" in step.takes for step in method.steps if step.kind in ("prepare", "seal")):
            assert scanned & {*method.limits}, method.key
