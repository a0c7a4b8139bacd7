"""From words and numbers to tables: ceilings, cuts, what is left, and what cannot be."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.family import Cut, TableResult, Weight, build_table

STRONG, MODERATE = Weight(times=10, at_most=0.9), Weight(times=3, at_most=0.75)
AGAINST = Weight(times=1 / 3, at_most=0.75)
READINGS = ("low", "middle", "high")
SHARES = (0.2, 0.3, 0.5)


def build(said: dict[str, Weight], shares: tuple[float, ...] = SHARES) -> TableResult:
    return build_table(READINGS, shares, ["other", "it"], {"it": said})


def column(result: TableResult) -> list[float]:
    assert not result.faults
    return [float(p) for p in result.likelihood[:, 1]]


def test_a_hypothesis_not_mentioned_has_the_shares() -> None:
    result = build({"low": MODERATE})
    assert result.likelihood[:, 0] == pytest.approx(SHARES)
    assert result.mentioned.tolist() == [False, True]


def test_share_times_times_and_the_rest_in_proportion() -> None:
    assert column(build({"low": MODERATE})) == pytest.approx([0.6, 0.15, 0.25])
    assert column(build({"high": AGAINST})) == pytest.approx([1 / 3, 1 / 2, 1 / 6])
    assert column(build({"low": Weight(times=0)})) == pytest.approx([0, 0.375, 0.625])


def test_a_word_is_cut_at_its_ceiling_and_the_cut_is_told() -> None:
    result = build({"low": STRONG})
    assert column(result) == pytest.approx([0.9, 0.0375, 0.0625])
    assert result.cuts == (Cut(reading="low", hypothesis="it", asked=10, given=0.9 / 0.2),)


def test_a_word_at_its_ceiling_is_no_cut() -> None:
    assert build({"low": Weight(times=3.75, at_most=0.75)}).cuts == ()


def test_a_word_against_has_no_ceiling() -> None:
    result = build({"high": Weight(times=0.5, at_most=0.1)})
    assert column(result)[2] == pytest.approx(0.25)
    assert result.cuts == ()


def test_a_share_above_what_a_word_can_give_is_a_fault() -> None:
    result = build({"high": MODERATE}, shares=(0.1, 0.1, 0.8))
    assert [fault[:2] for fault in result.faults] == [("high", "it")]
    assert "0.8 is above 0.75" in result.faults[0][2]


def test_a_number_is_exact() -> None:
    result = build({"low": Weight(times=4.9)})
    assert column(result)[0] == pytest.approx(0.98)
    assert result.cuts == ()


@pytest.mark.parametrize("times", [4.91, 5, 7])
def test_a_number_too_large_names_the_largest_possible(times: float) -> None:
    """The readings not mentioned are left 0.02: 0.98 / 0.2 = 4.9."""
    [(reading, hypothesis, text)] = build({"low": Weight(times=times)}).faults
    assert (reading, hypothesis) == ("low", "it")
    assert text.endswith("the largest possible number there is 4.9")


def test_the_largest_possible_leaves_room_for_what_else_is_said() -> None:
    said = {"low": Weight(times=3), "middle": Weight(times=2)}
    [(reading, _, text)] = build(said).faults
    assert reading == "middle"
    assert text.endswith("the largest possible number there is 1.267")
    assert not build({"low": Weight(times=3), "middle": Weight(times=1.266)}).faults


def test_words_that_leave_too_little_are_a_fault_with_no_number_to_name() -> None:
    [(reading, hypothesis, text)] = build({"low": STRONG, "middle": MODERATE}).faults
    assert (reading, hypothesis) == (None, "it")
    assert "at most 0.98" in text
    assert "largest" not in text


def test_a_negative_number_is_a_fault() -> None:
    faults = build({"low": Weight(times=-1)}).faults
    assert ("low", "it") in [fault[:2] for fault in faults]


def test_a_whole_table_is_taken_as_it_is() -> None:
    said = {"low": Weight(times=4.5), "middle": Weight(times=0.2), "high": Weight(times=0.08)}
    assert column(build(said)) == pytest.approx([0.9, 0.06, 0.04], abs=1e-15)


@pytest.mark.parametrize(("high", "possible"), [(0.0819, True), (0.0825, False), (0.07, False)])
def test_a_whole_table_sums_to_1_within_a_thousandth(high: float, possible: bool) -> None:
    said = {"low": Weight(times=4.5), "middle": Weight(times=0.2), "high": Weight(times=high)}
    result = build(said)
    assert (not result.faults) == possible
    if possible:
        assert sum(column(result)) == pytest.approx(1, abs=1e-15)
    else:
        assert "a whole table sums to 1" in result.faults[0][2]


def test_words_do_not_make_a_whole_table() -> None:
    said = {"low": STRONG, "middle": AGAINST, "high": Weight(times=0.1)}
    assert "unmentioned" in build(said).faults[0][2]


@pytest.mark.parametrize(
    ("shares", "where"), [((0.5, 0.5, 0.0), "high"), ((0.2, 0.3, 0.6), None), ((1, 1, -1), "high")]
)
def test_faulty_shares(shares: tuple[float, ...], where: str | None) -> None:
    assert [fault[0] for fault in build({}, shares=shares).faults] == [where]


def test_every_fault_is_listed() -> None:
    times = {"a": {"low": Weight(times=9)}, "b": {"high": Weight(times=3)}, "c": {"low": MODERATE}}
    faults = build_table(READINGS, SHARES, ["a", "b", "c"], times).faults
    assert [fault[1] for fault in faults] == ["a", "b"]


WORDS = st.sampled_from([(10, 0.9), (3, 0.75), (2, 0.6), (0.5, 0.6), (1 / 3, 0.75), (0.1, 0.9)])


@given(
    st.lists(st.floats(0.01, 1), min_size=2, max_size=6),
    st.dictionaries(st.integers(0, 5), WORDS, max_size=4),
)
def test_a_table_without_fault_is_a_distribution(
    raw: list[float], said: dict[int, tuple[float, float]]
) -> None:
    shares = [s / sum(raw) for s in raw]
    readings = [f"r{i}" for i in range(len(raw))]
    times = {
        f"r{i}": Weight(times=t, at_most=most) for i, (t, most) in said.items() if i < len(raw)
    }
    result = build_table(readings, shares, ["it"], {"it": times})
    if result.faults:
        return
    p = result.likelihood[:, 0]
    assert (p > 0).all()
    assert p.sum() == pytest.approx(1, abs=1e-12)
    silent = [i for i, r in enumerate(readings) if r not in times]
    assert p[silent].sum() >= 0.02 - 1e-9
    ratios = p[silent] / np.array(shares)[silent]
    assert ratios == pytest.approx(np.full(len(silent), ratios[0]))
    assert all(p[readings.index(r)] <= w.at_most + 1e-12 for r, w in times.items() if w.times > 1)
