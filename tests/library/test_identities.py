"""Free text loses its people and places, and nothing else."""

import re
from collections import Counter
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.library.scrub.identities import KINDS, private_words, scrub_text
from tests.library.planted import PLANTED, Planted
from tests.library.technical import TECHNICAL


def tokens(text: str) -> Counter[str]:
    return Counter(re.findall(r"\w+", text))


def test_enough_is_planted_of_every_kind() -> None:
    kinds = Counter(planted.kind for planted in PLANTED)
    assert len(PLANTED) >= 200
    assert len({planted.sentence for planted in PLANTED}) == len(PLANTED)
    assert kinds.keys() <= set(KINDS)
    assert min(kinds.values()) >= 5


@pytest.mark.parametrize("planted", PLANTED, ids=lambda p: p.sentence)
def test_no_part_of_an_identity_is_left(planted: Planted) -> None:
    scrubbed = scrub_text(planted.sentence, private_words(planted.private))
    kept = re.sub(r"\[[a-z-]+\]", " ", scrubbed.text)
    allowed = tokens(planted.sentence)
    for telling in planted.telling:
        assert telling.casefold() not in kept.casefold()
        allowed -= tokens(telling)
    assert tokens(kept) <= allowed, scrubbed.text
    assert sum(scrubbed.removed.values()) >= 1


@pytest.mark.parametrize("planted", PLANTED, ids=lambda p: p.sentence)
def test_the_note_around_it_stays(planted: Planted) -> None:
    scrubbed = scrub_text(planted.sentence, private_words(planted.private))
    around = tokens(planted.sentence)
    for telling in planted.telling:
        around -= tokens(telling)
    assert (around - tokens(scrubbed.text)).total() <= 1, scrubbed.text


@pytest.mark.parametrize("sentence", TECHNICAL)
def test_a_technical_sentence_comes_through(sentence: str) -> None:
    assert scrub_text(sentence, ()).text == sentence


PRIVATE = {
    "owner": {"name": "Mr. Thomas Wall", "phone": "0732 445566"},
    "address": "12 Station Road, 4020 Linz",
    "second": ["main street 5", "Am Brunnen 3"],
    "floor": 5,
    "paid": True,
    "since": date(2031, 4, 16),
    "nothing": None,
}


def test_the_private_block_is_read_at_any_depth() -> None:
    assert private_words(PRIVATE) == (
        *("Mr. Thomas Wall", "0732 445566", "12 Station Road", "4020 Linz"),
        *("main street 5", "Am Brunnen 3", "5", "2031-04-16"),
    )


@pytest.mark.parametrize("sentence", TECHNICAL)
def test_everyday_words_of_an_address_are_no_identity(sentence: str) -> None:
    """The only words of the private block in these notes are everyday ones, without a capital."""
    assert scrub_text(sentence, private_words(PRIVATE)).text == sentence


@pytest.mark.parametrize(
    ("note", "left"),
    [
        ("Wall says the wall foot is wet.", "[name] says the wall foot is wet."),
        ("Main Street, 5: water main 5 m off.", "[street-address]: water main 5 m off."),
        ("Ring 445566 or +43 732 445566.", "Ring [number] or [number]."),
        ("The Linz office has it.", "The [name] office has it."),
        ("T. Wall and Thomas, T.W. as well", "[name] and [name], [name] as well"),
    ],
)
def test_what_the_private_block_takes_out(note: str, left: str) -> None:
    assert scrub_text(note, private_words(PRIVATE)).text == left


def test_other_ways_to_write_the_private_block() -> None:
    words = private_words(
        {"name": "Novák, Jan", "mail": "eva.prokop@firma.example", "w": "www.a.cz"}
    )
    assert words[0] == "Jan Novák"
    note = "J.N. and Prokop, the firma has info; eva.prokop@firma.example"
    assert scrub_text(note, words).text == "[name] and [name], the firma has info; [mail]"


def test_it_counts_what_was_removed() -> None:
    note = "Jan Novák: call 0171/1234567 or jan@example.com, not Nováková."
    scrubbed = scrub_text(note, ["Jan Novák"])
    assert scrubbed.text == "[name]: call [phone] or [mail], not [name]."
    assert scrubbed.removed == {"mail": 1, "name": 2, "phone": 1}


@pytest.mark.parametrize("hidden", ["No\u00advák", "No\u200bvák", "Nova\u0301k", "N\u200dovák"])
def test_invisible_signs_hide_no_name(hidden: str) -> None:
    assert scrub_text(f"{hidden} was here", ["Novák"]).text == "[name] was here"


PIECES = st.one_of(
    st.text(max_size=12),
    st.sampled_from([*TECHNICAL, *(planted.sentence for planted in PLANTED)]),
    st.sampled_from(["[name]", "[phone] 12", "0171", "-", "@", "+49", " ", "\n", "Novák", "12345"]),
)
NAMES = st.lists(st.one_of(st.text(max_size=15), st.sampled_from(["Jan Novák", "K-31", "name"])))


@given(st.lists(PIECES, max_size=5), NAMES)
def test_scrubbing_again_changes_nothing(pieces: list[str], names: list[str]) -> None:
    once = scrub_text(" ".join(pieces), names)
    again = scrub_text(once.text, names)
    assert again.text == once.text
    assert not again.removed
    assert once.removed.keys() <= set(KINDS)


@given(st.recursive(st.none() | st.booleans() | st.integers() | st.text(), st.lists))
def test_any_private_block_can_be_read(value: object) -> None:
    words = private_words({"any": value})
    assert all(word.strip() == word != "" for word in words)
