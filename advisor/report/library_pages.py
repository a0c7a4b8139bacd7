"""Pages of the library: what is proved before a case is closed, and how findings are kept."""

from advisor.knowledge import Knowledge
from advisor.report.lines import Line, Page, joined
from advisor.terms import say_number


def closing_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """The proofs, one of which is enough, and for which paths and structures."""
    closing, say = knowledge.closing[key], knowledge.say
    kinds = joined(knowledge, [knowledge.kinds[name] for name in closing.kinds])
    groups = joined(knowledge, [knowledge.groups[name].label for name in closing.groups])
    return [
        *page.wrap(closing.label, style="strong"),
        Line(say("one-of-these-proofs")),
        *page.items(knowledge.proofs[proof].label for proof in closing.proofs),
        *page.named(say("asked-on-paths"), groups or say("all-of-them"), ""),
        *page.named(say("asked-in-kinds"), kinds or say("all-of-them"), ""),
    ]


def keeping_page(page: Page, knowledge: Knowledge, key: str) -> list[Line]:
    """Whether the library keeps it, and in which bands."""
    keeping, attribute, say = knowledge.keeping[key], knowledge.attributes[key], knowledge.say
    lines = page.wrap(attribute.label, style="strong")
    if keeping.leave_out:
        lines += page.wrap(say("kept-not-at-all"))
    if keeping.bands:
        edges = ", ".join(say_number(edge) for edge in keeping.bands)
        lines += page.named(say("kept-in-bands"), f"{edges} {attribute.unit}", "")
    if keeping.backfill:
        lines += page.wrap(say("asked-of-an-old-case"))
    return lines
