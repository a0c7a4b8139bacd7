"""Whether the methods, limits and materials fit each other and the causes, rule by rule.

Rules of the project's sheets on repairs and on safety, by arithmetic or by the rule of the house;
each says which beside it. Gaps that are known stand in a table, by their key: a test that fails
there is no news, one that passes is.
"""

import re
from collections.abc import Iterable, Mapping

import numpy as np
import pytest

from advisor import open_knowledge
from advisor.engine import dependencies, variables_of
from advisor.engine.soundness import all_upstream
from advisor.repair.amounts import unit_of
from advisor.repair.holding import limits_of, rates

KNOWLEDGE = open_knowledge()
METHODS, LIMITS = KNOWLEDGE.methods, KNOWLEDGE.limits
UPSTREAM = dependencies(KNOWLEDGE.model)
ORIGINS = {v.key: v.origins or (v.key,) for v in KNOWLEDGE.model.variables}
UNKNOWN_CAUSE = "not-in-this-list"


def told(keys: Iterable[str], gaps: Mapping[str, str]) -> list[object]:
    """One case a key; known gaps fail strictly, with their reason."""
    return [
        pytest.param(
            key,
            marks=[pytest.mark.xfail(raises=AssertionError, reason=gaps[key])]
            if key in gaps
            else [],
        )
        for key in keys
    ]


def takes(method: str, activity: str) -> bool:
    return any(activity in step.takes for step in METHODS[method].steps)


def rests_on(limit: str) -> set[str]:
    """Attributes that the condition of a limit is settled from, through deductions and sums."""
    found = all_upstream(variables_of(LIMITS[limit].must), UPSTREAM)
    return {origin.partition(".")[0] for key in found for origin in (key, *ORIGINS[key])}


# Causes. Rule of the house: no cause without an answer.


@pytest.mark.parametrize("cause", [key for key in KNOWLEDGE.causes if key != UNKNOWN_CAUSE])
def test_every_cause_has_a_method_or_a_hand_over(cause: str) -> None:
    """One that is more than holding the water off, and that can be the lasting answer."""
    at = list(KNOWLEDGE.causes).index(cause)
    above = [m for m, rate in zip(METHODS.values(), rates(KNOWLEDGE)[:, at], strict=True) if rate]
    assert any(m.role not in ("hold", "slow") and "lasting" in m.horizons for m in above)


def test_no_rate_is_a_promise() -> None:
    found = rates(KNOWLEDGE)
    assert np.all((found >= 0) & (found < 1))
    assert found.shape == (len(METHODS), len(KNOWLEDGE.causes))


# Stiff fills. Sheet on repairs, S1 (verified, crack repair chapter after ACI 224.1R).

STIFF = [key for key in METHODS if takes(key, "rigid-fill")]
STIFF_GAPS = {
    "inner-wall-or-slab": "fills stiffly, no limit on movement (its design is asked for)",
}


@pytest.mark.parametrize("method", told(STIFF, STIFF_GAPS))
def test_a_stiff_fill_asks_whether_it_moves(method: str) -> None:
    asked = limits_of(KNOWLEDGE)[method]
    assert any({"moving", "cause-at-rest"} & variables_of(LIMITS[limit].must) for limit in asked)


# Drilling. Sheet on safety: no scan, no hole; a tendon that is cut lets go at once.

DRILLING = [key for key in METHODS if takes(key, "drill")]
SCAN = {"steel-found", "pipe-open-or-place-scanned"}
SCAN_GAPS: dict[str, str] = {}
TENDON_GAPS = {
    "corrosion-route": "a hand-over: its survey in a tensioned part is the engineer's to release",
    "expansion-route": "a hand-over: its core in a tensioned part is the engineer's to release",
    "void-fill": "a hand-over: its holes in a tensioned slab are the engineer's to release",
}
"""The stop on tensioned parts bars their drilling until the structural engineer releases it. A
limit would take away the hand-over to him."""


@pytest.mark.parametrize("method", told(DRILLING, SCAN_GAPS))
def test_what_drills_is_scanned_first(method: str) -> None:
    assert SCAN & {*limits_of(KNOWLEDGE)[method]}


@pytest.mark.parametrize("method", told(DRILLING, TENDON_GAPS))
def test_what_drills_asks_for_tendons(method: str) -> None:
    assert "not-tensioned" in limits_of(KNOWLEDGE)[method]


# Looks and units. Arithmetic.


def decides(limit: str, look: str) -> bool:
    return bool(rests_on(limit) & {*KNOWLEDGE.looks[look].attributes})


LOOKS_OF = [(limit.key, look) for limit in LIMITS.values() for look in limit.looks]
LOOK_GAPS: dict[tuple[str, str], str] = {}


@pytest.mark.parametrize("limit", LIMITS)
def test_some_look_decides_a_limit(limit: str) -> None:
    assert any(decides(limit, look) for look in LIMITS[limit].looks)


@pytest.mark.parametrize(
    ("limit", "look"),
    [
        pytest.param(
            *pair,
            marks=[pytest.mark.xfail(raises=AssertionError, reason=LOOK_GAPS[pair])]
            if pair in LOOK_GAPS
            else [],
        )
        for pair in LOOKS_OF
    ],
)
def test_each_look_of_a_limit_can_decide_it(limit: str, look: str) -> None:
    """The plan names the first that is not out of place, whichever that is."""
    assert decides(limit, look)


@pytest.mark.parametrize("method", METHODS)
def test_a_material_is_counted_in_the_unit_of_its_quantity(method: str) -> None:
    for material, quantity in METHODS[method].materials.items():
        assert KNOWLEDGE.materials[material].unit == unit_of(KNOWLEDGE, quantity), material


def test_every_material_is_used() -> None:
    assert {*KNOWLEDGE.materials} == {m for method in METHODS.values() for m in method.materials}


# Published values that disagree: sheet on repairs, section 10. (topic, method, figures of either)

SPACING = "port spacing and thickness"
DISAGREE = [
    (SPACING, "elastic-resin-injection", ("thickness", "400", "500")),
    (SPACING, "epoxy-injection", ("depth", "400", "500")),
    ("port spacing, most", "epoxy-injection", ("150", "350")),
    ("cement, smallest width", "fine-cement-injection", ("0.05", "1.50", "0.20")),
    ("epoxy, smallest width", "epoxy-injection", ("0.05", "0.13", "0.10")),
    ("polyurethane, smallest width", "elastic-resin-injection", ("0.30", "0.10", "0.2")),
    ("days to heal", "watch-and-wait", ("14", "28", "18")),
    ("depth of sealant", "sealant-renewal", ("13", "20")),
    ("depth of sealant", "rout-and-seal", ("13", "20")),
    ("groove", "chase-and-plug", ("25 by 25", "10 by 10 to 15")),
    ("groove", "rout-and-seal", ("6", "10", "15")),
    ("temperature of epoxy", "epoxy-injection", ("10", "8")),
    ("free rise of foam", "water-stop-foam", ("8", "15", "30")),
]
UNSTATED: dict[tuple[str, str], str] = {}


@pytest.mark.parametrize(
    ("topic", "method", "figures"),
    [
        pytest.param(
            *row,
            id=f"{row[0]}: {row[1]}",
            marks=[pytest.mark.xfail(raises=AssertionError, reason=UNSTATED[row[:2]])]
            if row[:2] in UNSTATED
            else [],
        )
        for row in DISAGREE
    ],
)
def test_values_that_disagree_are_stated(topic: str, method: str, figures: tuple[str, ...]) -> None:
    """All in one sentence or two of one entry, so that a reader sees both."""
    patterns = [rf"(?<![\d.]){re.escape(figure)}(?!\d|\.\d)" for figure in figures]
    said = METHODS[method].conflicts
    assert any(all(re.search(p, one) for p in patterns) for one in said), (topic, said)


def test_no_gap_is_told_that_is_none() -> None:
    assert {*STIFF_GAPS} <= {*STIFF}
    assert {*SCAN_GAPS, *TENDON_GAPS} <= {*DRILLING}
