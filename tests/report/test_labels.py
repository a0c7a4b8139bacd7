from advisor.engine import All, AnyOf, Not, Test
from advisor.report.labels import attribute_label, condition_words
from tests.report.results import knowledge


def test_a_choice_of_several_is_named_with_its_attribute() -> None:
    label = attribute_label(knowledge(), "deposits.lime")
    assert "lime" in label
    assert knowledge().attributes["deposits"].label in label


def test_a_reading_of_several_dated_ones_is_named() -> None:
    assert attribute_label(knowledge(), "crack-width.first").endswith("first reading")


def test_conditions_are_words_with_brackets_where_needed() -> None:
    wall = Test("member", frozenset({"wall"}))
    lime = Test("deposits.lime", frozenset({"yes"}))
    wide = Test("crack-width", (0.3, 100.0))
    words = condition_words(knowledge(), All((wall, AnyOf((lime, Not(wide))))))
    member = knowledge().attributes["member"].label
    assert words.startswith(f"{member}: wall and (")
    assert " or not: " in words
    assert "0.3" in words
    assert "mm" in words


def test_most_choices_are_said_by_what_is_left_out() -> None:
    every = [c.key for c in knowledge().attributes["member"].choices]
    words = condition_words(knowledge(), Test("member", frozenset(every[1:])))
    label = knowledge().attributes["member"].choices[0].label
    assert words.endswith(f"not {label}")


def test_every_condition_of_the_knowledge_can_be_said() -> None:
    conditions = [
        *(d.when for d in knowledge().deductions.values()),
        *(n.when for n in knowledge().needs.values()),
        *(s.when for s in knowledge().stops.values()),
        *knowledge().model.watched.values(),
    ]
    for condition in conditions:
        words = condition_words(knowledge(), condition)
        assert words
        assert "frozenset" not in words
