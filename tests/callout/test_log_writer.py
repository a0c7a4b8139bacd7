"""One more entry in a record: it says what was said, and nothing that stood there is touched."""

from collections.abc import Mapping
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.callout import Callout
from advisor.callout.log_record import Done, LogEntry
from advisor.callout.log_writer import checked, with_entry
from advisor.knowledge import open_knowledge
from advisor.terms import Faulty
from tests.callout.logs import FULL, HEAD, entry, record

TOLD = {"leak": "L1", "date": date(2031, 6, 1), "told": "owner"}
WRITTEN = "  - leak: L1\n    date: 2031-06-01\n    told: owner\n"
ONE = record(entry("told: owner"))


def added(text: str, new: Mapping[str, Any] | None = None) -> str:
    new = TOLD if new is None else new
    return checked(with_entry(text, "f.yaml", new), "f.yaml", text)


def log_of(text: str) -> tuple[LogEntry, ...]:
    return Callout.parse(text.encode(), "f.yaml", open_knowledge().attributes).log


def refused(text: str) -> str:
    with pytest.raises(Faulty) as caught:
        added(text)
    (problem,) = caught.value.problems
    return str(problem)


def is_kept(before: str, after: str) -> bool:
    """Whether all of `before` stands in `after`, in one piece around what is new; a line end may
    come after the last line."""
    start = 0
    while start < len(before) and before[start] == after[start]:
        start += 1
    rest = before[start:]
    return after.endswith(rest) and len(after) >= len(before)


def test_a_record_without_log_gets_one_at_its_end() -> None:
    assert added(HEAD) == f"{HEAD}log:\n{WRITTEN}"


def test_a_log_gets_one_entry_more() -> None:
    assert added(ONE) == ONE + WRITTEN
    assert len(log_of(added(added(FULL)))) == len(log_of(FULL)) + 2


@pytest.mark.parametrize("text", [HEAD, ONE], ids=["without log", "with log"])
def test_a_file_without_a_last_line_end(text: str) -> None:
    assert added(text.rstrip("\n")) == added(text)


@pytest.mark.parametrize("end", ["\r\n", "\r"])
@pytest.mark.parametrize("text", [HEAD, ONE], ids=["without log", "with log"])
def test_line_ends_stay(text: str, end: str) -> None:
    before = text.replace("\n", end)
    after = added(before)
    assert after.startswith(before)
    assert len(log_of(after)) == len(log_of(text)) + 1
    if end == "\r\n":
        assert after.count("\n") == after.count("\r\n")


def test_line_ends_of_two_kinds_stay_each_as_it_is() -> None:
    before = ONE.replace("\n", "\r\n", 2)
    assert added(before).startswith(before)


def test_a_byte_order_mark_stays_and_stays_alone() -> None:
    after = added("\ufeff" + ONE)
    assert after == "\ufeff" + added(ONE)
    assert added("\ufeff" + HEAD) == "\ufeff" + added(HEAD)


def test_comments_stay_where_they_are() -> None:
    text = f"# above\n{ONE}# at the end\n"
    assert added(text) == text + WRITTEN
    text = f"# above\n{ONE}# at the end\n\n"
    assert added(text) == f"# above\n{ONE}# at the end\n{WRITTEN}\n"


def test_a_log_in_the_middle_of_the_file() -> None:
    after_it = "# why it was\n\ntruth: {causes: [honeycomb]} # known\n# end\n"
    log = ONE.removeprefix(HEAD)
    text = f"{HEAD}{log}    # a note of the entry\n\n{after_it}"
    assert added(text) == f"{HEAD}{log}    # a note of the entry\n{WRITTEN}\n{after_it}"


def test_a_log_before_all_else() -> None:
    text = f"log:\n  - {{leak: L1, date: 2031-05-20, told: owner}}\n{HEAD}"
    assert (
        added(text) == f"log:\n  - {{leak: L1, date: 2031-05-20, told: owner}}\n{WRITTEN}\n{HEAD}"
    )
    assert len(log_of(added("\ufeff" + text))) == 2


@pytest.mark.parametrize("end", ["", " # nothing yet", "\n  # nothing yet"])
def test_an_empty_log_is_begun(end: str) -> None:
    for after_it in ("", "truth: {causes: [honeycomb]}\n"):
        text = f"{HEAD}log:{end}\n{after_it}"
        assert len(log_of(added(text))) == 1
        assert is_kept(text, added(text))


def test_dashes_stand_where_they_stood() -> None:
    flush = f"{HEAD}log:\n- leak: L1\n  date: 2031-05-20\n  told: owner\n"
    assert added(flush) == flush + WRITTEN.replace("\n  ", "\n").removeprefix("  ")
    deep = f"{HEAD}log:\n      - {{leak: L1, date: 2031-05-20, told: owner}}\n"
    assert len(log_of(added(deep))) == 2


def test_a_text_of_several_lines_before_it_is_not_torn() -> None:
    block = f"{HEAD}log:\n{entry('told: owner')}    words: |\n      one\n\n      # two\n\n"
    for text in (block, f"{block}truth: {{causes: [honeycomb]}}\n"):
        first, _ = log_of(added(text))
        assert first.words == "one\n\n# two"
        assert is_kept(text, added(text))


def test_a_mark_at_the_end_of_the_document_stays_at_the_end() -> None:
    after = added(f"---\n{ONE}...\n")
    assert after.startswith(f"---\n{ONE}{WRITTEN}")
    assert after.endswith("...\n")


@pytest.mark.parametrize(
    ("log", "said"),
    [
        ("log: []", "f.yaml:5:6: log: an empty log in brackets"),
        ("log: [{leak: L1, date: 2031-05-20, told: owner}]", "5:6: log: the log stands in brack"),
        ("log:\n  []", "f.yaml:6:3: log: an empty log in brackets"),
        ("log:\n  [{leak: L1, date: 2031-05-20, told: owner}]", "6:3: log: the log stands in br"),
    ],
)
def test_a_log_in_brackets_is_refused_with_what_to_do(log: str, said: str) -> None:
    told = refused(f"{HEAD}{log}\n")
    assert said in told
    assert told.endswith('expected each entry on a line with "- "')


def test_braces_round_the_file_are_refused() -> None:
    for text in (
        "{callout: X, structure: {kind: tank}, leaks: [{leak: L1}]}",
        "{\ncallout: X, structure: {kind: tank}, leaks: [{leak: L1}]}\n",
        "  " + HEAD.replace("\n", "\n  "),
    ):
        assert "the keys of this file do not stand at the start of their lines" in refused(text)


def test_a_text_that_goes_on_in_the_first_column_is_not_torn() -> None:
    text = (
        f'{HEAD}log:\n{entry("told: owner", words=chr(34) + "one")}# two"\ntruth: {{causes: [a]}}\n'
    )
    text = text.replace('one\n    told: owner\n# two"', 'one\n# two"\n    told: owner')
    assert log_of(text)[0].words == "one # two"
    assert [one.words for one in log_of(added(text))] == ["one # two", ""]


def test_what_would_pass_the_largest_file_is_refused() -> None:
    text = f"{HEAD}# {'é' * 524_200}\n"
    assert "the file is too large" in refused(text)


ODD = [
    "no",
    "null",
    "~",
    "1:30",
    "0123",
    "1e3",
    "2031-05-20",
    "a # b",
    "# b",
    "a: b",
    "- a",
    "? a",
    "*a",
    "&a",
    "!a",
    "%a",
    "@a",
    "`a`",
    "'a'",
    '"a"',
    "{a}",
    "[0,3 mm]",
    "0,3 mm",
    "a,b",
    "---",
    "...",
    "<<",
    "=",
    "one\ntwo\n\n  three",
    "a\tb",
    "ends with a colon:",
    "Fuge über der Sohle, 3 €, Ω",
    "漏水 🚰",
    "a\u2028b\x85c\ufeffd",
    "long " * 60 + "# end",
    "- dash " * 40,
]


@pytest.mark.parametrize("said", ODD)
def test_what_yaml_would_take_for_something_else_stays_text(said: str) -> None:
    new = {**TOLD, "words": said}
    last = log_of(added(ONE, new))[-1]
    assert last.words == said.strip()


@pytest.mark.parametrize("said", ODD)
def test_so_does_an_amount(said: str) -> None:
    new = {"leak": "L1", "date": date(2031, 6, 1), "done": "gel", "quantities": {"gel": said}}
    last = log_of(added(ONE, new))[-1]
    assert isinstance(last, Done)
    assert last.quantities == {"gel": said.strip()}


TEXTS = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=150).filter(
    lambda said: bool(said.strip())
)
TRUTH = "truth: {causes: [a]}\n"
TAILS = st.sampled_from(["", "\n\n", "# last\n", "# last", TRUTH, f"\n# x\n{TRUTH}"])


@st.composite
def records(draw: st.DrawFn) -> str:
    """A record as it may stand on a disk."""
    head = draw(st.sampled_from([HEAD, FULL, f"{HEAD}log:\n"]))
    mark, end = draw(st.sampled_from(["", "\ufeff"])), draw(st.sampled_from(["\n", "\r\n"]))
    return mark + (head + draw(TAILS)).replace("\n", end)


@settings(deadline=None, max_examples=150)
@given(records(), TEXTS, TEXTS)
def test_whatever_is_said_comes_back_and_all_else_stays(
    before: str, words: str, amount: str
) -> None:
    new = {
        "leak": "L2",
        "date": date(2031, 6, 1),
        "done": "gel-injection",
        "quantities": {"gel": amount, "packers": "3"},
        "words": words,
    }
    after = added(before, new)
    assert is_kept(before, after)
    *old, last = log_of(after)
    assert [repr(one)[:60] for one in old] == [repr(one)[:60] for one in log_of(before)]
    assert isinstance(last, Done)
    assert (last.leak, last.day, last.method) == ("L2", date(2031, 6, 1), "gel-injection")
    assert last.words == words.strip()
    assert last.quantities == {"gel": amount.strip(), "packers": "3"}
