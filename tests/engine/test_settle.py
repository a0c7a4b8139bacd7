"""From findings to settled values: strikes, conflicts, sureness, what applies, worked-out facts."""

from math import inf, nan, nextafter

import numpy as np
import pytest

from advisor.engine.layout import lay_out
from advisor.engine.model import All, Condition, Deduction, Floats, Model, Not, Test, Variable
from advisor.engine.model import WorkedOut as Worked
from advisor.engine.settle import Settled, compile_settler
from tests.engine.rows import Row, row, table_of

YES_NO = ("yes", "no")
SHADES = ("red", "green", "blue")


def is_(variable: str, *choices: str) -> Test:
    return Test(variable, frozenset(choices))


def strike(when: Condition, variable: str, *choices: str) -> Deduction:
    return Deduction(
        key=f"strike-{variable}-{'-'.join(choices)}",
        when=when,
        variable=variable,
        strikes=frozenset(choices),
    )


def choice(key: str, *choices: str, **more: Condition) -> Variable:
    return Variable(key=key, choices=choices or YES_NO, **more)


class Settling:
    """A model settled on rows, read back in words."""

    def __init__(self, model: Model, *rows: Row) -> None:
        self.layout = lay_out(model.variables)
        table = table_of(self.layout, *rows)
        before = table.masks.copy()
        self.found: Settled = compile_settler(model, self.layout).settle(table)
        assert (table.masks == before).all(), "the table given is not changed"

    def left(self, variable: str) -> list[str]:
        masks = self.found.values.masks[self.layout.choice_row[variable]]
        return [" ".join(self.layout.choices(variable, int(mask))) for mask in masks]

    def range(self, variable: str, at: int = 0) -> tuple[float, float]:
        number = self.layout.number_row[variable]
        return (
            float(self.found.values.lo[number, at]),
            float(self.found.values.hi[number, at]),
        )

    def sure(self, variable: str) -> list[bool]:
        return list(self.found.sure[self.layout.row[variable]])

    def conflict(self, variable: str) -> list[bool]:
        return list(self.found.conflict[self.layout.choice_row[variable]])

    def applies(self, variable: str) -> list[bool | None]:
        at, values = self.layout.row[variable], self.found.values
        return [
            True if yes else False if no else None
            for yes, no in zip(values.applies[at], values.applies_not[at], strict=True)
        ]


SHADE = Model(
    variables=(choice("a"), choice("b"), choice("shade", *SHADES), choice("warm")),
    hypotheses=(),
    deductions=(
        strike(is_("a", "yes"), "shade", "red"),
        strike(is_("b", "yes"), "shade", "green"),
        strike(is_("shade", "green", "blue"), "warm", "yes"),
    ),
)


def test_strikes_on_one_variable_are_taken_together() -> None:
    found = Settling(SHADE, row(), row(a="yes"), row(b="yes"), row(a="yes", b="yes"), row(a="no"))
    assert found.left("shade") == [
        "red green blue",
        "green blue",
        "red blue",
        "blue",
        "red green blue",
    ]
    assert found.left("warm") == ["yes no", "no", "yes no", "no", "yes no"]
    assert found.conflict("shade") == [False] * 5


def test_a_conflict_applies_none_of_the_strikes_and_is_carried() -> None:
    found = Settling(
        SHADE, row(a="yes", b="yes", shade={"red", "green"}), row(a="yes", shade="red")
    )
    assert found.left("shade") == ["red green", "red"]
    assert found.conflict("shade") == [True, True]
    assert found.conflict("warm") == [False, False]
    assert found.left("warm") == ["yes no", "yes no"], "nothing follows from a strike not applied"
    struck = found.found.struck[found.layout.choice_row["shade"]]
    assert [found.layout.choices("shade", int(mask)) for mask in struck] == [
        ("red", "green"),
        ("red",),
    ]


def test_truth_of_each_deduction() -> None:
    found = Settling(SHADE, row(), row(a="yes"), row(a="no", shade="red"))
    assert found.found.deductions.true.tolist() == [
        [False, True, False],
        [False, False, False],
        [False, True, False],
    ]
    assert found.found.deductions.false.tolist() == [
        [False, False, True],
        [False, False, False],
        [False, False, True],
    ]


def test_sure_when_both_runs_give_the_same_set() -> None:
    found = Settling(
        SHADE,
        row(a="yes"),
        row({"a"}, a="yes"),
        row({"a"}, a="no"),
        row({"a"}, a="yes", shade={"green", "blue"}),
    )
    assert found.sure("a") == [True, False, False, False]
    assert found.sure("shade") == [True, False, True, True]
    assert found.sure("warm") == [True, False, True, True]


def test_unsure_when_beats_what_was_written() -> None:
    model = Model(
        variables=(
            choice("covered"),
            choice("seen", unsure_when=is_("covered", "yes")),
            Variable(key="size", unsure_when=is_("covered", "yes")),
            choice("follows"),
        ),
        hypotheses=(),
        deductions=(strike(is_("seen", "yes"), "follows", "no"),),
    )
    found = Settling(
        model,
        row(covered="yes", seen="yes", size=3.0),
        row(covered="no", seen="yes", size=3.0),
        row(seen="yes", size=3.0),
        row({"covered"}, covered="yes", seen="yes", size=3.0),
    )
    assert found.sure("seen") == [False, True, True, False]
    assert found.sure("size") == [False, True, True, False]
    assert found.sure("follows") == [False, True, True, False]
    assert found.left("follows") == ["yes"] * 4
    assert found.range("size")[0] == 3.0


APPLYING = Model(
    variables=(
        choice("there"),
        choice("kind", "old", "new", applies=is_("there", "yes")),
        choice("follows"),
        choice("otherwise"),
    ),
    hypotheses=(),
    deductions=(
        strike(is_("kind", "old"), "follows", "no"),
        strike(Not(is_("kind", "old")), "otherwise", "no"),
    ),
)


def test_not_applicable_is_as_sure_as_who_said_it() -> None:
    found = Settling(APPLYING, row(kind=None), row({"kind"}, kind=None))
    assert found.left("otherwise") == ["yes", "yes"]
    assert found.sure("otherwise") == [True, False]


def test_unsure_when_beats_not_applicable_too() -> None:
    model = Model(
        variables=(
            choice("covered"),
            choice("seen", unsure_when=is_("covered", "yes")),
            choice("otherwise"),
        ),
        hypotheses=(),
        deductions=(strike(Not(is_("seen", "yes")), "otherwise", "no"),),
    )
    found = Settling(model, row(covered="yes", seen=None), row(covered="no", seen=None))
    assert found.left("otherwise") == ["yes", "yes"]
    assert found.sure("otherwise") == [False, True]


def test_where_a_variable_applies() -> None:
    found = Settling(APPLYING, row(there="yes"), row(there="no"), row())
    assert found.applies("kind") == [True, False, None]
    assert found.left("otherwise") == ["yes no", "yes", "yes no"], "not there: every test is false"


def test_a_finding_settles_that_it_applies() -> None:
    found = Settling(APPLYING, row(kind="old"), row(there="no", kind="old"))
    assert found.applies("kind") == [True, True]
    assert found.left("follows") == ["yes", "yes"]


def test_an_unsure_finding_settles_it_unsurely() -> None:
    found = Settling(APPLYING, row({"kind"}, kind="old"))
    assert found.applies("kind") == [True]
    assert found.left("follows") == ["yes"]
    assert found.sure("follows") == [False]


def test_said_not_to_apply() -> None:
    found = Settling(APPLYING, row(there="yes", kind=None), row(kind=None))
    assert found.applies("kind") == [False, False]
    assert found.left("follows") == ["yes no", "yes no"]
    assert found.left("otherwise") == ["yes", "yes"]


def product(ranges: tuple[tuple[Floats, Floats], ...]) -> tuple[Floats, Floats]:
    (lo, hi), (other_lo, other_hi) = ranges
    return lo * other_lo, hi * other_hi


AREA = Model(
    variables=(
        Variable(key="width", lowest=0.0, highest=10.0),
        Variable(key="height", lowest=0.0, highest=10.0),
        Variable(key="area", lowest=0.0, highest=50.0),
        choice("large"),
    ),
    hypotheses=(),
    deductions=(strike(Test("area", (20.0, inf)), "large", "no"),),
    worked_out=(Worked(variable="area", inputs=("width", "height"), work=product),),
)


def test_worked_out_from_ranges() -> None:
    found = Settling(
        AREA,
        row(width=(2.0, 3.0), height=(4.0, 5.0)),
        row(width=(5.0, 6.0), height=(4.0, 5.0)),
        row(width=(2.0, 3.0)),
        row({"width"}, width=(5.0, 6.0), height=(4.0, 5.0)),
    )
    assert found.range("area") == (8.0, 15.0)
    assert found.range("area", 2) == (0.0, 50.0), "nothing is known of the height"
    assert found.left("large") == ["yes no", "yes", "yes no", "yes"]
    assert found.sure("area") == [True, True, True, False]
    assert found.sure("large") == [True, True, True, False]


def test_a_finding_stands_before_what_is_worked_out() -> None:
    found = Settling(AREA, row(width=(2.0, 3.0), height=(4.0, 5.0), area=(30.0, 31.0)))
    assert found.range("area") == (30.0, 31.0)
    assert found.left("large") == ["yes"]


def with_ways(*ways: Worked) -> Model:
    return Model(
        variables=(*AREA.variables[:3], choice("shape", "square", "round")),
        hypotheses=(),
        worked_out=ways,
    )


SQUARE = Worked(
    variable="area", inputs=("width", "width"), work=product, given=is_("shape", "square")
)


def test_of_several_ways_the_first_whose_condition_is_true_counts() -> None:
    otherwise = Worked(variable="area", inputs=("width", "height"), work=product)
    given = {"width": 3.0, "height": (5.0, 6.0)}
    found = Settling(
        with_ways(SQUARE, otherwise),
        row(shape="square", **given),
        row(shape="round", **given),
        row({"shape"}, shape="square", **given),
        row(shape="square", width=3.0),
        row(shape="round", width=3.0),
    )
    assert found.range("area") == (9.0, found.range("area")[1])
    assert found.range("area", 1)[0] == 15.0
    assert found.range("area", 2)[0] == 9.0
    assert found.range("area", 3)[0] == 9.0
    assert found.range("area", 4) == (0.0, 50.0)
    assert found.sure("area") == [True, True, False, True, True]


def test_what_is_assumed_counts_where_nothing_is_known_and_is_unsure() -> None:
    assumed = Worked(
        variable="area", inputs=("width", "height"), work=product, assumed=(None, (1.0, 2.0))
    )
    found = Settling(
        with_ways(assumed),
        row(width=(2.0, 3.0)),
        row(width=(2.0, 3.0), height=(4.0, 5.0)),
        row(height=(4.0, 5.0)),
    )
    assert found.range("area") == (2.0, 6.0)
    assert found.range("area", 1) == (8.0, 15.0)
    assert found.range("area", 2) == (0.0, 50.0)
    assert found.sure("area") == [False, True, True]


@pytest.mark.parametrize("answer", [(nan, nan), (6.0, 5.0), (60.0, 70.0), (-2.0, -1.0)])
def test_outside_its_validity_unknown(answer: tuple[float, float]) -> None:
    def work(ranges: tuple[tuple[Floats, Floats], ...]) -> tuple[Floats, Floats]:
        return tuple(np.full_like(ranges[0][0], side) for side in answer)  # type: ignore[return-value]

    model = Model(
        variables=AREA.variables,
        hypotheses=(),
        worked_out=(Worked(variable="area", inputs=("width",), work=work),),
    )
    found = Settling(model, row(width=1.0))
    assert found.range("area") == (0.0, 50.0)


def test_a_single_value_stays_one_through_a_function_that_narrows() -> None:
    """The root of a number and of its next neighbour are often the same number."""
    model = Model(
        variables=(Variable(key="square"), Variable(key="side", lowest=0.0)),
        hypotheses=(),
        worked_out=(
            Worked(
                variable="side",
                inputs=("square",),
                work=lambda ranges: (np.sqrt(ranges[0][0]), np.sqrt(ranges[0][1])),
            ),
        ),
    )
    assert np.sqrt(5.0) == np.sqrt(nextafter(5.0, inf))
    assert Settling(model, row(square=5.0)).range("side") == (
        np.sqrt(5.0),
        nextafter(np.sqrt(5.0), inf),
    )


def test_a_worked_out_range_is_kept_within_its_variable() -> None:
    found = Settling(AREA, row(width=(4.0, 9.0), height=(4.0, 9.0)))
    assert found.range("area") == (16.0, 50.0)


def test_rules_are_numbered_as_given_whatever_they_strike() -> None:
    deductions = (
        strike(is_("warm", "yes"), "b", "no"),
        strike(is_("a", "yes"), "warm", "no"),
        strike(is_("a", "no"), "warm", "yes"),
    )
    model = Model(variables=SHADE.variables, hypotheses=(), deductions=deductions)
    found = Settling(model, row(a="yes"), row(a="no"))
    assert found.found.deductions.true.tolist() == [[True, False], [True, False], [False, True]]
    assert found.left("b") == ["yes", "yes no"]


def test_deductions_of_one_rule_may_share_its_key() -> None:
    rule = strike(is_("a", "yes"), "shade", "red")
    other = Deduction(
        key=rule.key, when=is_("b", "yes"), variable="shade", strikes=frozenset({"green"})
    )
    model = Model(variables=SHADE.variables, hypotheses=(), deductions=(rule, other))
    found = Settling(model, row(a="yes"), row(b="yes"))
    assert found.found.deductions.true.tolist() == [[True, False], [False, True]]
    assert found.left("shade") == ["green blue", "red blue"]


def test_a_variable_that_depends_on_itself_is_refused_with_its_path() -> None:
    model = Model(
        variables=SHADE.variables,
        hypotheses=(),
        deductions=(
            strike(is_("a", "yes"), "b", "no"),
            strike(All((is_("b", "yes"), is_("shade", "red"))), "a", "no"),
        ),
    )
    with pytest.raises(ValueError, match="a -> b -> a"):
        compile_settler(model, lay_out(model.variables))


def test_no_rows_and_no_rules() -> None:
    assert Settling(SHADE).left("shade") == []
    plain = Settling(Model(variables=SHADE.variables, hypotheses=()), row(a="yes"))
    assert plain.left("a") == ["yes"]
