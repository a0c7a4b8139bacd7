"""Faults told without what was written: a fault quotes it elsewhere, and it may be a name."""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from advisor.terms import Problem

_WRITTEN: Final = (
    (re.compile(r'".*"', re.DOTALL), '"…"'),
    (re.compile(r"\(.*\)", re.DOTALL), "(…)"),
    (re.compile(r"(?<!\w)(?<![A-Za-z]-)\d[\d.,:/-]*"), "…"),
)
"""How a message tells what was written, and what stands there instead."""
_QUOTED: Final = _WRITTEN[0]
_DAY: Final = re.compile(r"\d{4}-\d{2}-\d{2}")
_PRIVATE: Final = re.compile(r"""^["']?private["']?\s*:""")
_NEXT: Final = re.compile(r"[^\s#}\]-]")


def unspoken(problem: Problem) -> Problem:
    """The problem with its place and key; what was written is left out."""
    message, expected = problem.message, problem.expected
    for written, instead in _WRITTEN:
        message = written.sub(instead, message)
    if expected is not None:
        expected = _DAY.sub("…", _QUOTED[0].sub(_QUOTED[1], expected))
    return replace(problem, message=message, expected=expected)


def private_unspoken(problems: Iterable[Problem], data: bytes | str) -> list[Problem]:
    """The problems of a file that cannot be read, without words of its private block."""
    text = data.decode("utf-8", "replace") if isinstance(data, bytes) else data
    private = _private_lines(re.split(r"\r\n|\r|\n", text))
    return [
        replace(unspoken(problem), key=None, nearest=None) if problem.line in private else problem
        for problem in problems
    ]


def _private_lines(lines: list[str]) -> range:
    """Counted from 1; all of them where the block does not begin at the start of a line."""
    starts = [number for number, line in enumerate(lines, 1) if _PRIVATE.match(line)]
    if not starts:
        return range(1, len(lines) + 1) if any("private" in line for line in lines) else range(0)
    ends = [n for n, line in enumerate(lines, 1) if n > starts[-1] and _NEXT.match(line)]
    return range(starts[0], ends[0] if ends else len(lines) + 1)
