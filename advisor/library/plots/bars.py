"""What the pictures show, as lines for a terminal. marks: a full and an empty cell of a bar."""

from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Final

from advisor.library.facts.survival import Holding
from advisor.library.plots.curves import PER_MONTH
from advisor.library.plots.plots import Bin, ordered_causes

WORDS: Final = ("after-months", "percent", "percent-range", "number-watched", "few", "said-right")
"""The keys of the words shown; each but `few` has places for figures:
`{number} months`, `{number} %`, `{low} to {high} %`, `{number} watched`,
`said {said} %, right {right} % ({low} to {high} %) of {cases}`."""

_CELLS: Final = 20
_TIED: Final = "\u00a0"


def survival_lines(
    holdings: Mapping[str, Sequence[Holding]],
    width: int,
    marks: tuple[str, str],
    words: Mapping[str, str],
) -> list[str]:
    """For each name the share that held, with its interval and how many were still watched."""
    lines = []
    for name, found in holdings.items():
        lines += wrap(name, width)
        ahead = [words["after-months"].format(number=round(h.days / PER_MONTH)) for h in found]
        column = max((len(text) for text in ahead), default=0)
        for text, one in zip(ahead, found, strict=True):
            said = [
                words["percent"].format(number=f"{_percent(one.share):>3}"),
                words["percent-range"].format(low=_percent(one.low), high=_percent(one.high)),
                words["number-watched"].format(number=one.at_risk),
                *([words["few"]] if one.few else []),
            ]
            lines += _line(f"  {text:>{column}}", one.share, said, width, marks)
    return lines


def reliability_lines(
    bins: Sequence[Bin], width: int, marks: tuple[str, str], words: Mapping[str, str]
) -> list[str]:
    """For each bin two bars, one under the other: what was said, and what was right."""
    lines = []
    for one in bins:
        text = words["said-right"].format(
            said=_percent(one.said),
            right=_percent(one.right),
            low=_percent(one.low),
            high=_percent(one.high),
            cases=one.cases,
        )
        lines += wrap(text, width)
        lines += [f"  {_bar(part, _CELLS, marks)}" for part in (one.said, one.right)]
    return lines


def causes_lines(
    counts: Mapping[str, Mapping[str, int]], width: int, marks: tuple[str, str]
) -> list[str]:
    """For each kind of structure how many wet places came of each cause, the most first."""
    lines = []
    most = max((count for found in counts.values() for count in found.values()), default=0)
    figures = len(str(most))
    for kind, found in counts.items():
        lines += wrap(f"{kind} ({sum(found.values())})", width)
        for cause in ordered_causes({kind: found}):
            count = found[cause]
            if count:
                lines += _line(f"  {count:>{figures}}", count / most, [cause], width, marks)
    return lines


def _line(
    ahead: str, part: float, said: Sequence[str], width: int, marks: tuple[str, str]
) -> Iterator[str]:
    """A figure, its bar, and what is said of it; on more lines where the width asks for them."""
    cells = max(min(_CELLS, width - len(ahead) - 4 - 20), 5)
    first = f"{ahead}  {_bar(part, cells, marks)}  "
    # A figure is not parted from what it counts.
    text = "  ".join(part.replace(" ", _TIED) if len(said) > 1 else part for part in said)
    for line in wrap(
        text,
        width,
        initial_indent=first,
        subsequent_indent=" " * len(first),
        break_on_hyphens=False,
    ):
        yield line.replace(_TIED, " ")


def _bar(part: float, cells: int, marks: tuple[str, str]) -> str:
    """One per cent shows a mark."""
    full = max(round(part * cells), 1 if part >= 0.01 else 0)
    return marks[0] * full + marks[1] * (cells - full)


def _percent(part: float) -> str:
    return f"{part * 100:.0f}"
