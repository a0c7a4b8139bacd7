"""Whatever stands in a file: a callout, or Faulty with places and words; nothing else."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.callout import Callout, resolve, waters
from advisor.terms import Faulty, Problem
from tests.callout.conftest import Attributes
from tests.callout.test_reader import DESIGN_EXAMPLE, FULL
from tests.callout.test_resolve import TWO_VISITS

VALID = (DESIGN_EXAMPLE, FULL, TWO_VISITS)
SIGNS = [*":-,#'\"{}[]&*!|>%?\t\n\0ü09", "\u2028", "\ud800"]
WORDS = [
    "value:",
    "how:",
    "visit:",
    "corrects:",
    "missing:",
    "not:",
    "has:",
    "has-not:",
    "sure:",
    "date:",
    "same-water:",
    "unknown",
    "{value:",
    "[{value:",
    "1}]",
    "{not:",
    "{}",
    "[]",
    "yes",
    "true",
    "-1",
    "1e9",
    "9999999999",
    "0.3",
    "mm",
    "lime",
    "L1",
    "2031-02-30",
    "2029-01-01",
]
PIECES = [*SIGNS, *WORDS, "\n  - leak: L1\n", "\n    "]
LONG = settings(max_examples=20_000, deadline=None)
SHORT = settings(max_examples=200, deadline=None)


@st.composite
def mutated(draw: st.DrawFn) -> bytes:
    """A valid file with pieces put in, taken out or moved."""
    text = draw(st.sampled_from(VALID))
    for _ in range(draw(st.integers(1, 5))):
        at, end = sorted(draw(st.tuples(*[st.integers(0, len(text))] * 2)))
        end = min(end, at + 40)
        match draw(st.sampled_from(["put", "cut", "swap", "double", "line"])):
            case "put":
                text = text[:at] + draw(st.sampled_from(PIECES)) + text[at:]
            case "cut":
                text = text[:at] + text[end:]
            case "swap":
                text = text[:at] + draw(st.sampled_from(PIECES)) + text[end:]
            case "double":
                text = text[:end] + text[at:end] + text[end:]
            case "line":
                lines = text.split("\n")
                lines.insert(at % (len(lines) + 1), lines[end % len(lines)])
                text = "\n".join(lines)
    return text.encode("utf-8", "surrogatepass")


def check(data: bytes, attributes: Attributes) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        callout = Callout.parse(data, "f.yaml", attributes)
    except Faulty as faulty:
        problems = faulty.problems
    else:
        waters(callout)
        for leak in callout.leaks:
            assert "kind" in resolve(callout, leak, attributes)
        return
    assert problems
    for problem in problems:
        assert problem.message
        assert problem.file == "f.yaml"
        assert "\n" not in str(problem)


@SHORT
@given(data=mutated())
def test_mutations(data: bytes, attributes: Attributes) -> None:
    check(data, attributes)


@SHORT
@given(data=st.binary(max_size=400))
def test_random_bytes(data: bytes, attributes: Attributes) -> None:
    check(data, attributes)


@pytest.mark.long
@LONG
@given(data=mutated() | st.binary(max_size=400))
def test_many_of_both(data: bytes, attributes: Attributes) -> None:
    check(data, attributes)
