"""The YAML parser's complaints in plain words."""

from __future__ import annotations

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
    (
        "mapping values are not allowed",
        Words("a colon where none can stand", "one key a line; text with a colon in quotes"),
    ),
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


def plain_words(problem: str, context: str, character: str) -> Words:
    """What to say for a parser's problem and context; `character` is where it failed."""
    if "cannot start any token" in problem:
        if character == "\t":
            return Words("a tab", "spaces")
        return Words(f'a text starts with "{character}"', "quotes around the text")
    for part, words in _KNOWN:
        if part in problem or part in context:
            return words
    return Words("this cannot be read", '"key: value" lines, lists with "- "')
