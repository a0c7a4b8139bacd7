"""The spellings one name can take in a hurried note: accents, endings, initials, a slip.

A leak of a name is worse than a word too many taken out, so doubt removes.
"""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from advisor.library.scrub.everyday import COMPANY, EVERYDAY, PARTICLES, STREET, TITLES, words

LETTERS = r"(?:[^\W\d_]|[\u0300-\u036f])"
WORD = re.compile(rf"{LETTERS}+(?:['’`´]{LETTERS}+)*")

_STROKES = str.maketrans(
    {"ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ß": "ss", "æ": "ae", "œ": "oe", "ı": "i"}
)
_DIGRAPHS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ø": "oe", "å": "aa", "æ": "ae"})
_WEB = re.compile(r"(?i:https?:|www\.)")
_APOSTROPHES = re.compile(r"['’`´]")
# How names end in the cases of German, English, the Romance and the Slavic languages.
_ENDINGS = words(
    """s es n en ens sche schen scher sches in innen
    a e i o u y ou em im om um ym am ie ia iu
    ova ove ovi ovy ovo ovou ovych ovym ovu owi owa owej owie owski
    ego emu iego iemu ej iej ich imi ych ymi ach ami om mi eho emu iho imu
    ech at ata atem ul ului lui
    а у ом ым е ои ы ов ова"""
)
_LAST_VOWELS = re.compile(r"[aeiouy]+$")
_FLEETING = re.compile(r"(?:e|ie)([ckclrnt])$")


@dataclass(frozen=True, slots=True)
class Name:
    """One part of a name. forms, stems: folded spellings, whole and without their ending.

    everyday: it is an ordinary word too, and a name only with a capital.
    """

    forms: frozenset[str]
    stems: frozenset[str]
    everyday: bool


@lru_cache(maxsize=4096)
def folded(word: str) -> frozenset[str]:
    """The word without case, accents and apostrophes; umlauts as one letter and as two."""
    low = _APOSTROPHES.sub("", unicodedata.normalize("NFC", word.casefold()))
    return frozenset(_plain(one) for one in (low, low.translate(_DIGRAPHS)))


def is_everyday(word: str) -> bool:
    return not folded(word).isdisjoint(EVERYDAY)


def name_of(word: str) -> Name:
    forms = set(folded(word))
    for form in tuple(forms):  # Mueller may be Müller, and that may be Muller
        forms.add(re.sub(r"([aou])e", r"\1", form))
        forms.add(form.replace("aa", "a"))
    stems = set()
    for form in forms:
        short = _LAST_VOWELS.sub("", form)
        stems |= {form, short, _FLEETING.sub(r"\1", form), short.removesuffix("ov")}
    return Name(
        frozenset(forms),
        frozenset(s for s in stems if len(s) >= 4 or s in forms or word[2:].casefold() == "a"),
        is_everyday(word) or len(word) <= 3,
    )


def is_spelling_of(word: str, name: Name) -> bool:
    """Whether a word of a text is that part of a name, in some case and spelling."""
    if name.everyday and not word[0].isupper():
        return False
    bare = _APOSTROPHES.split(word)[0] if len(word) > 4 else word
    for form in folded(word) | folded(bare):
        if form in name.forms:
            return True
        if any(form.startswith(s) and form[len(s) :] in _ENDINGS for s in name.stems):
            return True
        if len(form) >= 6 and form not in EVERYDAY and any(_slip(form, n) for n in name.forms):
            return True
    return False


def parts_of(phrase: str) -> tuple[str, ...]:
    """The words of a private text that tell who or where by themselves.

    All parts of a person's name do; of an address or a firm those that are no everyday words.
    """
    if _WEB.match(phrase):
        return ()
    phrase = phrase.partition("@")[0]  # a mail's host is a firm's, its box a person's
    found = [(one[0], min(folded(one[0]), key=len)) for one in WORD.finditer(phrase)]
    sentence = len(found) > 5
    impersonal = (
        sentence
        or any(c.isdigit() for c in phrase)
        or any(key in COMPANY or STREET.search(key) for _, key in found)
    )
    kept = []
    for number, (word, key) in enumerate(found):
        if len(key) < 2 or key in PARTICLES | TITLES | COMPANY:
            continue
        if impersonal and (len(key) < 3 or is_everyday(word)):
            continue
        # The first word of a sentence has a capital whatever it is.
        if sentence and (number == 0 or not word[0].isupper()):
            continue
        kept.append(word)
    return tuple(kept)


def joined(parts: Sequence[str]) -> tuple[str, ...]:
    """A name written as one word: JanNovak, novakjan, jnovak."""
    if not 2 <= len(parts) <= 4:
        return ()
    first, last = parts[0], parts[-1]
    whole = "".join(parts)
    return tuple(
        one
        for one in (
            whole,
            first + last,
            last + first,
            first[0] + last,
            *(a + b for a, b in pairwise(parts)),
        )
        if len(one) >= 5
    )


def _plain(word: str) -> str:
    bare = "".join(c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c))
    return bare.translate(_STROKES)


def _slip(word: str, name: str) -> bool:
    """One letter missing, added, changed or two swapped, in a name of seven letters or more."""
    if len(name) < 7 or word[0] != name[0] or abs(len(word) - len(name)) > 1:
        return False
    start = next((i for i, (a, b) in enumerate(zip(word, name, strict=False)) if a != b), None)
    if start is None:
        return True
    a, b = word[start:], name[start:]
    swapped = a[:2] == b[1::-1] and a[2:] == b[2:]
    return swapped or a[1:] == b[1:] or a[1:] == b or a == b[1:]
