"""The own history counted in, against the textbook's conjugate updates and a general library.

Gelman, Carlin, Stern, Dunson, Vehtari and Rubin, Bayesian Data Analysis (third edition), from
memory: section 2.4, a Beta(a, b) prior and y of n gives Beta(a + y, b + n - y); section 3.4, a
Dirichlet prior and counts gives a Dirichlet whose parameters are their sums. A prior is worth as
many cases as its parameters sum to.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from advisor.library.facts.history import FEWEST, USUAL_BASE, USUAL_TIMES
from tests.library.few_columns import Row
from tests.library.test_history import (
    CAUSES,
    KINDS,
    KNOWLEDGE,
    LINE,
    base_rates,
    line_after,
    repairs,
    told,
)


@settings(max_examples=25, deadline=None)
@given(held=st.integers(0, 14), failed=st.integers(0, 14))
def test_the_rate_of_a_method_is_the_mean_of_the_beta_posterior(held: int, failed: int) -> None:
    worth = USUAL_TIMES * LINE.weight
    posterior = stats.beta(worth * LINE.rate + held, worth * (1 - LINE.rate) + failed)
    after = line_after(told(KNOWLEDGE, repairs(held, held=True) + repairs(failed, held=False)))
    assert after.rate == pytest.approx(posterior.mean(), abs=1e-12)
    # What it is worth from now on is the sum of the parameters.
    assert after.weight == pytest.approx(sum(posterior.args))


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(0, len(CAUSES) - 1), max_size=FEWEST - 1))
def test_base_rates_are_the_mean_of_the_dirichlet_posterior(seen: list[int]) -> None:
    book = base_rates(KNOWLEDGE, KINDS[0])
    possible = [cause for cause in CAUSES if book[cause] > 0]
    counted = [possible[number % len(possible)] for number in seen]
    prior = USUAL_BASE * np.array([book[cause] for cause in possible])
    counts = np.array([counted.count(cause) for cause in possible])
    rows = [Row(kind=KINDS[0], cause=cause) for cause in counted]
    after = base_rates(told(KNOWLEDGE, rows), KINDS[0])
    posterior = stats.dirichlet(prior + counts)
    assert [after[cause] for cause in possible] == pytest.approx(list(posterior.mean()), abs=1e-12)


def test_repairs_of_half_the_weight_count_half() -> None:
    worth = USUAL_TIMES * LINE.weight
    rows = repairs(8, held=False, origin="from-records")
    after = line_after(told(KNOWLEDGE, rows))
    posterior = stats.beta(worth * LINE.rate, worth * (1 - LINE.rate) + 4)
    assert after.rate == pytest.approx(posterior.mean(), abs=1e-12)
