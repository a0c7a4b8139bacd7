"""Lines of text, wrapped to the width of a page. Pure: nothing is printed here."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from textwrap import TextWrapper
from typing import Literal

from advisor.knowledge import Knowledge, both, either

Style = Literal["plain", "head", "strong", "alarm", "faint"]
"""How much a line matters. Colour may show it; the words alone must say it."""

CELLS = 20
"""Characters of a full bar."""


@dataclass(frozen=True, slots=True)
class Line:
    text: str
    style: Style = "plain"


@dataclass(frozen=True, slots=True)
class Page:
    """width: characters of a line. full, empty: the marks that bars are made of."""

    width: int = 80
    full: str = "█"
    empty: str = "·"

    def wrap(
        self, text: str, *, first: str = "", rest: str | None = None, style: Style = "plain"
    ) -> list[Line]:
        """`text` behind `first`, its other lines behind `rest` (else as far in as `first`)."""
        wrapper = TextWrapper(
            width=self.width,
            initial_indent=first,
            subsequent_indent=" " * len(first) if rest is None else rest,
            break_on_hyphens=False,
        )
        return [Line(part, style) for part in wrapper.wrap(" ".join(text.split()))]

    def bar(self, part: float) -> str:
        """A bar for a part of 1. One per cent shows a mark."""
        marks = max(round(part * CELLS), 1 if part >= 0.01 else 0)
        return self.full * marks + self.empty * (CELLS - marks)

    def row(self, figure: str, part: float, text: str, style: Style = "plain") -> list[Line]:
        """A figure, its bar, and what it is of."""
        return self.wrap(text, first=f"  {figure:>9}  {self.bar(part)}  ", style=style)

    def items(self, texts: Iterable[str], indent: str = "  ") -> list[Line]:
        """One text a line, each behind a dash."""
        return [line for text in texts for line in self.wrap(text, first=f"{indent}- ")]

    def named(self, name: str, text: str, indent: str = "  ", style: Style = "plain") -> list[Line]:
        """`name: text`, or nothing for an empty text."""
        if not text:
            return []
        return self.wrap(f"{name}: {text}", first=indent, rest=f"{indent}  ", style=style)


def heading(text: str, style: Style = "head") -> list[Line]:
    """An empty line and a title in capitals."""
    return [Line(""), Line(text.upper(), style)]


def percent(knowledge: Knowledge, part: float) -> str:
    """Whole per cents. The ends are never claimed: `over 99 %`, `under 1 %`."""
    if 0 < part < 0.01:
        return knowledge.say("percent-under-1")
    if part > 0.99:
        return knowledge.say("percent-over-99")
    return knowledge.say("percent", number=f"{part * 100:.0f}")


def joined(knowledge: Knowledge, texts: Sequence[str]) -> str:
    """`a, b and c`."""
    return both(knowledge, [", ".join(texts[:-1]), texts[-1]] if len(texts) > 1 else texts)


def one_of_these(knowledge: Knowledge, texts: Sequence[str]) -> str:
    """`a, b or c`."""
    return either(knowledge, [", ".join(texts[:-1]), texts[-1]] if len(texts) > 1 else texts)


def counted(knowledge: Knowledge, what: str, number: float) -> str:
    """`1 cause`, `3 causes`: the phrase `what-one` or `what-many`."""
    form = "one" if number == 1 else "many"
    return knowledge.say(f"{what}-{form}", count=f"{number:g}")
