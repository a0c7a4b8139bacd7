"""The YAML parser's complaints in plain words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple


class Words(NamedTuple):
    """`at_start`: the place to mend is where the thing began, not where reading failed."""

    message: str
    expected: str | None = None
    at_start: bool = False


_LINE_UP = Words(
    "this line does not line up with the lines above, or the line above is broken",
    "the same indentation as the line it belongs with",
)

_AFTER_QUOTE = Words(
    "text goes on after the closing quote", "the other kind of quotes around the whole text"
)
_FURTHER_IN = Words(
    "this line stands further in than the line above",
    "the same indentation as the line it belongs with, or quotes around text with a colon",
)
_NO_KEY = Words("a line that is no key with a value", '"key: value", with a space after the colon')
COLON = Words("a colon where none can stand", "one key a line; text with a colon in quotes")

# Part of the parser's problem or context -> our words. The first that fits is taken.
_KNOWN: tuple[tuple[str, Words], ...] = (
    ("anchor", Words('text that starts with "&" stands without quotes', "quotes around the text")),
    (
        "scanning an alias",
        Words('text that starts with "*" stands without quotes', "quotes around the text"),
    ),
    ("a tag", Words('text that starts with "!" stands without quotes', "quotes around the text")),
    ("directive", Words('a line that starts with "%"', "put the text in quotes")),
    ("incompatible YAML", Words('a line that starts with "%"', "no such line")),
    (
        "escape character",
        Words("a backslash inside double quotes", "single quotes around the text"),
    ),
    (
        "hexdecimal number",
        Words("a backslash inside double quotes", "single quotes around the text"),
    ),
    (
        "quoted scalar",
        Words(
            "a quote is opened here and never closed",
            "a second quote at the end of the text",
            at_start=True,
        ),
    ),
    (
        "block scalar",
        Words('text follows "|" or ">" wrongly', "the text on the next lines, indented by spaces"),
    ),
    (
        "expected ',' or ']'",
        Words(
            "a bracket [ is opened here and never closed, or a comma is missing",
            "items between [ and ], commas between them",
            at_start=True,
        ),
    ),
    (
        "expected ',' or '}'",
        Words(
            "a brace { is opened here and never closed, or a comma is missing",
            "entries between { and }, commas between them",
            at_start=True,
        ),
    ),
    ("mapping values are not allowed", COLON),
    ("mapping keys are not allowed", Words('a text starts with "?"', "quotes around the text")),
    (
        "sequence entries are not allowed",
        Words('"- " where no list can start', "each list item on a line of its own"),
    ),
    ("expected ':'", Words("a line without a colon", '"key: value"', at_start=True)),
    ("block end", _LINE_UP),
    ("expected key", _LINE_UP),
    ("'-' indicator", _LINE_UP),
    ("document start", _LINE_UP),
    (
        "node content",
        Words(
            "a bracket, brace or comma where a value belongs",
            "a value; text with such signs in quotes",
        ),
    ),
    ("nesting depth", Words("too many levels in each other", "at most 20")),
    ("tab character", Words("a tab", "spaces")),
)


def plain_words(problem: str, context: str, before: str, after: str) -> Words:
    """What to say for a parser's problem and context.

    before, after: the line it failed on, up to where it failed and from there on.
    """
    if "cannot start any token" in problem:
        if after[:1] == "\t":
            return Words("a tab", "spaces")
        return Words(f'a text starts with "{after[:1]}"', "quotes around the text")
    for part, words in _KNOWN:
        if part in problem or part in context:
            quoted = before.rstrip().endswith(("'", '"'))
            return _AFTER_QUOTE if words is _LINE_UP and quoted else words
    return Words("this cannot be read", '"key: value" lines, lists with "- "')


def colon_words(lines: Sequence[str], row: int, column: int) -> tuple[Words, int, int]:
    """What to say of a colon where none can stand, and at which row and column, from 0.

    The parser takes a line without a key, or one further in, for text that goes on, and
    fails at the next colon. The line to mend is found here.
    """
    indents = [len(line) - len(line.lstrip()) for line in lines[: row + 1]]
    above = next((n for n in range(row - 1, -1, -1) if lines[n].strip()), None)
    if ": " in lines[row][:column] or above is None:
        return COLON, row, column
    if ": " in lines[above] or lines[above].rstrip().endswith(":"):
        return _FURTHER_IN, row, indents[row]
    return _NO_KEY, above, indents[above]
