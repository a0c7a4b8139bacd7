"""The sheet a picture is drawn on, written as SVG or PNG by the ending of its path."""

from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Final

from advisor.terms import Faulty, Problem

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

ENDINGS: Final = (".svg", ".png")
# Told apart by those who see few colours, and in grey (Okabe and Ito 2008, darkest first).
COLOURS: Final = ("#000000", "#0072B2", "#D55E00", "#009E73", "#CC79A7", "#56B4E9", "#E69F00")
GREY: Final = "#595959"


def per_cent_axes(
    figure: "Figure", box: tuple[float, float, float, float], x: str, y: str
) -> "Axes":
    """Axes with per cents upward; x, y: what stands along them."""
    axes = figure.add_axes(box)
    axes.set_xlabel(x)
    axes.set_ylabel(y)
    axes.set_ylim(0, 106)
    axes.set_yticks(range(0, 101, 20))
    axes.grid(axis="y", color="#D9D9D9", linewidth=0.6)
    axes.set_axisbelow(True)
    axes.spines[["top", "right"]].set_visible(False)
    return axes


@contextmanager
def sheet(
    path: Path, title: str, size: tuple[float, float], note: str, invented: str
) -> Iterator["Figure"]:
    """A sheet of size inches with its title; written when all is drawn. invented: what says so.

    The same drawing makes the same bytes.
    Raises Faulty for another ending, and where the file cannot be written.
    """
    if path.suffix.lower() not in ENDINGS:
        raise Faulty(
            Problem(
                message=f'no picture can be written as "{path.suffix}"',
                file=str(path),
                expected="a name that ends with .svg or .png",
            )
        )
    import matplotlib  # noqa: PLC0415 - two seconds, for pictures only
    from matplotlib.figure import Figure  # noqa: PLC0415

    with matplotlib.rc_context():
        matplotlib.rcdefaults()  # nothing of the user's own settings
        matplotlib.rcParams.update(
            {"svg.hashsalt": "advisor", "svg.fonttype": "none", "font.size": 9}
        )
        figure = Figure(figsize=size, dpi=144, facecolor="white")
        top = 1 - 0.3 / size[1]
        figure.text(0.02, top, title, size=12, weight="bold", va="center")
        if note:
            figure.text(0.02, top - 0.25 / size[1], note, size=8.5, color=GREY, va="center")
        if invented:
            figure.text(
                0.98,
                top,
                invented,
                size=9,
                weight="bold",
                ha="right",
                va="center",
                bbox={"facecolor": "white", "edgecolor": "black", "pad": 3},
            )
        yield figure
        kind = path.suffix.lower().removeprefix(".")
        free = {"Date": None, "Creator": None} if kind == "svg" else {"Software": None}
        drawn = BytesIO()
        figure.savefig(drawn, format=kind, metadata={"Title": title, **free})
    try:
        path.write_bytes(drawn.getvalue())
    except OSError as error:
        raise Faulty(
            Problem(
                message=f"it cannot be written ({error.strerror or error})",
                file=str(path),
                expected="a folder that is there and may be written to",
            )
        ) from None
