"""The own history counted into base rates and into the rates of methods."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from math import log, prod
from pathlib import Path
from random import Random

import pytest

from advisor import open_knowledge
from advisor.assessment import assess
from advisor.callout import Callout
from advisor.knowledge import Knowledge
from advisor.knowledge.repair_entries import Holds
from advisor.library.facts.history import (
    BASE_WEIGHTS,
    FEWEST,
    LEAST,
    RATE_TIMES,
    USUAL_BASE,
    USUAL_TIMES,
    with_history,
)
from tests.cli.command import CASE
from tests.library.few_columns import Row, few_columns

KNOWLEDGE = open_knowledge()
KINDS = [choice.key for choice in KNOWLEDGE.attributes["kind"].choices]
CAUSES = list(KNOWLEDGE.causes)
TWO_YEARS = 730


def base_rates(knowledge: Knowledge, kind: str) -> dict[str, float]:
    """What the kind begins with, by cause, summing to 1."""
    rates = {}
    for hypothesis in knowledge.model.hypotheses:
        assert not isinstance(hypothesis.base, float)
        rates[hypothesis.key] = hypothesis.base.get(kind, 0.0)
    total = sum(rates.values())
    return {key: rate / total for key, rate in rates.items()}


def told(knowledge: Knowledge, rows: Sequence[Row]) -> Knowledge:
    return with_history(knowledge, few_columns(rows))


def a_line() -> tuple[str, str, Holds]:
    """A method, a cause and the line that the method holds with it by."""
    for key, method in KNOWLEDGE.methods.items():
        for line in method.holds:
            if line.named[0] in CAUSES and 0.2 < line.rate < 0.98:
                return key, line.named[0], line
    raise AssertionError("no method names a cause of its own")


METHOD, ITS_CAUSE, LINE = a_line()


def line_after(knowledge: Knowledge) -> Holds:
    return next(line for line in knowledge.methods[METHOD].holds if line.named == LINE.named)


def repairs(count: int, held: bool, **named: str) -> list[Row]:
    """So many repairs by the method, all of one fate."""
    fate = {"held": TWO_YEARS} if held else {"failed": 100.0}
    row = Row(kind=KINDS[0], cause=ITS_CAUSE, method=METHOD, **fate, **named)  # type: ignore[arg-type]
    return [row] * count


def test_without_cases_nothing_changes() -> None:
    after = told(KNOWLEDGE, [])
    for kind in KINDS:
        assert base_rates(after, kind) == pytest.approx(base_rates(KNOWLEDGE, kind), abs=1e-12)
    assert {k: m.holds for k, m in after.methods.items()} == {
        k: tuple(replace(line, weight=line.weight * USUAL_TIMES) for line in m.holds)
        for k, m in KNOWLEDGE.methods.items()
    }
    assert after.history is not None
    assert (after.history.places, after.history.repairs) == (0, 0)
    shipped = after.history.book_rates
    assert shipped.sum(axis=1) == pytest.approx(1)
    assert {s for of in after.history.book_shares.values() for s in of.values()} == {1.0}
    for leak in assess(Callout.parse(Path(CASE).read_text(encoding="utf-8"), CASE), after).leaks:
        assert [c.book for c in leak.causes] == [1.0] * len(leak.causes)
        assert [m.book for m in leak.methods] == [1.0] * len(leak.methods)


@pytest.mark.parametrize("seed", range(5))
def test_a_cause_seen_often_rises_in_its_kind_and_in_no_other(seed: int) -> None:
    dice = Random(seed)
    kind, cause = dice.choice(KINDS), dice.choice(CAUSES)
    before = {k: base_rates(KNOWLEDGE, k) for k in KINDS}
    after = told(KNOWLEDGE, [Row(kind=kind, cause=cause)] * 200)
    for other in KINDS:
        rates = base_rates(after, other)
        assert sum(rates.values()) == pytest.approx(1, abs=1e-12)
        if other != kind:
            assert rates == pytest.approx(before[other], abs=1e-12)
    assert base_rates(after, kind)[cause] > before[kind][cause]
    # Between what the book says and what the cases say alone.
    assert before[kind][cause] < base_rates(after, kind)[cause] < 1
    for one, rate in base_rates(after, kind).items():
        assert rate <= before[kind][one] or one == cause


def test_each_kind_sums_to_one_and_lies_between_book_and_own_share() -> None:
    dice = Random(1)
    rows = [
        Row(kind=dice.choice(KINDS[:3]), cause=dice.choice(CAUSES[:6]), quarter=f"20{y}-Q2")
        for y in range(15, 31)
        for _ in range(20)
    ]
    after = told(KNOWLEDGE, rows)
    for kind in KINDS:
        rates, book = base_rates(after, kind), base_rates(KNOWLEDGE, kind)
        assert sum(rates.values()) == pytest.approx(1, abs=1e-12)
        here = [row.cause for row in rows if row.kind == kind]
        for cause in CAUSES:
            own = here.count(cause) / len(here) if here else book[cause]
            low, high = sorted([own, book[cause]])
            assert low - 1e-12 <= rates[cause] <= high + 1e-12


def test_a_method_that_fails_falls_and_its_book_share_too() -> None:
    shares = [1.0]
    rates = [LINE.rate]
    for count in (3, 30, 300):
        after = told(KNOWLEDGE, repairs(count, held=False))
        assert after.history is not None
        rates.append(line_after(after).rate)
        shares.append(after.history.book_shares[METHOD][ITS_CAUSE])
    assert rates == sorted(rates, reverse=True)
    assert len(set(rates)) == 4
    assert shares == sorted(shares, reverse=True)
    assert len(set(shares)) == 4
    assert 0 < rates[-1] < LINE.rate


def test_a_method_that_holds_rises_and_no_other_does() -> None:
    after = told(KNOWLEDGE, repairs(40, held=True))
    assert LINE.rate < line_after(after).rate < 1
    assert after.history is not None
    for key, method in KNOWLEDGE.methods.items():
        lines = [line.rate for line in method.holds if (key, line.named) != (METHOD, LINE.named)]
        others = after.methods[key].holds
        assert lines == [o.rate for o in others if (key, o.named) != (METHOD, LINE.named)]


def test_what_is_remembered_weighs_less() -> None:
    cases = {}
    for origin in ("own", "from-records", "remembered"):
        after = told(KNOWLEDGE, repairs(20, held=False, origin=origin))
        cases[origin] = (base_rates(after, KINDS[0])[ITS_CAUSE], -line_after(after).rate)
    book = base_rates(KNOWLEDGE, KINDS[0])[ITS_CAUSE], -LINE.rate
    assert book < cases["remembered"] < cases["from-records"] < cases["own"]
    for one, more in zip(cases.values(), list(cases.values())[1:], strict=False):
        assert one[1] > more[1]


def test_the_rate_is_the_mean_of_a_beta_posterior() -> None:
    """Below the fewest cases the usual weight stands: the figures can be reckoned by hand."""
    after = told(KNOWLEDGE, repairs(6, held=True) + repairs(4, held=False))
    expected = (LINE.weight * LINE.rate + 6) / (LINE.weight + 10)
    assert line_after(after).rate == pytest.approx(expected, abs=1e-12)
    assert line_after(after).weight == pytest.approx(LINE.weight + 10)
    assert after.history is not None
    share = after.history.book_shares[METHOD][ITS_CAUSE]
    assert share == pytest.approx(LINE.weight / (LINE.weight + 10))


def test_a_repair_that_no_look_tested_counts_nothing() -> None:
    rows = [Row(kind=KINDS[0], cause=ITS_CAUSE, method=METHOD)] * 50
    assert line_after(told(KNOWLEDGE, rows)).rate == LINE.rate


@pytest.mark.parametrize("count", [FEWEST - 1, FEWEST])
def test_below_the_fewest_cases_no_weight_is_chosen(count: int) -> None:
    rows = repairs(count, held=False)
    history = told(KNOWLEDGE, rows).history
    assert history is not None
    usual = (history.base_weight, history.rate_times) == (USUAL_BASE, USUAL_TIMES)
    # All alike, and unlike the book: the least careful weight foretells them best.
    assert usual == (count < FEWEST)
    if count >= FEWEST:
        assert (history.base_weight, history.rate_times) == (BASE_WEIGHTS[-1], RATE_TIMES[-1])


WEIGHT_OF = {"own": 1.0, "from-records": 0.5, "remembered": 0.25}


def brute_base_score(rows: Sequence[Row], weight: float) -> float:
    """The log score of each case, foretold by the book and the cases before it: no more."""
    score = 0.0
    past: list[Row] = []
    for row in sorted(rows, key=lambda one: one.quarter or ""):  # stable within a quarter
        mine = [one for one in past if one.kind == row.kind]
        seen = sum(WEIGHT_OF[one.origin] for one in mine)
        same = sum(WEIGHT_OF[one.origin] for one in mine if one.cause == row.cause)
        assert row.cause is not None
        book = base_rates(KNOWLEDGE, row.kind)[row.cause]
        foretold = (weight * book + same) / (weight + seen)
        score += WEIGHT_OF[row.origin] * log(max(foretold, LEAST))
        past.append(row)
    return score


def line_of(row: Row) -> tuple[str, Holds]:
    """A cause's own line beats that of its group."""
    assert row.method is not None
    assert row.cause is not None
    lines = KNOWLEDGE.methods[row.method].holds
    group = KNOWLEDGE.causes[row.cause].group
    own = [line for line in lines if row.cause in line.named]
    return row.method, (own or [line for line in lines if group in line.named])[0]


def brute_rate_score(rows: Sequence[Row], times: float) -> float:
    score = 0.0
    past: dict[tuple[str, tuple[str, ...]], list[tuple[float, bool]]] = defaultdict(list)
    for row in sorted(rows, key=lambda one: one.quarter or ""):
        method, line = line_of(row)
        before = past[method, line.named]
        worth, weight = times * line.weight, WEIGHT_OF[row.origin]
        seen, held = sum(w for w, _ in before), sum(w for w, h in before if h)
        says = (worth * line.rate + held) / (worth + seen)
        score += weight * log(min(max(says if row.failed is None else 1 - says, LEAST), 1.0))
        before.append((weight, row.failed is None))
    return score


@pytest.mark.parametrize("seed", range(12))
def test_the_weights_are_those_that_foretold_best(seed: int) -> None:
    dice = Random(seed)
    fitting = [
        (key, cause)
        for key, method in list(KNOWLEDGE.methods.items())[:8]
        for line in method.holds
        for cause in line.named
        if cause in CAUSES
    ]
    few = dice.sample(fitting, 4)
    few_kinds = dice.sample(KINDS, 2)
    holding = dice.random()
    rows = []
    for _ in range(60):
        method, cause = dice.choice(few)
        fate = {"held": 800} if dice.random() < holding else {"failed": 50.0}
        quarter = dice.choice([None, *(f"20{y}-Q{q}" for y in (28, 29, 30) for q in (1, 4))])
        row = Row(kind=dice.choice(few_kinds), cause=cause, method=method, **fate)
        rows.append(replace(row, quarter=quarter, origin=dice.choice(list(WEIGHT_OF))))
    history = told(KNOWLEDGE, rows).history
    assert history is not None
    base = [brute_base_score(rows, weight) for weight in BASE_WEIGHTS]
    assert history.base_weight == BASE_WEIGHTS[base.index(max(base))]
    times = [brute_rate_score(rows, one) for one in RATE_TIMES]
    assert history.rate_times == RATE_TIMES[times.index(max(times))]


def test_the_order_of_quarters_counts_and_not_that_of_adding() -> None:
    rows = [
        Row(kind=KINDS[0], cause=CAUSES[number % 3], quarter=f"20{10 + number}-Q1")
        for number in range(60)
    ]
    shuffled = rows[:]
    Random(1).shuffle(shuffled)
    one, other = told(KNOWLEDGE, rows), told(KNOWLEDGE, shuffled)
    assert one.history is not None
    assert other.history is not None
    assert one.history.base_weight == other.history.base_weight
    assert base_rates(one, KINDS[0]) == pytest.approx(base_rates(other, KINDS[0]), abs=1e-12)


def test_what_the_knowledge_does_not_know_is_passed_over() -> None:
    rows = [
        Row(kind="made-kind", cause=CAUSES[0]),
        Row(kind=KINDS[0], cause="made-cause", method=METHOD, failed=50),
        Row(kind=KINDS[0], cause=None, method=METHOD, failed=50),
        Row(kind="made-kind", cause="made-cause", method="made-method", held=900),
    ]
    after = told(KNOWLEDGE, rows)
    assert after.history is not None
    assert (after.history.places, after.history.repairs) == (0, 0)
    assert line_after(after).rate == LINE.rate


def test_the_confidence_is_still_the_product_of_its_parts() -> None:
    dice = Random(3)
    rows = [
        Row(kind=dice.choice(KINDS), cause=dice.choice(CAUSES), quarter=f"20{y}-Q1")
        for y in range(10, 30)
        for _ in range(30)
    ] + repairs(60, held=False)
    for leak in assess(
        Callout.parse(Path(CASE).read_text(encoding="utf-8"), CASE), told(KNOWLEDGE, rows)
    ).leaks:
        products = {}
        for cause in leak.causes:
            product = cause.base_rate
            product *= prod(part.times for part in cause.needs)
            product *= prod(part.times for part in (*cause.for_, *cause.against))
            products[cause.cause] = product
            assert 0 <= cause.book <= 1
        total = sum(products.values())
        for cause in leak.causes:
            assert cause.confidence == pytest.approx(products[cause.cause] / total, abs=1e-9)
        assert any(cause.book < 1 for cause in leak.causes)
        assert all(0 <= method.book <= 1 for method in leak.methods)
        assert any(method.book < 1 for method in leak.methods)
