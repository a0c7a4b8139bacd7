"""What the library tells of its cases, as lines."""

from collections.abc import Mapping

from advisor.knowledge import Knowledge
from advisor.library.facts.causes import by_kind
from advisor.library.facts.facts import LibraryFacts
from advisor.library.facts.first_beliefs import FirstBeliefs, Share
from advisor.library.facts.rates import Rate, Rates
from advisor.library.facts.survival import FEW
from advisor.library.plots.bars import causes_lines, reliability_lines
from advisor.report.labels import cause_label, group_label
from advisor.report.library_held import held_lines
from advisor.report.library_plots import words
from advisor.report.library_standing import standing_lines, table_lines
from advisor.report.lines import Line, Page, counted, heading, percent
from advisor.report.similar import kind_label
from advisor.terms import say_number

CAUSES = 5
"""Causes named of each kind of structure; the others are counted."""


def facts_lines(page: Page, knowledge: Knowledge, facts: LibraryFacts) -> list[Line]:
    """How many and how they stand, what it was, what held, first beliefs, rates."""
    say, whole = knowledge.say, facts.standing.all
    mark = page.wrap(say("facts-invented"), style="alarm") if facts.invented else []
    if not whole.all.places:
        return [*mark, *page.wrap(say("facts-none-yet"))]
    places = counted(knowledge, "facts-places", whole.all.places)
    cases = counted(knowledge, "facts-cases", whole.all.cases)
    lines = [
        *mark,
        *page.wrap(say("facts-head", places=places, cases=cases), style="head"),
        *standing_lines(page, knowledge, whole),
        *held_lines(page, knowledge, facts.held),
        *_first_lines(page, knowledge, facts.first_beliefs),
        *table_lines(page, knowledge, facts.standing),
        *_cause_lines(page, knowledge, facts),
    ]
    if facts.rates is not None:
        lines += _rate_lines(page, knowledge, facts.rates)
    return [*lines, Line(""), *mark] if mark else lines


def _cause_lines(page: Page, knowledge: Knowledge, facts: LibraryFacts) -> list[Line]:
    if not facts.causes:
        return []
    named = {
        kind_label(knowledge, kind): {
            **{cause_label(knowledge, cause): found[cause] for cause in _most(found)},
            **_others(knowledge, found),
        }
        for kind, found in by_kind(facts.causes).items()
    }
    return [
        *heading(knowledge.say("facts-causes")),
        *page.wrap(knowledge.say("facts-causes-confirmed")),
        *(Line(text) for text in causes_lines(named, page.width, (page.full, page.empty))),
    ]


def _most(found: Mapping[str, int]) -> list[str]:
    return sorted(found, key=lambda cause: (-found[cause], cause))[:CAUSES]


def _others(knowledge: Knowledge, found: Mapping[str, int]) -> dict[str, int]:
    """What is left, as one line."""
    rest = sum(found.values()) - sum(found[cause] for cause in _most(found))
    if not rest:
        return {}
    return {counted(knowledge, "facts-other-causes", len(found) - CAUSES): rest}


def _first_lines(page: Page, knowledge: Knowledge, first: FirstBeliefs) -> list[Line]:
    say = knowledge.say
    places = counted(knowledge, "facts-places", first.places)
    cases = counted(knowledge, "facts-cases", first.cases)
    lines = heading(say("facts-first"))
    means = say("facts-first-means", places=places, cases=cases, unconfirmed=first.unconfirmed)
    lines += page.wrap(means)
    if not first.places:
        return lines
    lines += page.named(say("facts-top-1"), _share(knowledge, first.top_1))
    lines += page.named(say("facts-top-3"), _share(knowledge, first.top_3))
    if first.says is None or first.calibration is None:
        lines += page.wrap(say("facts-too-few-to-say", cases=cases))
    else:
        found = first.calibration
        error, low, high = (
            percent(knowledge, part) for part in (found.error, found.low, found.high)
        )
        lines += page.wrap(say(f"facts-says-{first.says}"))
        lines += page.wrap(say("facts-error", error=error, low=low, high=high))
    lines += page.wrap(say("facts-bins"))
    marks = (page.full, page.empty)
    bars = reliability_lines(first.bins, page.width, marks, words(knowledge))
    return lines + [Line(text) for text in bars]


def _share(knowledge: Knowledge, found: Share) -> str:
    share, low, high = (
        percent(knowledge, part or 0.0) for part in (found.share, found.low, found.high)
    )
    text = knowledge.say(
        "facts-share", share=share, right=found.right, of=found.of, low=low, high=high
    )
    return text if found.of >= FEW else f"{text}, {knowledge.say('facts-few-told')}"


def _rate_lines(page: Page, knowledge: Knowledge, rates: Rates) -> list[Line]:
    """For each kind of structure and base its leaks and repairs; for all kinds also by path."""
    say = knowledge.say
    lines = heading(say("facts-rates"))
    if rates.rates:
        lines += page.wrap(say("facts-rates-means", first=rates.first, last=rates.last))
    else:
        lines += page.wrap(say("facts-rates-none"))
    told: dict[tuple[str | None, str], list[Rate]] = {}
    for one in rates.rates:
        told.setdefault((one.kind, one.base_is), []).append(one)
    for (kind, _), rows in told.items():
        lines += page.wrap(_base(knowledge, rows[0]), first="  ", rest="    ", style="strong")
        shown = [one for one in rows if kind is None or one.path is None]
        lines += page.items((_rate(knowledge, one) for one in shown), "    ")
    if rates.left_out:
        lines += page.wrap(say("facts-rates-left-out", quarters=rates.left_out))
    if rates.undated:
        places = counted(knowledge, "facts-places", rates.undated)
        lines += page.wrap(say("facts-rates-undated", places=places))
    return lines


def _base(knowledge: Knowledge, one: Rate) -> str:
    """What the rates below it are of."""
    say = knowledge.say
    kind = say("facts-all-kinds") if one.kind is None else kind_label(knowledge, one.kind)
    base, per = (
        say(f"facts-base-{one.base_is}", number=say_number(number))
        for number in (one.base, one.per)
    )
    return say("facts-rates-of", kind=kind, base=base, quarters=one.quarters, per=per)


def _rate(knowledge: Knowledge, one: Rate) -> str:
    say = knowledge.say
    what = say(f"facts-what-{one.of}")
    if one.path is not None:
        what = say("facts-what-on-path", path=group_label(knowledge, one.path))
    text = say(
        "facts-rate",
        what=what,
        rate=f"{one.rate:.3g}",
        low=f"{one.low:.3g}",
        high=f"{one.high:.3g}",
        count=counted(knowledge, f"facts-{one.of}", one.count),
    )
    return text if one.count >= FEW else f"{text}, {say('facts-few-told')}"
