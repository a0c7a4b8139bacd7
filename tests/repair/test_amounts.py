"""Quantities of a plan against the sum by hand, and what they say where something is not known."""

from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor import Callout
from advisor.assessment import assess
from advisor.repair import Amount
from advisor.repair.amounts import Ledger, amount, load
from tests.repair.crack import CRACK, changed, knowledge, place_of

SHANK = 15 * pi / 4 * 0.14**2 * (150 * sqrt(2) / 100)
"""L, all holes: 15 of 14 mm and 212 mm, in dm."""


def reckoned(what: str, text: str = CRACK) -> Amount:
    return amount(Ledger(place_of(text)), what)


@pytest.mark.parametrize(
    ("what", "low", "high", "unit"),
    [
        ("crack-fill", 0.18, 0.18, "L"),  # 0.3 mm x 0.3 m x 2 m
        ("packer-spacing", 150, 300, "mm"),  # half the thickness to all of it
        ("packer-count", 8, 15, "count"),  # 2 m / 300 mm and / 150 mm, rounded up, + 1
        ("hole-length", 150 * sqrt(2), 150 * sqrt(2), "mm"),  # half of 300 mm, at 45 degrees
        ("hole-offset", 150, 150, "mm"),
        ("crack-resin", None, 0.18 * 2 + SHANK, "L"),  # most lost, holes full
    ],
)
def test_as_by_hand(what: str, low: float | None, high: float, unit: str) -> None:
    found = reckoned(what)
    assert found.unit == unit
    assert found.high == pytest.approx(high, rel=1e-9)
    if low is not None:
        assert found.low == pytest.approx(low, rel=1e-9)


def test_it_says_what_went_in() -> None:
    from_ = reckoned("crack-fill").from_
    for said in ("crack width: 0.3 mm", "thickness of the part: 300 mm", "2 m"):
        assert said in from_


def test_what_is_taken_to_be_so_is_told() -> None:
    found = reckoned("crack-fill", changed(crack_width=None))
    assert found.low == pytest.approx(0.12)
    assert found.high == pytest.approx(0.3)
    assert "crack width: taken as 0.2-0.5 mm, not known" in found.from_


def test_what_is_drilled_by_is_never_taken_to_be_so() -> None:
    text = changed(wall_thickness=None)
    found = reckoned("hole-length", text)
    assert (found.low, found.likely, found.high) == (None, None, None)
    assert "wall-thickness" in found.from_
    ordered = reckoned("hole-length-to-order", text)
    assert ordered.low == pytest.approx(100 * sqrt(2)), "an order may rest on the usual thickness"


def test_the_other_rule_is_shown_and_not_used() -> None:
    assert reckoned("packer-spacing-other-rule").high == pytest.approx(500)
    assert reckoned("packer-spacing").high == pytest.approx(300)


def test_the_load_is_what_is_needed_and_what_is_lost_and_pieces_are_whole() -> None:
    ledger = Ledger(place_of(CRACK))
    resin = load(ledger, "elastic-polyurethane-resin", "crack-resin")
    assert resin.high == pytest.approx((0.36 + SHANK) * 1.2, rel=1e-9)
    packers = load(ledger, "injection-packer", "packer-count")
    assert (packers.low, packers.high) == (9, 17), "8 and 5 %, 15 and 10 %, rounded up"


def test_what_is_not_known_is_loaded_as_not_known() -> None:
    found = load(Ledger(place_of(CRACK)), "void-grout", "void-volume")
    assert (found.low, found.likely, found.high) == (None, None, None)


@settings(max_examples=25, deadline=None)
@given(
    width=st.integers(2, 12),
    more=st.integers(1, 8),
    thickness=st.integers(100, 800),
    length=st.integers(1, 20),
)
def test_knowing_less_never_narrows_an_amount(
    width: int, more: int, thickness: int, length: int
) -> None:
    def found(written: str) -> Amount:
        text = changed(
            crack_width=written, wall_thickness=f"{thickness} mm", path_length=f"{length} m"
        )
        return reckoned("crack-resin", text)

    sharp, wide = found(f"{width / 10} mm"), found(f"{width / 10}-{(width + more) / 10} mm")
    for one in (sharp, wide):
        assert one.low is not None
        assert one.likely is not None
        assert one.high is not None
        assert 0 < one.low <= one.likely <= one.high
    assert wide.low == pytest.approx(sharp.low, rel=1e-9)
    assert sharp.high is not None
    assert wide.high is not None
    assert wide.high >= sharp.high


@pytest.mark.parametrize(
    "written",
    [
        {"crack_width": "90 mm", "wall_thickness": "50 mm"},
        {"crack_depth": "500 mm", "wall_thickness": "200 mm"},
    ],
    ids=["wider-than-thick", "deeper-than-thick"],
)
def test_geometry_that_contradicts_itself_is_told(written: dict[str, str]) -> None:
    text = changed(**written)
    result = assess(Callout.parse(text, "invented.yaml"), knowledge())
    said = [r.message for r in result.remarks] + [c.text for c in result.leaks[0].conflicts]
    told = any("thickness of the part" in words and "crack" in words for words in said)
    assert told or reckoned("crack-fill", text).low is None


def test_a_part_that_is_thin_is_still_reckoned() -> None:
    found = reckoned("pressure-ceiling", changed(wall_thickness="100 mm"))
    assert found.high == pytest.approx(4), "under 150 mm thick 4 bar at the most"
