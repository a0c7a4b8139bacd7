"""The whole way from rows to beliefs, on rule bases made up for it."""

import numpy as np
import pytest

from advisor.engine.engine import BLOCK, compile_engine
from advisor.engine.family import Weight, build_table
from advisor.engine.model import (
    Condition,
    Deduction,
    Family,
    Hypothesis,
    Model,
    Need,
    Test,
    Variable,
)
from tests.engine.rows import Row, row, table_of
from tests.engine.synthetic import random_rows, synthetic_model

YES_NO = ("yes", "no")


def family(key: str, variable: str, given: Condition | None = None) -> Family:
    """Yes is met in a fifth of all, three times as often with `it`."""
    built = build_table(YES_NO, (0.2, 0.8), ["it", "other"], {"it": {"yes": Weight(times=3)}})
    return Family(
        key=key,
        variable=variable,
        readings=YES_NO,
        shares=np.array([0.2, 0.8]),
        likelihood=built.likelihood,
        mentioned=built.mentioned,
        given=given,
    )


def yes(variable: str) -> Test:
    return Test(variable, frozenset({"yes"}))


ENGINE = compile_engine(
    Model(
        variables=(
            Variable(key="seen", choices=YES_NO),
            Variable(key="follows", choices=YES_NO),
            Variable(key="place", choices=YES_NO),
            Variable(key="kind", choices=("large", "small")),
        ),
        hypotheses=(
            Hypothesis(key="it", base={"large": 0.2, "small": 0.4}, needs=("room",)),
            Hypothesis(key="other", base=0.5),
        ),
        deductions=(
            Deduction(
                key="follows", when=yes("seen"), variable="follows", strikes=frozenset({"no"})
            ),
        ),
        families=(family("direct", "follows"), family("there", "seen", given=yes("place"))),
        needs=(Need(key="room", when=yes("place"), share=0.25),),
        watched={"both": yes("follows"), "place": yes("place")},
        base_by="kind",
        right_sure=1.0,
    )
)


def odds(*rows: Row) -> list[float]:
    """Belief in `it` over belief in `other`, base rates 0.4 : 0.5 taken off."""
    found = ENGINE.run(table_of(ENGINE.layout, *rows)).beliefs
    assert found.sum(axis=1) == pytest.approx(np.ones(len(rows)))
    return [float(p[0] / p[1] / 0.8) for p in found]


def test_from_a_finding_through_a_deduction_to_belief() -> None:
    assert odds(row(kind="small"), row(kind="small", seen="yes")) == pytest.approx([1, 3])


def test_a_family_and_a_need_on_the_same_place() -> None:
    """The need gives 1 / 0.25, the family that is now read 3, the deduced one 3."""
    known = row(kind="small", seen="yes", place="yes")
    assert odds(known, row(kind="small", place="yes")) == pytest.approx([36, 4])


def test_unsure_findings_count_less_all_the_way() -> None:
    unsure = row({"seen"}, kind="small", seen="yes")
    assert odds(unsure) == pytest.approx([0.7 * 3 + 0.3])


def test_base_rates_by_kind() -> None:
    assert odds(row(kind="large"), row()) == pytest.approx([0.5, 0.75])


def test_what_is_watched() -> None:
    watched = ENGINE.run(table_of(ENGINE.layout, row(seen="yes"), row(place="no"))).watched
    assert watched.true.tolist() == [[True, False], [False, False]]
    assert watched.false.tolist() == [[False, False], [False, True]]


def test_hypotheses_in_the_models_order() -> None:
    assert ENGINE.hypotheses == ("it", "other")


def test_an_engine_without_rules_families_or_needs() -> None:
    bare = compile_engine(
        Model(
            variables=(Variable(key="a", choices=YES_NO),),
            hypotheses=(Hypothesis(key="x", base=1.0), Hypothesis(key="y", base=3.0)),
        )
    )
    assert bare.run(bare.blank(2)).beliefs == pytest.approx(np.array([[0.25, 0.75]] * 2))
    assert bare.beliefs(bare.blank(0)).shape == (0, 2)


def test_no_rows() -> None:
    assert ENGINE.run(ENGINE.blank(0)).beliefs.shape == (0, 2)


@pytest.mark.parametrize("rows", [1, BLOCK - 1, BLOCK, BLOCK + 1, 2 * BLOCK + 3])
def test_blocks_give_what_one_piece_gives(rows: int) -> None:
    engine = compile_engine(synthetic_model(hypotheses=5, families=8, deductions=9, observed=70))
    table = random_rows(engine, rows)
    assert (engine.beliefs(table) == engine.run(table).beliefs).all()


def test_rows_taken_and_repeated() -> None:
    table = table_of(ENGINE.layout, row(seen="yes"), row(seen="no"), row())
    assert odds(row(seen="yes"), row()) == pytest.approx(
        [float(p[0] / p[1] / 0.8) for p in ENGINE.beliefs(table.take([0, 2]))]
    )
    again = table.repeated(4)
    assert again.rows == 4
    again.masks[0, 0] = 0
    assert table.masks[0, 0] != 0, "in arrays of its own"


def test_a_condition_on_an_unknown_variable_is_a_key_error() -> None:
    model = Model(
        variables=(Variable(key="a", choices=YES_NO),),
        hypotheses=(Hypothesis(key="x", base=1.0),),
        watched={"w": yes("absent")},
    )
    with pytest.raises(KeyError, match="absent"):
        compile_engine(model)


def test_more_choices_than_bits_are_refused() -> None:
    many = Variable(key="many", choices=tuple(f"c{i}" for i in range(65)))
    with pytest.raises(ValueError, match="at most 64 choices, found 65"):
        compile_engine(Model(variables=(many,), hypotheses=()))


@pytest.mark.parametrize("choices", [8, 9, 16, 17, 32, 33, 62])
def test_as_many_choices_as_fit(choices: int) -> None:
    """The last choice, the highest bit, is read like any other."""
    names = tuple(f"c{i}" for i in range(choices))
    shares = np.full(choices, 1 / choices)
    told = build_table(names, list(shares), ["x", "y"], {"x": {names[-1]: Weight(times=2)}})
    model = Model(
        variables=(Variable(key="many", choices=names),),
        hypotheses=(Hypothesis(key="x", base=0.5), Hypothesis(key="y", base=0.5)),
        families=(
            Family(
                key="f",
                variable="many",
                readings=names,
                shares=shares,
                likelihood=told.likelihood,
                mentioned=told.mentioned,
            ),
        ),
        right_sure=1.0,
    )
    engine = compile_engine(model)
    found = engine.beliefs(table_of(engine.layout, row(many=names[-1]), row()))
    assert found == pytest.approx(np.array([[2 / 3, 1 / 3], [0.5, 0.5]]))
