"""Pages of repair: methods, limits, moments, quantities, materials, cautions, proofs."""

from collections.abc import Callable, Iterable

from advisor.knowledge import TOOLS, Knowledge, Method, MethodStep, Quantity, read_aloud
from advisor.repair import label_of
from advisor.report.labels import cause_label, condition_words, group_label
from advisor.report.lines import Line, Page, joined
from advisor.report.plan_foot import method_facts, threshold_lines
from advisor.report.words import steps
from advisor.terms import Range, say_number, say_range


def method_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What it is for, where it holds, what it asks for, how it is done, and what comes after."""
    method, say = knowledge.methods[key], knowledge.say
    horizons = [say(f"horizon-{horizon}") for horizon in method.horizons]
    lines = [
        *page.wrap(method.label, style="strong"),
        *page.named(say("role"), say(f"role-{method.role}"), ""),
        *page.named(say("good-for"), joined(knowledge, horizons), ""),
        *page.named(say("best-moment"), knowledge.moments[method.moment].label, ""),
        *page.named(say("can-be-undone"), say("yes" if method.reversible else "no"), ""),
        *_holds(page, knowledge, method),
        *_listed(page, say("holds-only-if"), (knowledge.limits[k].label for k in method.limits)),
        *_makes(page, knowledge, method),
        *page.named(say("comes-before"), _methods(knowledge, method.first), ""),
        *page.named(say("comes-after"), _methods(knowledge, method.then), ""),
        *page.wrap(say("how-it-is-done")),
    ]
    for number, step in enumerate(method.steps, 1):
        lines += _step(page, knowledge, step, number)
    loads = (
        f"{knowledge.materials[material].label}: {label_of(knowledge, quantity)}"
        for material, quantity in method.materials.items()
    )
    lines += _listed(page, say("materials-of-it"), loads)
    for name, words in method_facts(knowledge, method):
        lines += page.named(name, words, "")
    proofs = (knowledge.proofs[proof].label for proof in method.proof)
    lines += _listed(page, say("proofs-of-it"), proofs)
    return lines + page.named(say("next-in-line"), _methods(knowledge, method.fallbacks), "")


def limit_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What must be so, how often it is, what decides it, and which methods ask for it."""
    limit, say = knowledge.limits[key], knowledge.say
    looks = joined(knowledge, [knowledge.looks[look].label for look in limit.looks])
    made_by = [m.key for m in knowledge.methods.values() if key in m.makes]
    return [
        *page.wrap(limit.label, style="strong"),
        *page.named(say("must-be-so"), condition_words(knowledge, limit.must), ""),
        *page.named(say("so-where-nobody-looked"), _of_100(knowledge, limit.usually), ""),
        *page.named(say("looks-answering"), looks, ""),
        *page.named(say("brought-about-by"), _methods(knowledge, made_by), ""),
        *_used_by(page, knowledge, lambda method: key in method.limits),
    ]


def moment_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """How it is known that the moment has come, and which methods wait for it."""
    moment, say = knowledge.moments[key], knowledge.say
    come = say("always") if moment.come is None else condition_words(knowledge, moment.come)
    return [
        *page.wrap(moment.label, style="strong"),
        *page.named(say("moment-has-come"), come, ""),
        *_used_by(page, knowledge, lambda method: method.moment == key),
    ]


def quantity_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """How a number is worked out, what it may not pass, and where it is used."""
    quantity, say = knowledge.quantities[key], knowledge.say
    inputs = [label_of(knowledge, one) for one in quantity.inputs]
    firsts = [label_of(knowledge, one) for one in quantity.first_of]
    fixed = "" if quantity.fixed is None else _number(knowledge, quantity.fixed, quantity.unit)
    bounds = [_bound(knowledge, bound) for bound in quantity.at_most]
    return [
        *page.wrap(quantity.label, style="strong"),
        *page.named(say("counted-in"), quantity.unit, ""),
        *page.named(say("how-worked-out"), quantity.how, ""),
        *page.named(say("worked-out-from"), joined(knowledge, inputs), ""),
        *page.named(say("first-known-of"), joined(knowledge, firsts), ""),
        *page.named(say("always"), fixed, ""),
        *_listed(page, say("taken-where-unknown"), _assumed(knowledge, quantity)),
        *page.named(say("never-more-than"), joined(knowledge, bounds), ""),
        *_used_by(page, knowledge, lambda method: key in _amounts(method)),
    ]


def material_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """How it is counted, what is lost of it, who may use it, and for what."""
    material, say = knowledge.materials[key], knowledge.say
    waste = _number(knowledge, material.waste, "ratio")
    return [
        *page.wrap(material.label, style="strong"),
        *page.named(say("counted-in"), material.unit, ""),
        *page.named(say("lost-of-it"), waste, ""),
        *page.named(say("certificate-asked"), material.certificate, ""),
        *_used_by(page, knowledge, lambda method: key in method.materials),
    ]


def caution_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """What to do, at which work, the figures by place and day, and the permit."""
    caution, say = knowledge.cautions[key], knowledge.say
    lines = [
        *page.wrap(caution.label, style="strong"),
        *page.named(say("do"), caution.do, ""),
        *page.named(say("at-this-work"), steps(knowledge, caution.takes), ""),
    ]
    if caution.when is not None:
        lines += page.named(say("only-when"), condition_words(knowledge, caution.when), "")
    if caution.limits:
        lines += page.wrap(say("local-limits-win"))
    return lines + threshold_lines(page, knowledge, caution, "  - ")


def proof_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """Which look, when, and of which methods."""
    proof, say = knowledge.proofs[key], knowledge.say
    lines = [
        *page.wrap(proof.label, style="strong"),
        *page.named(say("shown-by"), knowledge.looks[proof.look].label, ""),
        *page.named(say("only-with-the-water-up"), say("yes" if proof.water_up else "no"), ""),
    ]
    if proof.after_days is not None:
        first, last = (say_number(day) for day in proof.after_days)
        lines += page.named(say("due"), say("due-days", first=first, last=last), "")
    if proof.least_days:
        lines += page.named(say("not-before-days"), say_number(proof.least_days), "")
    if proof.always is not None:
        lines += page.named(
            say("in-every-plan-unless"), condition_words(knowledge, proof.always), ""
        )
    return lines + _used_by(page, knowledge, lambda method: key in method.proof)


def _holds(page: Page, knowledge: Knowledge, method: Method) -> list[Line]:
    """The chance that it holds with each cause, and what lowers it."""
    say = knowledge.say
    holds = (
        say(
            "holds-with",
            causes=joined(knowledge, [_cause_or_group(knowledge, name) for name in line.named]),
            rate=_of_100(knowledge, line.rate),
            weight=say_number(line.weight),
        )
        for line in method.holds
    )
    worse = (
        say(
            "worse-when",
            condition=condition_words(knowledge, one.when),
            times=say_number(one.times),
            because=one.because,
        )
        for one in method.worse
    )
    return [*_listed(page, say("how-often-it-holds"), holds), *_listed(page, say("worse"), worse)]


def _makes(page: Page, knowledge: Knowledge, method: Method) -> list[Line]:
    if not method.makes:
        return []
    labels = [knowledge.limits[key].label for key in method.makes]
    works = knowledge.say(
        "brings-about", what=joined(knowledge, labels), count=_of_100(knowledge, method.works)
    )
    return page.wrap(works, rest="  ")


def _step(page: Page, knowledge: Knowledge, step: MethodStep, number: int) -> list[Line]:
    say = knowledge.say
    amounts = [label_of(knowledge, key) for key in step.quantities]
    return [
        *page.wrap(f"{say(f'work-{step.kind}')}. {step.do}", first=f" {number:>2}. ", rest="     "),
        *page.named(say("bars-and-cautions-by"), steps(knowledge, step.takes), "     "),
        *page.named(say("works-out"), joined(knowledge, amounts), "     "),
    ]


def _cause_or_group(knowledge: Knowledge, key: str) -> str:
    """A name of a line of `holds`: that of a cause goes first, as where it is read."""
    known = key in knowledge.causes
    return cause_label(knowledge, key) if known else group_label(knowledge, key)


def _amounts(method: Method) -> set[str]:
    asked = {key for step in method.steps for key in step.quantities}
    return asked | {*method.materials.values()}


def _assumed(knowledge: Knowledge, quantity: Quantity) -> Iterable[str]:
    for key, taken in quantity.assumed.items():
        unit = knowledge.attributes[key].unit or "count"
        yield f"{label_of(knowledge, key)}: {_number(knowledge, taken, unit)}"


def _bound(knowledge: Knowledge, key: str) -> str:
    return knowledge.say(f"tool-{key}") if key in TOOLS else label_of(knowledge, key)


def _number(knowledge: Knowledge, ends: Range, unit: str) -> str:
    return read_aloud(knowledge, say_range(ends, unit))


def _of_100(knowledge: Knowledge, part: float) -> str:
    return knowledge.say("times-of-100", count=f"{part * 100:.3g}")


def _methods(knowledge: Knowledge, keys: Iterable[str]) -> str:
    return joined(knowledge, [knowledge.methods[key].label for key in keys])


def _used_by(page: Page, knowledge: Knowledge, used: Callable[[Method], bool]) -> list[Line]:
    labels = (method.label for method in knowledge.methods.values() if used(method))
    return _listed(page, knowledge.say("methods-that-use-it"), labels)


def _listed(page: Page, title: str, texts: Iterable[str]) -> list[Line]:
    """A title and a line for each text; nothing where there is none."""
    items = page.items(texts)
    return [*page.wrap(f"{title}:"), *items] if items else []
