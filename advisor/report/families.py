"""How often each reading of a family is met with a cause, in counts of leaks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import log

from advisor.engine import Cut
from advisor.knowledge import FamilyEntry, Knowledge, choice_words
from advisor.report.labels import cause_label, condition_words
from advisor.report.lines import Line, Page
from advisor.report.words import of_leaks, times_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """How often a reading is met: with the cause, and in leaks the family does not mention.

    said: whether the cause or its group is named at this reading, or only divides what is left.
    """

    reading: str
    with_cause: float
    with_others: float
    said: bool
    because: str | None
    cut: Cut | None

    @property
    def times(self) -> float:
        return self.with_cause / self.with_others


def met_with(knowledge: Knowledge, cause: str) -> Iterator[tuple[FamilyEntry, tuple[Met, ...]]]:
    """Every family that mentions the cause or its group, with all its readings."""
    column = list(knowledge.causes).index(cause)
    names = (cause, knowledge.causes[cause].group)
    for entry in knowledge.families.values():
        if entry.family.mentioned[column]:
            yield entry, tuple(_readings(entry, column, names))


def _readings(entry: FamilyEntry, column: int, names: tuple[str, str]) -> Iterator[Met]:
    family = entry.family
    for row, reading in enumerate(family.readings):
        told = {name: because for name, _, because in entry.said.get(reading, ())}
        name = next((name for name in names if name in told), None)
        yield Met(
            reading=reading,
            with_cause=float(family.likelihood[row, column]),
            with_others=float(family.shares[row]),
            said=name is not None,
            because=told[name] if name is not None else None,
            cut=next(
                (c for c in entry.cuts if (c.reading, c.hypothesis) == (reading, names[0])), None
            ),
        )


def evidence_of_cause(page: Page, knowledge: Knowledge, cause: str) -> list[Line]:
    """The families that speak for a cause, then those that only speak against it."""
    met = sorted(met_with(knowledge, cause), key=lambda pair: -_strength(pair[1]))
    speaks_for = [pair for pair in met if any(m.said and m.times > 1 for m in pair[1])]
    against = [pair for pair in met if pair not in speaks_for]
    lines: list[Line] = []
    for title, found in (("speaks-for-it", speaks_for), ("speaks-against-it", against)):
        lines += [Line(""), *page.wrap(knowledge.say(title), style="strong")]
        for entry, readings in found:
            lines += _family(page, knowledge, entry, readings)
        if not found:
            lines += page.wrap(knowledge.say("no-family-yet"), first="  ")
    return lines


def _strength(readings: Sequence[Met]) -> float:
    return max((abs(log(m.times)) for m in readings if m.said and m.times > 0), default=0.0)


def _family(
    page: Page, knowledge: Knowledge, entry: FamilyEntry, readings: Sequence[Met]
) -> list[Line]:
    """What is said of the cause reading by reading; the readings left over in one line."""
    say = knowledge.say
    lines = page.wrap(entry.label, first="  ", rest="    ")
    if entry.family.given is not None:
        given = condition_words(knowledge, entry.family.given)
        lines += page.wrap(say("counts-when", given=given), first="    ")
    for met in sorted((m for m in readings if m.said), key=lambda m: -m.times):
        label = choice_words(knowledge, entry.family.variable, met.reading)
        lines += page.wrap(f"{label}: {_counts(knowledge, met)}", first="    - ")
        lines += page.wrap(met.because, first="      ") if met.because else []
        lines += cut_line(page, knowledge, met.cut) if met.cut else []
    left = [m for m in readings if not m.said]
    if left:
        label = say("the-rest")
        if len(left) == 1:
            label = choice_words(knowledge, entry.family.variable, left[0].reading)
        lines += page.wrap(f"{label}: {times_words(knowledge, left[0].times)}", first="    - ")
    return lines


def _counts(knowledge: Knowledge, met: Met) -> str:
    whole, one, other = of_leaks(met.with_cause, met.with_others)
    times = times_words(knowledge, met.times)
    return knowledge.say("met-in", whole=whole, one=one, other=other, times=times)


def cut_line(page: Page, knowledge: Knowledge, cut: Cut) -> list[Line]:
    """A word that would pass its ceiling, and what it was cut to."""
    said = knowledge.say("word-cut", asked=f"{cut.asked:.3g}", given=f"{cut.given:.3g}")
    return page.wrap(said, first="      ")


def family_lines(page: Page, knowledge: Knowledge, entry: FamilyEntry) -> list[Line]:
    """The whole table of a family: each reading, its share, and what it says of each cause."""
    family, say = entry.family, knowledge.say
    lines = page.named(say("family-reads"), family.variable, "")
    if family.given is not None:
        lines += page.named(say("family-counts-when"), condition_words(knowledge, family.given), "")
    if family.story is not None:
        story = knowledge.weights.stories.get(family.story, family.story)
        lines += page.named(say("family-story"), story, "")
    lines += page.named(say("family-reads-again"), family.again or "", "")
    lines += page.wrap(say("family-rest"))
    for row, reading in enumerate(family.readings):
        label = choice_words(knowledge, family.variable, reading)
        share = float(family.shares[row])
        whole = 100 if share >= 0.01 else 1000
        lines += [Line("")]
        met = say("family-share", count=f"{share * whole:.0f}", whole=whole)
        lines += page.wrap(f"{label}: {met}", style="strong")
        lines += _said(page, knowledge, entry, row)
    return lines


def _said(page: Page, knowledge: Knowledge, entry: FamilyEntry, row: int) -> list[Line]:
    """What a reading says of each cause that it names, itself or by its group."""
    family, reading = entry.family, entry.family.readings[row]
    told = {name: (words, because) for name, words, because in entry.said.get(reading, ())}
    lines: list[Line] = []
    for column, (key, cause) in enumerate(knowledge.causes.items()):
        name = next((name for name in (key, cause.group) if name in told), None)
        if name is None:
            continue
        words, because = told[name]
        whole, one, other = of_leaks(family.likelihood[row, column], family.shares[row])
        word = _weight_words(knowledge, words)
        said = knowledge.say("met-in", whole=whole, one=one, other=other, times=word)
        lines += page.wrap(f"{cause_label(knowledge, key)}: {said}", first="  - ")
        lines += page.wrap(because, first="    ") if because else []
        for cut in entry.cuts:
            if (cut.reading, cut.hypothesis) == (reading, key):
                lines += cut_line(page, knowledge, cut)
    return lines or page.wrap(knowledge.say("reading-says-nothing"), first="  - ")


def _weight_words(knowledge: Knowledge, written: str) -> str:
    """`strong for` or `2.5 times`, as the family says it."""
    number, _, unit = written.partition(" ")
    if unit == "times":
        return knowledge.say("word-times", number=number)
    return knowledge.say(f"word-{number}-{unit}")
