"""Sums on the screen: what went in, what came out, what it means, and by which formula."""

import json

from advisor.assessment import SumResult, WorkedOutSum
from advisor.diagnosis import WorkedOutFact
from advisor.knowledge import Knowledge, Sum
from advisor.report.lines import Line, Page, heading
from advisor.report.words import range_words
from advisor.terms import Attribute, say_number


def subjects_json(knowledge: Knowledge) -> str:
    """All subjects as one JSON document."""
    subjects = [
        {
            "subject": entry.key,
            "label": entry.label,
            "asks": entry.asks,
            "helps": entry.helps,
            "gives": entry.gives,
            "example": dict(entry.example),
        }
        for entry in knowledge.sums.values()
    ]
    return json.dumps({"format": 1, "subjects": subjects}, ensure_ascii=False)


def subjects_lines(page: Page, knowledge: Knowledge) -> list[Line]:
    """All subjects, each with its key."""
    widest = max((len(key) for key in knowledge.sums), default=0)
    lines = page.wrap(knowledge.say("sums-what"))
    for entry in knowledge.sums.values():
        lines += page.wrap(entry.label, first=f"  {entry.key:<{widest}}  ")
    return lines + page.wrap(knowledge.say("sums-how"))


def subject_lines(page: Page, knowledge: Knowledge, entry: Sum) -> list[Line]:
    """What a subject needs and gives, with an example."""
    say = knowledge.say
    lines = [
        *page.wrap(entry.label, style="strong"),
        *page.wrap(entry.why.because, first="  "),
        *page.wrap(say("sum-needs"), first="  "),
        *page.items((_asked(knowledge, key) for key in entry.asks), "    "),
    ]
    if entry.helps:
        lines += page.wrap(say("sum-better-with"), first="  ")
        lines += page.items((_asked(knowledge, key) for key in entry.helps), "    ")
    lines += page.wrap(say("sum-gives"), first="  ")
    lines += page.items((_called(knowledge, key) for key in entry.gives), "    ")
    given = " ".join(f"{key}='{value}'" for key, value in entry.example.items())
    lines += page.wrap(say("sum-example"), first="  ")
    lines += page.wrap(f"advisor work-out {entry.key} {given}", first="    ", rest="      ")
    if entry.loads:
        lines += page.wrap(say("sum-loads", subject=entry.key), first="  ")
    return lines


def question_lines(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What is asked on the terminal."""
    attribute = knowledge.attributes[key]
    return [
        *page.wrap(attribute.question, style="strong"),
        *page.wrap(attribute.check, first="  "),
        *page.wrap(knowledge.say("sum-answer", answer=_answer(knowledge, attribute)), first="  "),
    ]


def sum_lines(page: Page, knowledge: Knowledge, entry: Sum, found: WorkedOutSum) -> list[Line]:
    """The whole sum, the meaning first."""
    say = knowledge.say
    lines = [*page.wrap(entry.label, style="head"), *page.wrap(found.verdict, style="strong")]
    lines += heading(say("sum-came-out")) if found.results else []
    for result in found.results:
        lines += page.wrap(_result(knowledge, result), first="  ", rest="    ")
    lines += heading(say("sum-went-in")) if found.inputs else []
    for key, written in found.inputs.items():
        lines += page.named(_label(knowledge, key), written)
    if found.remarks:
        lines += heading(say("sum-mind"))
        lines += page.items(found.remarks)
    lines += heading(say("sum-how")) if found.source else []
    for key in dict.fromkeys(_attribute_of(result.what) for result in found.results):
        attribute = knowledge.attributes[key]
        lines += page.named(attribute.label, attribute.formula)
        lines += page.named(say("sum-holds"), attribute.valid, "    ")
    return [*lines, *page.named(say("sources"), found.source)]


def worked_out_lines(
    page: Page, knowledge: Knowledge, facts: tuple[WorkedOutFact, ...], *, whole: bool
) -> list[Line]:
    """What the numbers of a wet place say. whole: each with its sum."""
    told = [fact for fact in facts if whole or fact.means]
    if not told:
        return []
    lines = heading(knowledge.say("what-numbers-say"))
    for fact in told:
        lines += page.items(
            [fact.text if fact.sure else knowledge.say("sum-unsure", fact=fact.text)]
        )
        if whole:
            sources = "; ".join(knowledge.sources[key].title for key in fact.source)
            lines += page.named(knowledge.say("sum-how"), fact.formula, "      ")
            lines += page.items((part.text for part in fact.inputs), "      ")
            lines += page.named(knowledge.say("sum-holds"), fact.valid, "      ")
            lines += page.named(knowledge.say("sources"), sources, "      ")
            lines += page.items(fact.remarks, "      ")
    return lines


def _attribute_of(what: str) -> str:
    """The key alone; a result of one pour names the pour behind it."""
    return what.partition(",")[0]


def _label(knowledge: Knowledge, what: str) -> str:
    key, comma, pour = what.partition(",")
    attribute = knowledge.attributes.get(key)
    return f"{attribute.label}{comma}{pour}" if attribute else what


def _called(knowledge: Knowledge, key: str) -> str:
    return f"{key}: {knowledge.attributes[key].label}"


def _asked(knowledge: Knowledge, key: str) -> str:
    """With the unit, and what it can be worked out from."""
    attribute = knowledge.attributes[key]
    ways = [" + ".join(way.inputs) for way in knowledge.worked_out if way.attribute == key]
    other = knowledge.say("sum-or-from", inputs=" / ".join(dict.fromkeys(ways))) if ways else ""
    return f"{_called(knowledge, key)} ({_answer(knowledge, attribute)}){other}"


def _answer(knowledge: Knowledge, attribute: Attribute) -> str:
    if attribute.kind == "number":
        return knowledge.say("number-in", unit=attribute.unit or "count")
    return ", ".join(choice.key for choice in attribute.choices)


def _result(knowledge: Knowledge, result: SumResult) -> str:
    """`hydraulic width: 0.025-0.055 mm, likely 0.035 mm`."""
    label, say = _label(knowledge, result.what), knowledge.say
    if result.low is None or result.high is None:
        return say("sum-is", what=label, number=say("unknown"))
    number = range_words(knowledge, result.low, result.high, result.unit or "count")
    if result.likely is None or result.low == result.high:
        return say("sum-is", what=label, number=number)
    middle = say_number(result.likely, 3)
    return say("sum-is-likely", what=label, number=number, likely=middle)
