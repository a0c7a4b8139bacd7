"""Pictures of what the library tells, as SVG or PNG by the ending of the path.

Words come in, so that they stand with the others of the knowledge; `title` says what is shown,
`note` what to keep in mind. The same input makes the same bytes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from textwrap import fill
from typing import Final

from advisor.library.facts.survival import Holding
from advisor.library.plots.curves import TICKS, Look, draw_curve, name_beside, watched_row
from advisor.library.plots.sheet import COLOURS, GREY, per_cent_axes, sheet

WORDS: Final = {
    "survival": (
        "months-after-repair",
        "share-holding",
        "still-watched",
        "shaded-interval",
        "barred-interval",
        "dashed-few",
        "invented-cases",
    ),
    "reliability": ("confidence-given", "share-right", "as-said", "invented-cases"),
    "causes": ("number-of-places", "invented-cases"),
}
"""The keys of the words that each picture shows."""

_MARKERS: Final = ("o", "s", "^", "D", "v", "P", "X")
_SHADED: Final = 4
"""So many curves have their interval shaded and their name beside them."""


@dataclass(frozen=True, slots=True)
class Bin:
    """Cases that were answered with about the same confidence. said: its mean; right: the share
    that was right, and its interval."""

    said: float
    right: float
    low: float
    high: float
    cases: int


def survival_picture(
    curves: Mapping[str, Sequence[Holding]],
    title: str,
    path: Path,
    words: Mapping[str, str],
    *,
    note: str = "",
    invented: bool = False,
) -> None:
    """How long repairs held. curves: for each name its holdings on every day that is to be drawn,
    0, 91, 365 and 730 among them (`kaplan_meier(held, failed, range(731))`).

    A curve ends at the last look, and is dashed where few are still watched. The intervals of more
    than four curves are bars at 3, 12 and 24 months, since their shades would hide each other.
    Raises Faulty for another ending, and where the file cannot be written; ValueError for a curve
    without one of those days.
    """
    shaded = len(curves) <= _SHADED
    names = {name: fill(name, 24) for name in curves}
    lines = sum(name.count("\n") + 1 for name in names.values())
    height = 4.9 + 0.17 * lines + 0.05 * len(names)
    told = [words["shaded-interval" if shaded else "barred-interval"], words["dashed-few"], note]
    said = " ".join(text for text in told if text)
    with sheet(path, title, (8.2, height), said, words["invented-cases"] * invented) as figure:
        bottom = height - 4.0
        box = (0.27, bottom / height, 0.52 if shaded else 0.7, 3.2 / height)
        axes = per_cent_axes(figure, box, words["months-after-repair"], words["share-holding"])
        axes.set_xlim(0, 24.6)
        axes.set_xticks(list(TICKS))
        ends = []
        under = bottom - 0.62
        figure.text(0.02, under / height, words["still-watched"], va="center")
        under -= 0.15
        for number, (name, holdings) in enumerate(curves.items()):
            look = Look(COLOURS[number % len(COLOURS)], _MARKERS[number % len(_MARKERS)])
            aside = None if shaded else 0.13 * (number - (len(curves) - 1) / 2)
            ends.append((draw_curve(axes, holdings, look, aside), names[name], look))
            deep = 0.17 * (names[name].count("\n") + 1) + 0.05
            watched_row(
                figure, axes, (under - deep / 2) / height, names[name], look=look, holdings=holdings
            )
            under -= deep
        if shaded:
            name_beside(axes, ends)


def reliability_picture(
    bins: Sequence[Bin],
    title: str,
    path: Path,
    words: Mapping[str, str],
    *,
    note: str = "",
    invented: bool = False,
) -> None:
    """How often the first belief was right, beside what it said; with intervals and numbers.

    Raises Faulty for another ending, and where the file cannot be written.
    """
    with sheet(path, title, (6.0, 6.2), note, words["invented-cases"] * invented) as figure:
        box = (0.13, 0.11, 0.82, 0.73)
        axes = per_cent_axes(figure, box, words["confidence-given"], words["share-right"])
        axes.set_xlim(0, 104)
        axes.set_xticks(range(0, 101, 20))
        axes.plot([0, 100], [0, 100], color=GREY, linewidth=1, linestyle=(0, (4, 3)))
        axes.text(100, 101, words["as-said"], color=GREY, size=8, ha="right", va="bottom")
        for one in bins:
            said, right = one.said * 100, one.right * 100
            axes.vlines(said, one.low * 100, one.high * 100, color=COLOURS[1], linewidth=1.6)
            axes.plot(said, right, marker="o", markersize=6, color=COLOURS[1])
            # Away from the diagonal, so that neither hides the other.
            side, turn = (5, "left") if right <= said else (-5, "right")
            axes.annotate(
                f"{one.cases}",
                (said, right),
                xytext=(side, 5 if one.right == 0 else 0),  # not on the axis
                textcoords="offset points",
                ha=turn,
                va="center",
                size=8,
            )


def causes_picture(
    counts: Mapping[str, Mapping[str, int]],
    title: str,
    path: Path,
    words: Mapping[str, str],
    *,
    note: str = "",
    invented: bool = False,
) -> None:
    """What it was, by kind of structure. counts: kind -> cause -> wet places. One panel a kind,
    the causes in the order of all together; up to four panels side by side.

    Raises Faulty for another ending, and where the file cannot be written.
    """
    causes = ordered_causes(counts)
    across = max(min(len(counts), 4), 1)
    down = max(-(-len(counts) // across), 1)
    labels = [fill(cause, 34) for cause in causes]
    # Inches, as all here. Names of two lines need more room than one.
    deep = (0.31 if any("\n" in label for label in labels) else 0.24) * max(len(causes), 2)
    height = 1.1 + down * (deep + 0.6)
    most = max((count for kind in counts.values() for count in kind.values()), default=1)
    with sheet(path, title, (8.6, height), note, words["invented-cases"] * invented) as figure:
        for number, (kind, found) in enumerate(counts.items()):
            row, column = divmod(number, across)
            low = height - 0.65 - (row + 1) * (deep + 0.6)
            wide = 0.71 / across
            axes = figure.add_axes(
                (0.27 + column * wide, (low + 0.1) / height, wide * 0.88, deep / height)
            )
            values = [found.get(cause, 0) for cause in causes]
            bars = axes.barh(range(len(causes)), values, color=COLOURS[1], height=0.68)
            axes.bar_label(bars, [str(v) if v else "" for v in values], padding=2, size=8)
            axes.set_title(fill(f"{kind} ({sum(values)})", 64 // across), size=9, loc="left")
            axes.set_ylim(len(causes) - 0.4, -0.6)
            axes.set_xlim(0, most * 1.22)
            axes.set_xticks([])
            named = labels if column == 0 else []
            axes.set_yticks(range(len(named)), named, size=8)
            axes.tick_params(length=0)
            axes.spines[["top", "right", "bottom"]].set_visible(False)
        figure.text(0.27, 0.2 / height, words["number-of-places"], size=9)


def ordered_causes(counts: Mapping[str, Mapping[str, int]]) -> list[str]:
    """Of all kinds together, the most frequent first."""
    total: dict[str, int] = {}
    for found in counts.values():
        for cause, count in found.items():
            total[cause] = total.get(cause, 0) + count
    return sorted(total, key=lambda cause: (-total[cause], cause))
