"""The lower half of the repair sheet: what to load, what to mind, what proves it, from where."""

from typing import TYPE_CHECKING

from advisor.knowledge import Caution, Knowledge, Method
from advisor.repair import Load, Plan
from advisor.report.lines import Line, Page, counted, heading
from advisor.report.words import range_words

if TYPE_CHECKING:
    from advisor.assessment.sheet import Sheet


def load_lines(page: Page, knowledge: Knowledge, sheet: "Sheet") -> list[Line]:
    """Materials for the van, packs and cost where the firm's own files give them."""
    plan, say = sheet.leak.plan, knowledge.say
    if not plan.load:
        return []
    orders = {order.material: order for order in sheet.orders}
    lines = heading(say("to-load"))
    total, currency = 0.0, ""
    for one in plan.load:
        told = [f"{knowledge.materials[one.material].label}: {_needed(knowledge, one)}"]
        order = orders.get(one.material)
        if order is not None and order.packs is not None:
            told.append(counted(knowledge, "packs", order.packs))
        if order is not None and order.cost is not None:
            told.append(f"{order.cost:,.2f} {order.currency}")
            total, currency = total + order.cost, order.currency or ""
        lines += page.items([", ".join(told)])
    if currency:
        lines += page.wrap(say("cost-in-all", cost=f"{total:,.2f} {currency}"), first="  ")
    return lines


def today_lines(page: Page, knowledge: Knowledge, sheet: "Sheet") -> list[Line]:
    """The best that can be done with what the firm has there."""
    today, say = sheet.today, knowledge.say
    if today is None:
        return []
    lines = heading(say("best-today"))
    best = knowledge.methods[today.method].label if today.method else say("nothing-can-be-done")
    lines += page.wrap(best, first="  ", style="strong")
    return lines + page.items(
        f"{knowledge.methods[one.method].label}: {one.text}" for one in today.not_today
    )


def caution_lines(page: Page, knowledge: Knowledge, plan: Plan) -> list[Line]:
    """What to mind, each once, with thresholds by place and day, and permits."""
    steps = [s for part in (*plan.horizons, *plan.waiting) for s in part.steps]
    keys = dict.fromkeys(key for step in steps for key in step.cautions)
    if not keys:
        return []
    say = knowledge.say
    lines = heading(say("mind"), "alarm")
    lines += page.wrap(say("local-limits-win"), first="  ")
    for key in keys:
        lines += _caution(page, knowledge, knowledge.cautions[key])
    return lines


def _caution(page: Page, knowledge: Knowledge, caution: Caution) -> list[Line]:
    lines = page.wrap(f"{caution.label}. {caution.do}", first="  - ")
    return lines + threshold_lines(page, knowledge, caution, "      ")


def threshold_lines(page: Page, knowledge: Knowledge, caution: Caution, first: str) -> list[Line]:
    """The figures of a caution by place and day, and its permit, each behind `first`."""
    say = knowledge.say
    told = [
        say("threshold", what=limit.what, value=limit.value, where=limit.where, dated=limit.dated)
        for limit in caution.limits
    ]
    if caution.permit is not None:
        told.append(say("permit", what=caution.permit.what, by=caution.permit.issued_by))
    return [line for text in told for line in page.wrap(text, first=first)]


def proof_lines(page: Page, knowledge: Knowledge, plan: Plan) -> list[Line]:
    """What counts as tight here, and the looks that show it."""
    if not plan.proof:
        return []
    say = knowledge.say
    lines = heading(say("what-proves-it"))
    lines += page.named(say("tight-here"), plan.tight)
    for proof in plan.proof:
        key = "prove-with-the-water-up" if proof.water_up else "prove"
        lines += page.items([say(key, look=knowledge.looks[proof.look].label, when=proof.when)])
    return lines


def method_facts_lines(page: Page, knowledge: Knowledge, plan: Plan) -> list[Line]:
    """Of the method: what usually goes wrong, when it is well done, standards, conflicts."""
    if plan.method is None:
        return []
    method, say = knowledge.methods[plan.method], knowledge.say
    lines = heading(say("about-the-method"))
    for name, words in method_facts(knowledge, method):
        lines += page.named(name, words)
    titles = "; ".join(knowledge.sources[key].title for key in method.why.source)
    lines += page.named(say("sources"), titles)
    next_in_line = [knowledge.methods[key].label for key in plan.fallbacks]
    return lines + page.named(say("next-in-line"), "; ".join(next_in_line))


def method_facts(knowledge: Knowledge, method: Method) -> list[tuple[str, str]]:
    """What is said of a method on its sheet and on its page: what it is, and the words."""
    say = knowledge.say
    return [
        (say("curing"), method.curing),
        (say("usual-failure"), method.fails),
        (say("well-done-when"), method.accept),
        (say("if-wet-again"), method.wet_again),
        (say("shuts-off"), method.shuts_off),
        (say("standards"), "; ".join(method.standards)),
        (say("values-disagree"), " ".join(method.conflicts)),
        (say("cost-band"), say("cost-of-5", cost=method.cost)),
    ]


def _needed(knowledge: Knowledge, one: Load) -> str:
    if one.low is None or one.high is None:
        return knowledge.say("unknown")
    return range_words(knowledge, one.low, one.high, one.unit)
