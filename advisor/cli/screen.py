"""The screen a command writes to: how wide it is, and what it can show."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from os import get_terminal_size
from typing import TYPE_CHECKING, Final, TextIO

if TYPE_CHECKING:
    from advisor.report import Line, Page

NARROWEST, WIDEST, USUAL = 40, 100, 80

_CODES: Final[Mapping[str, str]] = {
    "head": "\x1b[1m",
    "strong": "\x1b[1m",
    "alarm": "\x1b[1;31m",
    "faint": "\x1b[2m",
}
_OFF: Final = "\x1b[0m"


@dataclass(frozen=True, slots=True)
class Screen:
    width: int
    marks: tuple[str, str]
    colour: bool
    terminal: TextIO | None = None
    """Where a question can be asked; None in a pipe."""

    @property
    def page(self) -> "Page":
        """What the report has to keep to."""
        # Help and mistyped commands are answered without it.
        from advisor.report import Page  # noqa: PLC0415

        return Page(self.width, *self.marks)

    def show(self, lines: "Iterable[Line]") -> None:
        """Print lines, each in its style where the screen shows styles."""
        for line in lines:
            code = _CODES.get(line.style, "") if self.colour and line.text else ""
            print(f"{code}{line.text}{_OFF}" if code else line.text)


def screen_of(stream: TextIO | None, environment: Mapping[str, str]) -> Screen:
    """No colour in a pipe, with NO_COLOR, or on a dumb terminal; no blocks where none can be."""
    terminal = stream is not None and stream.isatty()
    colour = terminal and not environment.get("NO_COLOR") and environment.get("TERM") != "dumb"
    width = min(max(_columns(stream if terminal else None, environment), NARROWEST), WIDEST)
    encoding = (stream.encoding if terminal and stream is not None else None) or "utf-8"
    return Screen(width, _marks(encoding), colour, stream if terminal else None)


def _columns(terminal: TextIO | None, environment: Mapping[str, str]) -> int:
    """What the environment says, else the terminal, else the usual width."""
    said = environment.get("COLUMNS", "")
    if said.isascii() and said.isdigit() and int(said):
        return int(said)
    try:
        return (get_terminal_size(terminal.fileno()).columns if terminal else 0) or USUAL
    except (OSError, ValueError):
        return USUAL


def _marks(encoding: str) -> tuple[str, str]:
    try:
        "█·–…".encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return "#", "."
    return "█", "·"
