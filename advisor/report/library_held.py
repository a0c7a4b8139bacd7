"""What held, and for how long, as lines."""

from collections.abc import Sequence

from advisor.knowledge import Knowledge
from advisor.library.facts.holding_facts import Held, NotShown, Unlike, WhatHeld
from advisor.library.facts.survival import MONTHS, Between
from advisor.library.plots.bars import survival_lines
from advisor.report.labels import group_label
from advisor.report.library_plots import method_label, words
from advisor.report.lines import Line, Page, counted, heading, joined, percent

_UNLIKELY = 0.05
"""Where chance alone would make any of the differences less often, they are said to be real."""


def held_lines(page: Page, knowledge: Knowledge, held: WhatHeld) -> list[Line]:
    """By method, then by method and path, then the most used ones side by side."""
    say = knowledge.say
    lines = heading(say("facts-held"))
    if not held.repairs:
        return lines + page.wrap(say("facts-no-repairs"))
    lines += page.wrap(say("facts-held-means"))
    repairs = counted(knowledge, "facts-repairs", held.repairs)
    lines += page.wrap(say("facts-silent", repairs=repairs, silent=held.silent))
    lines += page.wrap(say("facts-rows-are"))
    lines += _part(page, knowledge, "facts-by-method", held.by_method, held.methods_not_shown)
    title = "facts-by-method-and-path"
    lines += _part(page, knowledge, title, held.by_method_and_path, held.not_shown, on_path=True)
    if held.unlike:
        lines += heading(say("facts-unlike"))
        lines += page.wrap(say("facts-unlike-means"))
        lines += page.items(_unlike(knowledge, one, len(held.unlike)) for one in held.unlike)
    return lines


def _part(
    page: Page,
    knowledge: Knowledge,
    title: str,
    shown: Sequence[Held],
    hidden: NotShown,
    *,
    on_path: bool = False,
) -> list[Line]:
    lines = heading(knowledge.say(title))
    for one in shown:
        lines += page.wrap(_name(knowledge, one, on_path=on_path), rest="  ", style="strong")
        marks = (page.full, page.empty)
        # The name stands above, longer than the bars would say it.
        bars = survival_lines({"": one.kaplan_meier}, page.width, marks, words(knowledge))
        lines += [Line(text) for text in bars]
        shares = joined(knowledge, [_between(knowledge, b) for b in one.interval_censored])
        lines += page.wrap(knowledge.say("facts-between-looks", shares=shares), first="  ")
    if hidden.groups:
        groups = counted(knowledge, "facts-groups", hidden.groups)
        repairs = counted(knowledge, "facts-repairs", hidden.repairs)
        lines += page.wrap(knowledge.say("facts-not-shown", groups=groups, repairs=repairs))
    return lines


def _name(knowledge: Knowledge, one: Held, *, on_path: bool) -> str:
    say = knowledge.say
    method = say("facts-named", label=method_label(knowledge, one.method), key=one.method)
    repairs = counted(knowledge, "facts-repairs", one.repairs)
    if not on_path:
        return say(
            "facts-method", method=method, repairs=repairs, silent=one.silent, sites=one.sites
        )
    return say(
        "facts-on-path",
        method=method,
        path=group_label(knowledge, one.path) if one.path else say("facts-path-not-known"),
        repairs=repairs,
        silent=one.silent,
        sites=one.sites,
        confirmed=one.confirmed,
    )


def _between(knowledge: Knowledge, one: Between) -> str:
    """`24 months 60 to 70 %`: nothing between the two is more likely than another."""
    low, high = f"{one.lowest * 100:.0f}", f"{one.highest * 100:.0f}"
    share = words(knowledge)["percent-range"].format(low=low, high=high)
    if low == high:
        share = percent(knowledge, one.share)
    months = next(months for months, days in MONTHS.items() if days == one.days)
    return knowledge.say("facts-between-share", months=months, share=share)


def _unlike(knowledge: Knowledge, one: Unlike, compared: int) -> str:
    """compared: how many pairs; the more there are, the oftener one differs by chance."""
    first, second = (method_label(knowledge, method) for method in one.methods)
    differ = "facts-unlike-differ" if one.p * compared < _UNLIKELY else "facts-unlike-open"
    return knowledge.say(
        "facts-unlike-row",
        path=group_label(knowledge, one.path),
        one=first,
        other=second,
        repairs=one.repairs[0],
        others=one.repairs[1],
        verdict=knowledge.say(differ),
        p=percent(knowledge, one.p),
    )
