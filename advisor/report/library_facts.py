"""What the library tells of its cases, as lines."""

from collections.abc import Callable, Sequence

from advisor.knowledge import Knowledge
from advisor.library.bars import causes_lines, reliability_lines
from advisor.library.causes import by_kind
from advisor.library.counting import Count, Quartiles
from advisor.library.facts import LibraryFacts
from advisor.library.first_beliefs import FirstBeliefs, Share
from advisor.library.rates import Rate, Rates
from advisor.library.standing import Standing, Standings
from advisor.library.survival import FEW
from advisor.report.labels import cause_label, group_label, water_label
from advisor.report.library_held import held_lines
from advisor.report.library_plots import words
from advisor.report.lines import Line, Page, counted, heading, percent
from advisor.report.similar import kind_label
from advisor.terms import say_number

_Labels = Callable[[Knowledge, str], str]


def facts_lines(page: Page, knowledge: Knowledge, facts: LibraryFacts) -> list[Line]:
    """How many and how they stand, what it was, what held, first beliefs, rates."""
    say, whole = knowledge.say, facts.standing.all
    mark = page.wrap(say("facts-invented"), style="alarm") if facts.invented else []
    if not whole.all.places:
        return [*mark, *page.wrap(say("facts-none-yet"))]
    places, cases = _counted(knowledge, whole.all)
    lines = [
        *mark,
        *page.wrap(say("facts-head", places=places, cases=cases), style="head"),
        *_standing_lines(page, knowledge, facts.standing),
        *_cause_lines(page, knowledge, facts),
        *held_lines(page, knowledge, facts.held),
        *_first_lines(page, knowledge, facts.first_beliefs),
    ]
    if facts.rates is not None:
        lines += _rate_lines(page, knowledge, facts.rates)
    return [*lines, Line(""), *mark] if mark else lines


def _standing_lines(page: Page, knowledge: Knowledge, standing: Standings) -> list[Line]:
    say, whole = knowledge.say, standing.all
    lines = heading(say("facts-standing"))
    for name, text in _told(knowledge, whole, zeros=True):
        lines += page.named(name, text)
    parts: tuple[tuple[str, Sequence[Standing], _Labels], ...] = (
        ("facts-by-path", standing.by_path, group_label),
        ("facts-by-water", standing.by_water, water_label),
        ("facts-by-kind", standing.by_kind, kind_label),
    )
    for title, rows, label in parts:
        lines += heading(say(title))
        if label is not kind_label:
            places = counted(knowledge, "facts-places", whole.all.places)
            told = say("facts-path-rests", confirmed=whole.confirmed.places, places=places)
            lines += page.wrap(told)
        for row in sorted(rows, key=lambda one: (one.key is None, -one.all.places)):
            lines += _row(page, knowledge, row, label)
    return lines


def _row(page: Page, knowledge: Knowledge, row: Standing, label: _Labels) -> list[Line]:
    """One path, water or kind: its counts, and what is not nothing of the rest."""
    say = knowledge.say
    name = say("facts-not-known")
    if row.key is not None:
        name = say("facts-named", label=label(knowledge, row.key), key=row.key)
    places, cases = _counted(knowledge, row.all)
    text = say("facts-count", places=places, cases=cases)
    if row.all.places < FEW:
        text += f", {say('facts-few-told')}"
    rest = "; ".join(f"{what}: {told}" for what, told in _told(knowledge, row, zeros=False))
    return [
        *page.wrap(f"{name}: {text}", first="  ", rest="    "),
        *page.wrap(rest, first="    "),
    ]


def _told(knowledge: Knowledge, one: Standing, *, zeros: bool) -> list[tuple[str, str]]:
    """Each count with its name. zeros: with those of nothing."""
    say = knowledge.say
    counts = {
        "facts-confirmed": one.confirmed,
        "facts-open": one.open,
        "facts-closed": one.closed,
        "facts-handed-over": one.handed_over,
        "facts-reopened": one.reopened,
        "facts-not-through": one.not_through,
        "facts-within-class": one.within_class,
        "facts-never-confirmed": one.never_confirmed,
    }
    found = []
    for name, count in counts.items():
        if not count.places and not zeros:
            continue
        text = _in_full(knowledge, count) if zeros else str(count.places)
        if name == "facts-open" and one.oldest_open is not None:
            text += f", {say('facts-oldest', quarter=one.oldest_open)}"
        found.append((say(name), text))
    spread = {"facts-days-to-close": one.days_to_close, "facts-visits-a-case": one.visits_a_case}
    found += [(say(name), _spread(knowledge, q)) for name, q in spread.items() if q is not None]
    return found


def _in_full(knowledge: Knowledge, count: Count) -> str:
    places, cases = _counted(knowledge, count)
    return knowledge.say("facts-count", places=places, cases=cases) if count.places else places


def _counted(knowledge: Knowledge, count: Count) -> tuple[str, str]:
    return (
        counted(knowledge, "facts-places", count.places),
        counted(knowledge, "facts-cases", count.cases),
    )


def _spread(knowledge: Knowledge, found: Quartiles) -> str:
    text = knowledge.say(
        "facts-quartiles",
        median=f"{found.median:.0f}",
        lower=f"{found.lower:.0f}",
        upper=f"{found.upper:.0f}",
        of=found.of,
    )
    return text if found.of >= FEW else f"{text}, {knowledge.say('facts-few-told')}"


def _cause_lines(page: Page, knowledge: Knowledge, facts: LibraryFacts) -> list[Line]:
    if not facts.causes:
        return []
    named = {
        kind_label(knowledge, kind): {
            cause_label(knowledge, cause): count for cause, count in found.items()
        }
        for kind, found in by_kind(facts.causes).items()
    }
    return [
        *heading(knowledge.say("facts-causes")),
        *page.wrap(knowledge.say("facts-causes-confirmed")),
        *(Line(text) for text in causes_lines(named, page.width, (page.full, page.empty))),
    ]


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
        error = {
            name: percent(knowledge, getattr(first.calibration, name))
            for name in ("error", "low", "high")
        }
        lines += page.wrap(say(f"facts-says-{first.says}"))
        lines += page.wrap(say("facts-error", **error))
    lines += page.wrap(say("facts-bins"))
    marks = (page.full, page.empty)
    bars = reliability_lines(first.bins, page.width, marks, words(knowledge))
    return lines + [Line(text) for text in bars]


def _share(knowledge: Knowledge, found: Share) -> str:
    parts = {
        name: percent(knowledge, getattr(found, name) or 0.0) for name in ("share", "low", "high")
    }
    text = knowledge.say("facts-share", **parts, right=found.right, of=found.of)
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
