"""How much of a figure is the book's, and how much the firm's own history."""

from advisor.knowledge import Knowledge
from advisor.report.lines import Line, Page, percent
from advisor.terms import say_number


def with_history(knowledge: Knowledge, label: str, book: float) -> str:
    """The label, and how much of the figure is the book's where own cases are counted in."""
    if knowledge.history is None or book == 1:
        return label
    own = percent(knowledge, 1 - book)
    return f"{label} ({knowledge.say('book-and-own', book=percent(knowledge, book), own=own)})"


def history_lines(page: Page, knowledge: Knowledge) -> list[Line]:
    """What was counted in; nothing where nobody asked for it."""
    history = knowledge.history
    if history is None:
        return []
    told = knowledge.say(
        "history-used",
        places=history.places,
        repairs=history.repairs,
        base=say_number(history.base_weight),
        times=say_number(history.rate_times),
    )
    return [*page.wrap(told), *invented_mark(page, knowledge)]


def invented_mark(page: Page, knowledge: Knowledge) -> list[Line]:
    """Where the cases counted in are those of a demonstration."""
    if knowledge.history is None or not knowledge.history.invented:
        return []
    return page.wrap(knowledge.say("library-invented"), style="alarm")
