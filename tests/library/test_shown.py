"""The first answer of the advisor is kept, in words that the knowledge has."""

import pytest

from advisor.library.case import Shown
from tests.library.test_scrubbing import ANSWER, knowledge, logged, place


def test_the_first_answer_stays() -> None:
    later = ANSWER.replace("wall-foot-joint: 0.8, cold-joint: 0.2", "cold-joint: 0.9")
    # Whatever was answered later, or is dated earlier: the log only grows.
    kept = place(
        *(f"date: 2031-04-16, {ANSWER}", f"date: 2031-05-20, {later}", f"date: 2031-04-15, {later}")
    )
    assert kept.shown == Shown(
        day=0,
        advisor="0.1.0",
        knowledge="12ab34cd56ef",
        settled_on="cause",
        causes={"wall-foot-joint": 0.8, "cold-joint": 0.2},
        methods={"gel-injection": 0.7},
        advised="gel-injection",
        looks=("crack-card", "hammer-survey"),
        taken=("crack-card",),
    )


def test_looks_that_were_suggested_and_are_answered_now_were_taken() -> None:
    """Of all looks those that answer what the record tells."""
    found = {"crack-width", "kind", "first-wet", "agreed-scheme", "pour-date"}
    entry = ANSWER.partition("looks:")[0] + f"looks: [{', '.join(knowledge().looks)}]}}"
    shown = place(f"date: 2031-04-16, {entry}").shown
    assert shown is not None
    assert shown.looks == tuple(knowledge().looks)
    answering = {k for k, look in knowledge().looks.items() if found & set(look.attributes)}
    assert answering <= set(shown.taken) != set(shown.looks)
    assert any("crack-width" in knowledge().looks[look].attributes for look in shown.taken)


@pytest.mark.parametrize(
    ("written", "instead"),
    [
        ("wall-foot-joint: 0.8", "jan-novak: 0.8"),
        ("methods: {gel-injection", "methods: {jan-novak"),
        ("advised: gel-injection", "advised: jan-novak"),
        ("looks: [crack-card", "looks: [jan-novak"),
        ("advisor: 0.1.0", "advisor: Jan-Novak 1.0"),
        ("advisor: 0.1.0", "advisor: 212.555.0187"),
        ("knowledge: 12ab34cd56ef", "knowledge: jan-novak"),
        ("knowledge: 12ab34cd56ef", "knowledge: 601234567123"),
    ],
)
def test_words_that_the_knowledge_does_not_have_are_none(written: str, instead: str) -> None:
    assert written in ANSWER
    kept = logged(f"date: 2031-04-16, {ANSWER.replace(written, instead)}")
    assert kept.removed["word"] == 1
    told = kept.case.model_dump_json()
    assert not [part for part in ("ovak", "0187", "601234") if part in told]
    assert "word" not in logged(f"date: 2031-04-16, {ANSWER}").removed
