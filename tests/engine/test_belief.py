"""The calculus: base rates, needs, evidence, and their product."""

from math import log

import numpy as np
import pytest

from advisor.engine.belief import (
    Calculus,
    NeedState,
    State,
    entropy_bits,
    group_sums,
    make_calculus,
    need_states,
)
from advisor.engine.circuit import Truth
from advisor.engine.evidence import Readings, make_evidence
from advisor.engine.family import Weight, build_table
from advisor.engine.model import ALWAYS, Family, Hypothesis, Need

HYPOTHESES = (
    Hypothesis(key="first", base={"big": 0.2, "small": 0.4}, needs=("rare",)),
    Hypothesis(key="second", base={"big": 0.3}),
    Hypothesis(key="third", base=0.5, needs=("rare", "usual")),
)
NEEDS = (
    Need(key="rare", when=ALWAYS, share=0.1),
    Need(key="usual", when=ALWAYS, share=0.8),
)
SHARES = (0.2, 0.8)
KEYS = [h.key for h in HYPOTHESES]
BUILT = build_table(
    ("low", "high"), SHARES, KEYS, {"first": {"low": Weight(times=3, at_most=0.75)}}
)
FAMILY = Family(
    key="family",
    variable="level",
    readings=("low", "high"),
    shares=np.array(SHARES),
    likelihood=BUILT.likelihood,
    mentioned=BUILT.mentioned,
)
UNKNOWN, TRUE, FALSE, UNSURE_TRUE, UNSURE_FALSE = NeedState


def calculus(*, right: tuple[float, float] = (0.7, 0.97)) -> Calculus:
    evidence = make_evidence([FAMILY], right, len(HYPOTHESES))
    return make_calculus(evidence, HYPOTHESES, NEEDS, ("big", "small"), right[0])


def state(
    *, left: int = 0b11, sure: bool = True, rare: int = UNKNOWN, usual: int = UNKNOWN, base: int = 1
) -> State:
    """One row. left: bits of the readings possible; base: bits of the kinds possible."""
    return State(
        Readings(np.array([[left]]), np.array([[sure]])),
        np.array([[rare], [usual]], dtype=np.int8),
        np.array([base], dtype=np.uint8),
    )


def beliefs(of: State) -> list[float]:
    return [float(p) for p in np.exp(calculus().log_beliefs(of))[0]]


def normalised(*weights: float) -> object:
    return pytest.approx([w / sum(weights) for w in weights], abs=1e-15)


def test_with_nothing_known_the_base_rates() -> None:
    assert beliefs(state()) == normalised(0.2, 0.3, 0.5)


def test_a_kind_without_a_rate_is_out() -> None:
    assert beliefs(state(base=0b10)) == normalised(0.4, 0, 0.5)


def test_a_half_known_kind_has_the_mean_rate() -> None:
    assert beliefs(state(base=0b11)) == normalised(0.3, 0.15, 0.5)


@pytest.mark.parametrize(
    ("need", "times"),
    [
        (UNKNOWN, 1),
        (TRUE, 1 / 0.1),
        (FALSE, 0),
        (UNSURE_TRUE, (0.7 + 0.3 * 0.1) / 0.1),
        (UNSURE_FALSE, 0.3),
    ],
)
def test_a_need_counts_for_those_that_name_it(need: NeedState, times: float) -> None:
    assert beliefs(state(rare=need)) == normalised(0.2 * times, 0.3, 0.5 * times)
    assert calculus().need_factors(state(rare=need)) == pytest.approx(np.array([[times], [1]]))


def test_two_needs_multiply() -> None:
    assert beliefs(state(rare=TRUE, usual=UNSURE_FALSE)) == normalised(
        0.2 * 10, 0.3, 0.5 * 10 * 0.3
    )


def test_base_needs_and_evidence_multiply() -> None:
    times = 0.97 * 3 + 0.03
    found = beliefs(state(left=0b01, rare=TRUE))
    assert found == normalised(0.2 * 10 * times, 0.3, 0.5 * 10)


def test_an_unsure_finding_says_less() -> None:
    times = 0.7 * 3 + 0.3
    assert beliefs(state(left=0b01, sure=False)) == normalised(0.2 * times, 0.3, 0.5)


def test_log_likelihoods_are_probabilities_of_the_state() -> None:
    found = np.exp(calculus().log_likelihoods(state(left=0b01, rare=FALSE, usual=UNSURE_TRUE)))
    low, unsure_true = 0.2, 0.7 + 0.3 * 0.8
    assert found[0] == pytest.approx([0, low * 0.9 * 0.8, 0])
    found = np.exp(calculus().log_likelihoods(state(left=0b01, rare=TRUE, usual=UNSURE_TRUE)))
    first = low * (0.97 * 3 + 0.03)
    assert found[0] == pytest.approx([first * 0.8, low * 0.1 * 0.8, low * unsure_true])


def test_family_times_are_the_factors_as_they_count() -> None:
    found = calculus().family_times(state(left=0b01))
    assert found == pytest.approx(np.array([[[0.97 * 3 + 0.03, 1, 1]]]))


@pytest.mark.parametrize(
    ("all_run", "sure_run", "expected"),
    [
        ("true", "true", TRUE),
        ("true", "", UNSURE_TRUE),
        ("true", "false", UNSURE_TRUE),
        ("false", "false", FALSE),
        ("false", "", UNSURE_FALSE),
        ("false", "true", UNSURE_FALSE),
        ("", "", UNKNOWN),
        ("", "true", UNKNOWN),
    ],
)
def test_states_of_needs(all_run: str, sure_run: str, expected: NeedState) -> None:
    def truth(said: str) -> Truth:
        return Truth(np.array([[said == "true"]]), np.array([[said == "false"]]))

    assert need_states(truth(all_run), truth(sure_run)).tolist() == [[expected]]


def test_entropy() -> None:
    with np.errstate(divide="ignore"):
        found = entropy_bits(np.log([[0.5, 0.5, 0], [1, 0, 0], [0.25, 0.25, 0.5]]))
    assert found == pytest.approx([1, 0, 1.5])
    assert entropy_bits(np.full((1, 8), -log(8))) == pytest.approx([3])


def test_group_sums() -> None:
    sums = group_sums(np.array([[0.1, 0.2, 0.7], [0.5, 0.5, 0.0]]), ["a", "b", "a"])
    assert list(sums) == ["a", "b"]
    assert sums["a"] == pytest.approx([0.8, 0.5])
    assert sums["b"] == pytest.approx([0.2, 0.5])
