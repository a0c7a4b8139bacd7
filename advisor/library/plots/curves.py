"""The curves of a picture of how long repairs held, their names and what stands under them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from advisor.library.facts.survival import MONTHS, Holding

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

PER_MONTH: Final = 365.25 / 12
"""Days."""
TICKS: Final = {0: 0, **MONTHS}


@dataclass(frozen=True, slots=True)
class Look:
    colour: str
    marker: str


def draw_curve(
    axes: "Axes", holdings: Sequence[Holding], look: Look, aside: float | None
) -> tuple[float, float]:
    """Draw it; where it ends. aside: how far beside it its bars stand, None for a shade."""
    watched = [one for one in holdings if one.at_risk]
    if not watched:
        return 0.0, 100.0
    months = [one.days / PER_MONTH for one in watched]
    shares, lows, highs = (
        [getattr(one, part) * 100 for one in watched] for part in ("share", "low", "high")
    )
    many = sum(not one.few for one in watched)
    few = slice(max(many - 1, 0), None)
    axes.step(months[:many], shares[:many], where="post", color=look.colour, linewidth=1.7)
    axes.step(
        months[few], shares[few], where="post", color=look.colour, linewidth=1.7, dashes=(3, 2)
    )
    if aside is None:
        axes.fill_between(
            months, lows, highs, step="post", color=look.colour, alpha=0.13, linewidth=0
        )
    for at, one in enumerate(watched):
        if one.days in MONTHS.values():
            beside = months[at] + (aside or 0)
            axes.plot(beside, shares[at], color=look.colour, marker=look.marker, clip_on=False)
            if aside is not None:
                axes.vlines(beside, lows[at], highs[at], color=look.colour, linewidth=1)
    return months[-1], shares[-1]


def watched_row(
    figure: "Figure",
    axes: "Axes",
    height: float,
    name: str,
    *,
    look: Look,
    holdings: Sequence[Holding],
) -> None:
    """A row under the axis: the mark of the curve, its name, how many are still watched."""
    from matplotlib.lines import Line2D  # noqa: PLC0415

    mark = Line2D([0.03], [height], color=look.colour, marker=look.marker, linestyle="none")
    figure.add_artist(mark)
    figure.text(0.045, height, name, va="center", size=8)
    left, right = axes.get_position().intervalx
    for month, day in TICKS.items():
        at = left + (right - left) * month / axes.get_xlim()[1]
        count = str(_on(holdings, day).at_risk)
        figure.text(at, height, count, ha="center", va="center", size=8)


def name_beside(axes: "Axes", ends: Sequence[tuple[tuple[float, float], str, Look]]) -> None:
    """Each name at the end of its curve; those that would overlap are moved apart."""
    above = float("inf")
    placed = []
    for (month, share), name, look in sorted(ends, key=lambda end: -end[0][1]):
        half = 2.8 * (name.count("\n") + 1)
        at = min(share, above - half)
        above = at - half
        placed.append((month, share, at, name, look.colour))
    lift = max(0.0, 2 - above)  # what slid under the axis goes up again
    for month, share, at, name, colour in placed:
        axes.annotate(
            name,
            (month, share),
            xytext=(25.6, at + lift),
            annotation_clip=False,
            arrowprops={"arrowstyle": "-", "color": colour, "linewidth": 0.6, "shrinkB": 3},
            va="center",
            size=9,
            color=colour,
        )


def _on(holdings: Sequence[Holding], day: int) -> Holding:
    for one in holdings:
        if one.days == day:
            return one
    raise ValueError(f"a curve without day {day}")
