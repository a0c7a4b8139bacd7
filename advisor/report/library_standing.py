"""How the wet places of a library stand: in all, and as tables by path, water and structure."""

from collections.abc import Callable, Sequence
from typing import Final

from advisor.knowledge import Knowledge
from advisor.library.facts.counting import Count, Quartiles
from advisor.library.facts.standing import Standing, Standings
from advisor.library.facts.survival import FEW
from advisor.report.labels import group_label, water_label
from advisor.report.lines import Line, Page, counted, heading
from advisor.report.similar import kind_label

Labels = Callable[[Knowledge, str], str]

LETTERS: Final = "abcdefg"
WIDTH: Final = 5
NOTHING: Final = "."


def standing_lines(page: Page, knowledge: Knowledge, whole: Standing) -> list[Line]:
    """All of it in words."""
    say = knowledge.say
    lines = heading(say("facts-standing"))
    for name, count in _counts(whole).items():
        text = in_full(knowledge, count)
        if name == "facts-open" and whole.oldest_open is not None:
            text += f", {say('facts-oldest', quarter=whole.oldest_open)}"
        lines += page.named(say(name), text)
    spread = {
        "facts-days-to-close": whole.days_to_close,
        "facts-visits-a-case": whole.visits_a_case,
    }
    for name, found in spread.items():
        if found is not None:
            lines += page.named(say(name), _spread(knowledge, found))
    return lines


def table_lines(page: Page, knowledge: Knowledge, standing: Standings) -> list[Line]:
    """A row a path, a water, a kind; what each column says stands above."""
    say, whole = knowledge.say, standing.all
    parts: tuple[tuple[str, Sequence[Standing], Labels], ...] = (
        ("facts-by-path", standing.by_path, group_label),
        ("facts-by-water", standing.by_water, water_label),
        ("facts-by-kind", standing.by_kind, kind_label),
    )
    lines: list[Line] = []
    for title, rows, label in parts:
        lines += heading(say(title))
        if label is not kind_label:
            places = counted(knowledge, "facts-places", whole.all.places)
            told = say("facts-path-rests", confirmed=whole.confirmed.places, places=places)
            lines += page.wrap(told)
        names = ("facts-all", *_COLUMNS, "facts-middle-days")
        legend = ", ".join(
            f"{letter} {say(name)}" for letter, name in zip(LETTERS, names, strict=True)
        )
        lines += page.wrap(legend, style="faint")
        lines.append(Line("".join(f"{letter:>{WIDTH}}" for letter in LETTERS), "strong"))
        for row in sorted(rows, key=lambda one: (one.key is None, -one.all.places)):
            name = say("facts-not-known") if row.key is None else label(knowledge, row.key)
            figures = "".join(f"{figure:>{WIDTH}}" for figure in _figures(row))
            lines += page.wrap(name, first=f"{figures}  ", rest=" " * (WIDTH + 2))
    return lines


_COLUMNS: Final = (
    "facts-open",
    "facts-closed",
    "facts-reopened",
    "facts-not-through",
    "facts-never-confirmed",
)


def _figures(row: Standing) -> list[str]:
    """The counts of places; the days to close only where they say anything."""
    counts = _counts(row)
    shown = [row.all.places, *(counts[name].places for name in _COLUMNS)]
    days = row.days_to_close
    middle = f"{days.median:.0f}" if days is not None and days.of >= FEW else NOTHING
    return [*(str(count) if count else NOTHING for count in shown), middle]


def _counts(one: Standing) -> dict[str, Count]:
    return {
        "facts-confirmed": one.confirmed,
        "facts-open": one.open,
        "facts-closed": one.closed,
        "facts-handed-over": one.handed_over,
        "facts-reopened": one.reopened,
        "facts-not-through": one.not_through,
        "facts-within-class": one.within_class,
        "facts-never-confirmed": one.never_confirmed,
    }


def in_full(knowledge: Knowledge, count: Count) -> str:
    """Places and cases; cases only where there are places."""
    places = counted(knowledge, "facts-places", count.places)
    cases = counted(knowledge, "facts-cases", count.cases)
    return knowledge.say("facts-count", places=places, cases=cases) if count.places else places


def _spread(knowledge: Knowledge, found: Quartiles) -> str:
    text = knowledge.say(
        "facts-quartiles",
        median=f"{found.median:.0f}",
        lower=f"{found.lower:.0f}",
        upper=f"{found.upper:.0f}",
        of=found.of,
    )
    return text if found.of >= FEW else f"{text}, {knowledge.say('facts-few-told')}"
