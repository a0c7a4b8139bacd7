"""Findings in few bytes."""

import struct
from math import inf, nextafter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor import open_knowledge
from advisor.callout import Resolved
from advisor.library.alike.packed import RECORD, ends, pack, unpack
from advisor.terms import Range

KNOWLEDGE = open_knowledge()
NAMES = {"bay-length": 700, "member": 3, "deposits.lime": 40, "head-here": 5}
LENGTH = KNOWLEDGE.attributes["bay-length"]


def test_the_form_of_the_records() -> None:
    facts = {
        "bay-length": Resolved(Range(0.25, 8.0)),
        "member": Resolved(5),
        "deposits.lime": Resolved(2, sure=False),
    }
    expected = struct.pack("<HQ", 3, 5) + struct.pack("<HQ", 40, 2)
    assert pack(KNOWLEDGE, facts, NAMES) == expected + struct.pack("<Hff", 700, 0.25, 8.0)
    assert RECORD.itemsize == 10


@given(st.floats(1, 900, width=32), st.floats(1, 90, width=32))
def test_numbers_come_back(lo: float, more: float) -> None:
    for value in (Range(lo, lo + more), Range.point(lo)):
        packed = pack(KNOWLEDGE, {"bay-length": Resolved(value)}, NAMES)
        low, high = ends(unpack(packed)["value"])
        assert low[0] == pytest.approx(value.lo, rel=1e-6)
        assert high[0] == pytest.approx(value.hi, rel=1e-6)


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (Range(LENGTH.lowest, 6.0), (-inf, 6.0)),
        (Range(6.0, nextafter(LENGTH.highest, inf)), (6.0, inf)),
        (Range.point(LENGTH.highest), (LENGTH.highest, LENGTH.highest)),
    ],
)
def test_an_end_that_nobody_told_is_infinite(value: Range, told: tuple[float, float]) -> None:
    packed = pack(KNOWLEDGE, {"bay-length": Resolved(value)}, NAMES)
    assert tuple(float(end[0]) for end in ends(unpack(packed)["value"])) == told


def test_what_says_nothing_is_not_there() -> None:
    member = KNOWLEDGE.attributes["member"]
    facts = {
        "member": Resolved(member.every_choice),
        "bay-length": Resolved(Range(LENGTH.lowest, nextafter(LENGTH.highest, inf))),
        "head-here": Resolved(not_applicable=True),
        "bay-length.first": Resolved(Range.point(6.0)),
    }
    assert pack(KNOWLEDGE, facts, NAMES) == b""
    assert len(unpack(b"")) == 0


def test_a_finding_without_a_number_is_refused() -> None:
    with pytest.raises(KeyError):
        pack(KNOWLEDGE, {"member": Resolved(1)}, {})
