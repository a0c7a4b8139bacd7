"""Free text loses its people and places, and nothing else."""

import re
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.library.identities import KINDS, private_words, scrub_text
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
