"""The case library on the screen: what was kept and removed, lists, and one case as it is kept."""

from collections.abc import Mapping, Sequence

from advisor.callout import Callout
from advisor.knowledge import Knowledge
from advisor.library.case import KeptCase, KeptPlace
from advisor.library.repairs import holds, spans
from advisor.library.scrub.scrubbing import Scrubbed
from advisor.library.store.adding import Added
from advisor.library.store.finding import Found, FoundPlace
from advisor.library.store.keeping import Hold
from advisor.library.store.store import Library
from advisor.report.labels import cause_label
from advisor.report.lines import Line, Page
from advisor.report.similar import SHORT, kind_label


def removed_lines(page: Page, knowledge: Knowledge, callout: Callout, done: Scrubbed) -> list[Line]:
    """What did not come with a record."""
    say = knowledge.say
    removed = ", ".join(
        say("library-removed-kind", kind=kind, count=count)
        for kind, count in sorted(done.removed.items())
    )
    text = say("library-removed", file=callout.file, removed=removed or say("none"))
    return page.wrap(text, rest="  ")


def added_lines(page: Page, knowledge: Knowledge, done: Added, kept: Library) -> list[Line]:
    """How many cases are new, replaced, or were there."""
    text = knowledge.say(
        "library-added",
        new=done.new,
        replaced=done.replaced,
        same=done.same,
        count=kept.count(),
        path=kept.path,
    )
    return [*page.wrap(text, rest="  ", style="strong"), *invented_lines(page, knowledge, kept)]


def invented_lines(page: Page, knowledge: Knowledge, kept: Library) -> list[Line]:
    """The mark of a demonstration, on every screen of it."""
    if not kept.invented:
        return []
    return page.wrap(knowledge.say("library-invented"), style="alarm")


def found_lines(
    page: Page, knowledge: Knowledge, found: Sequence[Found], count: int, invented: bool
) -> list[Line]:
    """A case a line, its places below it."""
    say = knowledge.say
    lines = page.wrap(say("library-invented"), style="alarm") if invented else []
    for case in found:
        head = say(
            "library-case",
            case=case.case[:SHORT],
            kind=kind_label(knowledge, case.kind),
            quarter=case.quarter or say("similar-no-day"),
            origin=say(f"origin-{case.origin}"),
        )
        lines += page.wrap(head, rest="  ", style="strong")
        for place in case.places:
            lines += page.wrap(_place(knowledge, place), first="  - ")
    if not count:
        return lines + page.wrap(say("library-found-none"))
    return lines + page.wrap(say("library-found", shown=len(found), count=count))


def _place(knowledge: Knowledge, place: FoundPlace) -> str:
    say = knowledge.say
    cause = cause_label(knowledge, place.cause) if place.cause else say("similar-no-cause")
    method = _method(knowledge, place.method) if place.method else say("similar-no-repair")
    return f"{say(f'stands-{place.status}')}: {cause}; {method}"


def _method(knowledge: Knowledge, key: str) -> str:
    known = knowledge.methods.get(key)
    return known.label if known else key


def case_lines(page: Page, knowledge: Knowledge, case: KeptCase) -> list[Line]:
    """One case as it is kept."""
    say = knowledge.say
    lines = page.wrap(say("library-invented"), style="alarm") if case.invented else []
    head = say(
        "library-case",
        case=case.case,
        kind=kind_label(knowledge, case.kind),
        quarter=case.quarter or say("similar-no-day"),
        origin=say(f"origin-{case.origin}"),
    )
    lines += page.wrap(head, rest="  ", style="head")
    lines += page.named(say("library-labels"), ", ".join(sorted(case.labels.values())), "")
    for place in case.places:
        lines += [Line(""), *_kept_place(page, knowledge, place)]
    return lines


def _kept_place(page: Page, knowledge: Knowledge, place: KeptPlace) -> list[Line]:
    say = knowledge.say
    head = say("library-place", place=place.place, status=say(f"stands-{place.status}"))
    lines = page.wrap(head, style="strong")
    lines += page.named(say("library-findings"), "")
    lines += page.items(f"{key}: {f.value or '-'}" for key, f in place.findings.items())
    if place.shown and place.shown.causes:
        best = max(place.shown.causes, key=lambda key: place.shown.causes[key])  # type: ignore[union-attr]
        share = round(100 * place.shown.causes[best])
        text = say("library-shown", day=place.shown.day, cause=_cause(knowledge, best), share=share)
        lines += page.wrap(text, first="  ")
    if place.confirmed:
        confirmed = place.confirmed
        text = say(
            "library-confirmed",
            day=confirmed.day,
            cause=_cause(knowledge, confirmed.cause),
            how=say(f"confirmed-{confirmed.how}"),
        )
        lines += page.wrap(text, first="  ")
    events = [
        (one.day, say("library-done", day=one.day, method=_method(knowledge, one.method)))
        for one in place.done
    ]
    for look in place.looked:
        tested = "" if holds(look) is not None else f" ({say('due-not-tested')})"
        text = say("library-looked", day=look.day, state=say(f"state-{look.state}"))
        events.append((look.day, text + tested))
    for _, text in sorted(events, key=lambda event: event[0]):
        lines += page.wrap(text, first="  ")
    for span in spans(place):
        days = span.failed or span.held
        kind = "failed" if span.failed else "held" if span.held else ""
        if kind == "failed":
            lines += page.wrap(
                say("similar-failed", method=_method(knowledge, span.method), days=days), first="  "
            )
        elif kind == "held":
            lines += page.wrap(
                say("similar-held", method=_method(knowledge, span.method), days=days), first="  "
            )
    if place.closed:
        text = say("library-closed", day=place.closed.day, because=place.closed.because)
        lines += page.wrap(text, first="  ")
    notes = [place.note, *(one.note for one in place.done), *(one.note for one in place.looked)]
    return lines + page.items((note for note in notes if note), "  ")


def _cause(knowledge: Knowledge, key: str) -> str:
    return cause_label(knowledge, key) if key in knowledge.causes else key


def hold_lines(page: Page, knowledge: Knowledge, held: Sequence[Hold]) -> list[Line]:
    """The holds, the one to be looked at first comes first."""
    say = knowledge.say
    if not held:
        return page.wrap(say("library-no-hold"))
    return [
        line
        for one in held
        for line in page.wrap(
            say(
                "library-hold",
                case=one.case[:SHORT],
                who=one.who,
                why=one.why,
                review=one.review,
            ),
            rest="  ",
        )
    ]


def unmatched_lines(
    page: Page, knowledge: Knowledge, unmatched: Mapping[str, Mapping[str, int]]
) -> list[Line]:
    """Words of an import that are none of ours, by column, the most frequent first."""
    say = knowledge.say
    lines: list[Line] = []
    for column, words in unmatched.items():
        lines += page.wrap(say("import-unmatched", column=column), style="strong")
        often = sorted(words.items(), key=lambda item: (-item[1], item[0]))
        lines += page.items(say("import-word", word=word, count=count) for word, count in often)
    return lines
