import math
from contextlib import suppress
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.terms import (
    YES_NO,
    Attribute,
    Choice,
    Faulty,
    Kind,
    Mapping,
    Node,
    Range,
    parse,
    read_choice,
    read_number,
    read_several,
    read_value,
    say_choices,
)

COLOURS = ("red", "green", "blue", "blue-or-green")


def attribute(kind: Kind, *choices: str, unit: str | None = None) -> Attribute:
    return Attribute(
        key="colour",
        label="colour",
        kind=kind,
        of="leak",
        question="Which colour?",
        check="Look.",
        who=("eyes-here",),
        unit=unit,
        choices=tuple(Choice(key, key.upper()) for key in choices),
        lowest=0,
        highest=100,
    )


ONE = attribute("choice", *COLOURS)
MANY = attribute("several", *COLOURS)
WIDTH = attribute("number", unit="mm")


def node(written: str) -> Node:
    document = parse(f"colour: {written}", "f")
    assert isinstance(document, Mapping)
    return document.entries[0][1]


@pytest.mark.parametrize(
    ("written", "mask"),
    [
        ("red", 0b0001),
        ("red or  blue # a comment", 0b0101),
        ("blue or green", 0b1000),
        ("blue or green or red", 0b0111),
        ("blue-or-green or red", 0b1001),
        ("{not: red}", 0b1110),
        ("{not: [red, blue or green]}", 0b0110),
        ("{not: []}", 0b1111),
        ("unknown", 0b1111),
        ("'red'", 0b0001),
    ],
)
def test_one_choice(written: str, mask: int) -> None:
    assert read_choice(node(written), ONE) == mask


@pytest.mark.parametrize(
    ("written", "there", "absent"),
    [
        ("[red, blue]", 0b0101, 0b1010),
        ("red", 0b0001, 0b1110),
        ("[]", 0, 0b1111),
        ("{has: [red], has-not: [blue]}", 0b0001, 0b0100),
        ("{has: red}", 0b0001, 0),
        ("{has-not: [red, blue or green]}", 0, 0b1001),
        ("unknown", 0, 0),
    ],
)
def test_several_choices(written: str, there: int, absent: int) -> None:
    assert read_several(node(written), MANY) == (there, absent)


@pytest.mark.parametrize(
    ("of", "written", "message", "nearest"),
    [
        (ONE, "gren", '"gren" is not one of its choices', "green"),
        (ONE, "Red", '"Red" is not one of its choices', "red"),
        (ONE, "not  sure", '"not sure" is not one of its choices', "unknown"),
        (ONE, "'?'", '"?" is not one of its choices', "unknown"),
        (attribute("yes-no"), "Maybe", '"Maybe" is not one of its choices', "unknown"),
        (ONE, "red or", '"red or" is not one of its choices', "red"),
        (ONE, "", "nothing is written here", None),
        (ONE, "[red, blue]", "a list stands here", None),
        (ONE, "{not: [red, green, blue, blue-or-green]}", "this leaves no choice", None),
        (ONE, "{nto: red}", "this key is not known here", "not"),
        (ONE, "{not: {a: b}}", "keys and values stand here", None),
        (MANY, "[red, gren]", '"gren" is not one of its choices', "green"),
        (MANY, "[[red]]", "a list stands here", None),
        (MANY, "{has: red, has-not: red}", '"red" is said to be there and not there', None),
        (MANY, "{}", "nothing is written here", None),
        (MANY, "not checked", '"not checked" is not one of its choices', "unknown"),
        (MANY, "[maybe]", '"maybe" is not one of its choices', None),
        (MANY, "none", '"none" is not one of its choices', None),
        (MANY, "No", '"No" is not one of its choices', None),
        (MANY, "{has: red, hasnot: blue}", "this key is not known here", "has-not"),
        (WIDTH, "0.3", "the unit is missing", None),
        (WIDTH, "0.3 mmm", '"mmm" is no unit', "mm"),
        (WIDTH, "-1 mm", "-1 mm cannot be", None),
        (WIDTH, "[1 mm]", "a list stands here", None),
        (attribute("date"), "soon", '"soon" is no date', None),
        (attribute("text"), "a # b", 'a comment (" #") may have cut this text', None),
        (attribute("yes-no"), "true", '"true" is not one of its choices', None),
    ],
)
def test_refusals(of: Attribute, written: str, message: str, nearest: str | None) -> None:
    with pytest.raises(Faulty) as caught:
        read_value(node(written), of)
    problem = caught.value.problems[0]
    assert problem.message.startswith(message)
    assert (problem.line, problem.nearest) == (1, nearest)
    assert problem.expected or "missing" in problem.message


def test_none_of_several_is_an_empty_list() -> None:
    with pytest.raises(Faulty) as caught:
        read_several(node("none"), MANY)
    assert str(caught.value.problems[0].expected).endswith("; [] for none of them")


def test_all_misspelt_choices_at_once() -> None:
    with pytest.raises(Faulty) as caught:
        read_several(node("{has: [gren, red], has-not: [bleu, gold]}"), MANY)
    assert [p.nearest for p in caught.value.problems] == ["green", "blue", None]
    with pytest.raises(Faulty) as caught:
        read_choice(node("gren or bleu"), ONE)
    assert [p.nearest for p in caught.value.problems] == ["green", "blue"]


def test_a_number() -> None:
    assert read_number(node("0.2-0.3 mm"), WIDTH) == Range(0.2, 0.3)
    assert read_number(node('"0,3 mm"'), WIDTH) == Range.point(0.3)
    assert read_number(node("unknown"), WIDTH) == Range(0, math.nextafter(100, math.inf))
    assert read_number(node("3 # a comment"), attribute("number", unit="count")) == Range.point(3)


def test_every_kind() -> None:
    assert attribute("yes-no").choices == YES_NO
    assert read_value(node("no"), attribute("yes-no")) == 0b10
    assert read_value(node("red"), ONE) == 0b0001
    assert read_value(node("red"), MANY) == (0b0001, 0b1110)
    assert read_value(node("3 mm"), WIDTH) == Range.point(3)
    assert read_value(node("2031-04-16"), attribute("date")) == date(2031, 4, 16)
    assert read_value(node("a wall"), attribute("text")) == "a wall"


def test_said_as_it_is_read() -> None:
    assert say_choices(0b0101, ONE) == "red or blue"
    assert say_choices(0b0101, ONE, labels=True) == "RED or BLUE"
    assert say_choices(0b1111, ONE) == "unknown"
    assert say_choices(0, ONE) == "none"


@given(st.integers(1, 0b111))
def test_what_is_said_reads_back(mask: int) -> None:
    plain = attribute("choice", "red", "green", "blue")
    assert read_choice(node(say_choices(mask, plain)), plain) == mask


@given(st.text(max_size=40) | st.text(alphabet="redgnblu or{}:,[] not-", max_size=40))
def test_any_text_is_a_value_or_faulty(written: str) -> None:
    for of in (ONE, MANY, WIDTH, attribute("date"), attribute("text"), attribute("yes-no")):
        with suppress(Faulty):
            value = read_value(node(written), of)
            assert value != 0
