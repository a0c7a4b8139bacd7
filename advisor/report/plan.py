"""The plan of a wet place: in short for the screen, whole as the repair sheet."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from advisor.assessment import LeakResult
from advisor.knowledge import Knowledge
from advisor.repair import Amount, Plan, PlanHorizon, PlanStep, label_of
from advisor.report.lines import Line, Page, counted, heading, joined, percent
from advisor.report.methods import method_lines
from advisor.report.plan_foot import (
    caution_lines,
    load_lines,
    method_facts_lines,
    proof_lines,
    today_lines,
)
from advisor.report.stops import stop_lines
from advisor.report.words import range_words
from advisor.terms import say_number

if TYPE_CHECKING:
    from advisor.assessment.sheet import Sheet


def plan_in_short(page: Page, knowledge: Knowledge, plan: Plan) -> list[Line]:
    """What to do tonight, until, and for good: the methods, and what is withheld."""
    say = knowledge.say
    lines = heading(say("the-plan"))
    for horizon in plan.horizons:
        lines += page.named(say(f"horizon-{horizon.horizon}"), _in_short(knowledge, plan, horizon))
    lines += _pays(page, knowledge, plan)
    lines += _withheld(page, knowledge, plan)
    return lines + page.wrap(say("whole-plan"), first="  ")


def sheet_lines(page: Page, knowledge: Knowledge, sheet: "Sheet") -> list[Line]:
    """The repair sheet of one wet place."""
    leak, say = sheet.leak, knowledge.say
    plan = leak.plan
    return [
        *page.wrap(say("repair-sheet", leak=leak.leak, file=leak.file), rest="  ", style="head"),
        *page.wrap(say("sheet-is-not"), style="alarm"),
        *stop_lines(page, knowledge, leak.stops),
        *_released(page, knowledge, leak),
        *_answer(page, knowledge, sheet),
        *_against_advice(page, knowledge, sheet),
        *_pays(page, knowledge, plan),
        *(
            line
            for horizon in plan.horizons
            for line in _horizon(page, knowledge, horizon, say(f"horizon-{horizon.horizon}"))
        ),
        *_waiting(page, knowledge, plan),
        *load_lines(page, knowledge, sheet),
        *today_lines(page, knowledge, sheet),
        *caution_lines(page, knowledge, plan),
        *proof_lines(page, knowledge, plan),
        *method_facts_lines(page, knowledge, plan),
        *method_lines(page, knowledge, leak.methods, every=True),
        *_foot(page, knowledge),
    ]


def amount_words(knowledge: Knowledge, amount: Amount) -> str:
    """`resin for the crack: 0.4-0.9 L, likely 0.6 L (path to close: 2-3 m)`."""
    label = label_of(knowledge, amount.what)
    if amount.low is None or amount.high is None:
        return f"{label}: {amount.from_ or knowledge.say('unknown')}"
    number = knowledge.say("sum-is", what=label, number=figures(knowledge, amount))
    return f"{number} ({amount.from_})" if amount.from_ else number


def figures(knowledge: Knowledge, amount: Amount) -> str:
    """Low to high, and the likely value, to three figures with the unit."""
    assert amount.low is not None
    assert amount.high is not None
    said = range_words(knowledge, amount.low, amount.high, amount.unit)
    if amount.likely is None or amount.low == amount.high:
        return said
    return knowledge.say("amount-likely", number=said, likely=say_number(amount.likely, 2))


def _in_short(knowledge: Knowledge, plan: Plan, horizon: PlanHorizon) -> str:
    say = knowledge.say
    waiting = next((w for w in plan.waiting if w.horizon == horizon.horizon), None)
    methods = dict.fromkeys(
        step.method for part in (horizon, waiting) if part for step in part.steps if step.method
    )
    if not methods:
        return say("nothing-to-do")
    labels = joined(knowledge, [knowledge.methods[key].label for key in methods])
    done = labels if horizon.when is None else say("at-the-moment", what=labels, when=horizon.when)
    return done if waiting is None else say("not-yet-free", what=done)


def _pays(page: Page, knowledge: Knowledge, plan: Plan) -> list[Line]:
    if plan.pays is None:
        return []
    look = knowledge.looks[plan.pays.look]
    said = knowledge.say(
        "look-pays", look=look.label, gain=percent(knowledge, min(plan.pays.gain, 1.0))
    )
    return page.wrap(said, first="  ", rest="    ", style="strong")


def _released(page: Page, knowledge: Knowledge, leak: LeakResult) -> list[Line]:
    if not leak.releases:
        return []
    say = knowledge.say
    return heading(say("released-stops")) + page.items(
        say(
            "released-stop",
            stop=knowledge.stops[r.stop].label,
            role=r.role,
            date=r.date,
            words=r.words,
        )
        for r in leak.releases
    )


def _answer(page: Page, knowledge: Knowledge, sheet: "Sheet") -> list[Line]:
    plan, say = sheet.leak.plan, knowledge.say
    lines = heading(say("the-repair"))
    if plan.method is None:
        return lines + page.wrap(plan.withheld or say("no-method-left"), first="  ", style="strong")
    method = knowledge.methods[plan.method]
    belief = next(m for m in sheet.leak.methods if m.method == plan.method)
    lines += page.wrap(method.label, first="  ", style="strong")
    lines += page.wrap(
        say("chance-to-hold", chance=percent(knowledge, belief.confidence)), first="  "
    )
    lines += page.named(say("best-moment"), knowledge.moments[method.moment].label)
    lines += page.named(say("tight-here"), plan.tight)
    return lines + _withheld(page, knowledge, plan)


def _withheld(page: Page, knowledge: Knowledge, plan: Plan) -> list[Line]:
    """That something waits, and for how many stops; what and which stands further down."""
    if plan.withheld is None:
        return []
    stops = {s for part in plan.waiting for step in part.steps for s in step.barred_by}
    said = counted(knowledge, "waits-for-stops", len(stops)) if stops else plan.withheld
    return page.wrap(said, first="  ", rest="    ", style="alarm")


def _against_advice(page: Page, knowledge: Knowledge, sheet: "Sheet") -> list[Line]:
    """A method that somebody wants though it is ruled out, or though another is likelier."""
    if sheet.advised is None or sheet.advised == sheet.leak.plan.method:
        return []
    say, wanted = knowledge.say, sheet.leak.plan.method
    belief = next(m for m in sheet.leak.methods if m.method == wanted)
    lines = heading(say("against-advice"), "alarm")
    if belief.ruled_out is not None:
        lines += page.wrap(say("chosen-is-out", why=belief.ruled_out), first="  ", style="alarm")
    advised = knowledge.methods[sheet.advised].label if sheet.advised else say("none")
    return lines + page.wrap(say("advised-instead", method=advised), first="  ")


def _horizon(page: Page, knowledge: Knowledge, horizon: PlanHorizon, title: str) -> list[Line]:
    lines = heading(title)
    if horizon.when is not None:
        lines += page.named(knowledge.say("best-moment"), horizon.when)
    if not horizon.steps:
        return lines + page.wrap(knowledge.say("nothing-to-do"), first="  ")
    return lines + _steps(page, knowledge, horizon.steps)


def _steps(page: Page, knowledge: Knowledge, steps: Sequence[PlanStep]) -> list[Line]:
    lines: list[Line] = []
    say, method = knowledge.say, ""
    for number, step in enumerate(steps, 1):
        if step.method and step.method != method:
            method = step.method
            lines += page.wrap(knowledge.methods[method].label, first="  ", style="strong")
        only_if = step.only_if and say("step-only-if", look=knowledge.looks[step.only_if].label)
        lines += page.wrap(step.do, first=f"  {number:>2}. ", rest="      ")
        lines += page.wrap(only_if, first="      ") if only_if and _first_of(steps, step) else []
        known = [a for a in step.quantities if a.low is not None]
        lines += page.items((amount_words(knowledge, a) for a in known), "      ")
    open_still = [a for step in steps for a in step.quantities if a.low is None]
    return lines + _not_known(page, knowledge, open_still)


def _not_known(page: Page, knowledge: Knowledge, amounts: Sequence[Amount]) -> list[Line]:
    """What has no figure, by the reason: something is missing, or cannot be so."""
    if not amounts:
        return []
    by_reason: dict[str, dict[str, None]] = {}
    for a in amounts:
        by_reason.setdefault(a.from_, {})[label_of(knowledge, a.what)] = None
    lines = page.wrap(knowledge.say("no-figure-yet"), first="  ")
    return lines + page.items(
        (f"{'; '.join(labels)}: {why}" if why else "; ".join(labels))
        for why, labels in by_reason.items()
    )


def _first_of(steps: Sequence[PlanStep], step: PlanStep) -> bool:
    """Said once, at the first step of a method."""
    return next(s for s in steps if s.method == step.method) is step


def _waiting(page: Page, knowledge: Knowledge, plan: Plan) -> list[Line]:
    """What would be done once the stops are answered and released."""
    if not plan.waiting:
        return []
    say = knowledge.say
    lines = heading(say("what-waits"), "alarm")
    stops = dict.fromkeys(s for part in plan.waiting for step in part.steps for s in step.barred_by)
    barring = "; ".join(knowledge.stops[key].label for key in stops)
    lines += page.wrap(say("waits-for", stops=barring), first="  ", style="alarm")
    for part in plan.waiting:
        lines += _horizon(page, knowledge, part, say(f"horizon-{part.horizon}"))
    return lines


def _foot(page: Page, knowledge: Knowledge) -> Iterable[Line]:
    return [Line(""), *page.wrap(knowledge.say("no-proof"), style="faint")]
