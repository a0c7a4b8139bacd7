from hypothesis import given
from hypothesis import strategies as st

from advisor.report.lines import CELLS, Page, counted, joined, one_of_these, percent
from tests.report.results import knowledge


@given(st.text(max_size=400), st.integers(40, 100))
def test_no_line_is_wider_than_the_page(text: str, width: int) -> None:
    page = Page(width)
    lines = [*page.wrap(text, first="  - "), *page.named("Do", text), *page.row("50 %", 0.5, text)]
    assert all(len(line.text) <= width for line in lines)


@given(st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=30))
def test_wrapping_keeps_every_word(word: str) -> None:
    said = " ".join([word] * 30)
    text = " ".join(line.text for line in Page(40).wrap(said))
    assert text.split() == said.split()


def test_lines_after_the_first_stand_as_far_in() -> None:
    first, second = Page(40).wrap("a " * 30, first="  - ")
    assert first.text.startswith("  - a")
    assert second.text.startswith("    a")


def test_bars_are_as_long_as_what_they_show() -> None:
    page = Page(full="#", empty=".")
    assert page.bar(0) == "." * CELLS
    assert page.bar(0.009) == "." * CELLS
    assert page.bar(0.01) == "#" + "." * (CELLS - 1)
    assert page.bar(0.5) == "#" * 10 + "." * 10
    assert page.bar(1) == "#" * CELLS


def test_certainty_is_never_claimed() -> None:
    shown = [percent(knowledge(), p) for p in (0, 1e-9, 0.01, 0.346, 0.99, 0.9901, 1)]
    assert shown == ["0 %", "under 1 %", "1 %", "35 %", "99 %", "over 99 %", "over 99 %"]


def test_lists_and_counts_in_words() -> None:
    assert joined(knowledge(), []) == ""
    assert joined(knowledge(), ["a"]) == "a"
    assert one_of_these(knowledge(), ["a", "b", "c"]) == "a, b or c"
    assert counted(knowledge(), "causes", 1) == "1 cause"
    assert counted(knowledge(), "own-entries", 2) == "2 entries of your own folder"


def test_an_empty_text_has_no_name_line() -> None:
    assert Page().named("Needs", "") == []
