"""Evidence of families: what sets of readings say, slips, stories."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.evidence import (
    TABLED_READINGS,
    Readings,
    add_up,
    make_evidence,
    work_out_states,
)
from advisor.engine.model import Family, Floats
from tests.engine.naive import story_weights

UNSURE, SURE = 0.7, 0.97


def family(
    shares: list[float], columns: list[list[float]], story: str | None = None, key: str = "f"
) -> Family:
    """columns: P(reading | hypothesis), a list per hypothesis."""
    likelihood = np.array(columns).T
    return Family(
        key=key,
        variable=key,
        readings=tuple(f"r{i}" for i in range(len(shares))),
        shares=np.array(shares),
        likelihood=likelihood,
        mentioned=(np.abs(likelihood - np.array(shares)[:, None]) > 0).any(axis=0),
        story=story,
    )


def random_family(random: np.random.Generator, readings: int, story: str | None = None) -> Family:
    shares = random.dirichlet(np.full(readings, 3.0))
    columns = [list(random.dirichlet(np.full(readings, 3.0))) for _ in range(4)]
    return family(list(shares), columns, story)


THREE = family([0.5, 0.3, 0.2], [[0.5, 0.3, 0.2], [0.1, 0.0, 0.9]])


def times(
    states: list[int], of: Family = THREE, right: tuple[float, float] = (UNSURE, SURE)
) -> Floats:
    return np.exp(work_out_states(of, np.array(states), right).log_times)


def test_one_reading_left() -> None:
    sure, unsure = times([2 * 0b100 + 1, 2 * 0b100])
    assert sure == pytest.approx([1, 0.97 * 0.9 / 0.2 + 0.03])
    assert unsure == pytest.approx([1, 0.7 * 0.9 / 0.2 + 0.3])


def test_a_half_known_reading_is_the_sum_over_what_is_left() -> None:
    [found] = times([2 * 0b101 + 1])
    assert found == pytest.approx([1, 0.97 * 1.0 / 0.7 + 0.03])


def test_all_readings_left_say_nothing_at_all() -> None:
    found = work_out_states(THREE, np.array([2 * 0b111, 2 * 0b111 + 1]), (UNSURE, SURE))
    assert (found.log_times == 0).all()
    assert found.log_share.tolist() == [0, 0]
    assert found.telling.tolist() == [0, 0]


def test_a_hypothesis_not_mentioned_is_left_exactly_alone() -> None:
    found = work_out_states(THREE, np.arange(2, 16), (UNSURE, SURE))
    assert (found.log_times[:, 0] == 0).all()


def test_without_slips_a_zero_cell_is_out_and_a_small_one_exact() -> None:
    tiny = family([0.5, 0.5], [[0.0, 1.0], [1e-12, 1 - 1e-12]])
    [found] = times([2 * 0b01 + 1], tiny, (1.0, 1.0))
    assert found == pytest.approx([0.0, 2e-12], rel=1e-14, abs=0)


def test_with_slips_a_zero_cell_is_never_out() -> None:
    assert times([2 * 0b010 + 1])[0, 1] == pytest.approx(0.03)


def test_the_readings_of_a_hypothesis_sum_to_one_after_slips() -> None:
    found = work_out_states(THREE, np.array([2 << i for i in range(3)]), (UNSURE, SURE))
    assert (np.exp(found.log_times) * np.exp(found.log_share)[:, None]).sum(
        axis=0
    ) == pytest.approx([1, 1])


@pytest.mark.parametrize("readings", [2, TABLED_READINGS, TABLED_READINGS + 1, 20, 62])
def test_long_families_are_worked_out_as_short_ones(readings: int) -> None:
    random = np.random.default_rng(readings)
    families = [random_family(random, 3), random_family(random, readings)]
    evidence = make_evidence(families, (UNSURE, SURE), 4)
    sets = [1 << (readings - 1), (1 << readings) - 1, 0b11, (1 << readings) - 2]
    possible = np.array([[0b111, 0b1, 0b10, 0b110], sets])
    sure = np.array([[True, False, True, False], [True, True, False, False]])
    table, where = evidence.look_up(Readings(possible, sure))
    for i, of in enumerate(families):
        for at in range(4):
            said = work_out_states(of, 2 * possible[i, [at]] + sure[i, [at]], (UNSURE, SURE))
            assert table.log_times[where[i, at]] == pytest.approx(said.log_times[0], abs=1e-15)
            assert table.log_share[where[i, at]] == pytest.approx(said.log_share[0])
            assert table.telling[where[i, at]] == pytest.approx(said.telling[0])


def test_more_readings_than_a_state_has_bits_for_are_refused() -> None:
    with pytest.raises(ValueError, match="at most 62 readings, found 63"):
        make_evidence([random_family(np.random.default_rng(1), 63)], (UNSURE, SURE), 4)


def test_adding_up_many_rows_is_adding_up_each() -> None:
    random = np.random.default_rng(3)
    families = [random_family(random, size) for size in (2, 3, 5)]
    evidence = make_evidence(families, (UNSURE, SURE), 4)
    possible = np.array([random.integers(1, 1 << size, 100) for size in (2, 3, 5)])
    table, where = evidence.look_up(Readings(possible, random.random((3, 100)) < 0.5))
    weights = random.random((3, 100))
    total = add_up(table, where, weights)
    for at in range(100):
        each = weights[:, at, None] * table.log_times[where[:, at]]
        assert total[at] == pytest.approx(each.sum(axis=0), abs=1e-13)


def test_two_families_that_tell_one_story_fully() -> None:
    """Each strikes out all but one reading of share s: it tells (1 - s) / (1 - s) = 1, k = 2."""
    families = [family([0.5, 0.5], [[0.1, 0.9]], "tale", key) for key in ("f", "g")]
    families.append(family([0.5, 0.5], [[0.1, 0.9]], None, "alone"))
    evidence = make_evidence(families, (UNSURE, SURE), 1)
    possible = np.array([[1, 1, 3], [1, 3, 3], [1, 1, 1]])
    table, where = evidence.look_up(Readings(possible, np.ones((3, 3), dtype=np.bool_)))
    assert evidence.weights(table, where) == pytest.approx(
        np.array([[2 / 3, 1, 1], [2 / 3, 1, 1], [1, 1, 1]])
    )


@given(st.integers(0, 2**32 - 1))
def test_story_weights_against_the_design_read_out_loud(seed: int) -> None:
    random = np.random.default_rng(seed)
    sizes = random.integers(2, 7, 8)
    stories = [random.choice(["this", "that", ""]) or None for _ in sizes]
    families = [random_family(random, int(n), s) for n, s in zip(sizes, stories, strict=True)]
    evidence = make_evidence(families, (UNSURE, SURE), 4)
    possible = np.array([random.integers(1, 1 << n, 5) for n in sizes])
    table, where = evidence.look_up(Readings(possible, random.random(possible.shape) < 0.5))
    weights = evidence.weights(table, where)
    for at in range(5):
        sets = [
            {i for i in range(n) if mask >> i & 1}
            for n, mask in zip(sizes, possible[:, at], strict=True)
        ]
        assert weights[:, at] == pytest.approx(story_weights(families, sets), abs=1e-12)
        assert all(math.isfinite(w) and 0 < w <= 1 for w in weights[:, at])
