"""Takes people and places out of free text. Pure functions; patterns know no one, names do.

It finds what the private block names and what looks like an identity. It cannot know a name that
stands nowhere else, so whoever keeps notes reads them before they are kept.
"""

import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache, partial
from typing import Any, Final

from advisor.library.scrub.addresses import COORDINATES, MAPS, NO_TRADE, POSTCODES, STREETS
from advisor.library.scrub.contacts import (
    ACCOUNTS,
    DATES,
    MAILS,
    NO_UNIT,
    PHONES,
    PLATES,
    WEB,
    Pattern,
    patterns,
)
from advisor.library.scrub.spelling import (
    WORD,
    Name,
    folded,
    is_spelling_of,
    joined,
    name_of,
    parts_of,
)

_CAP = "[A-ZÀ-ÖØ-ÞĀ-Ž][\\w'’-]+"
_LOW = "[A-ZÀ-ÖØ-ÞĀ-Ž][a-zß-öø-ÿ\u0101-\u017e'’-]+"
_TITLED = patterns(
    "name",
    r"\b(?:Mr|Mrs|Ms|Miss|Dr|Prof|Herrn?|Frau|Fam(?:ilie|\.)|Mme|Mlle|Madame|Monsieur|Sra?|Señora?|"
    r"Do[nñ]a?|Sig(?:nora?|\.ra)?|Pan[aiíe]?|Panem|Ing|Dipl\.-Ing|Mevrouw|Meneer|Dhr|Mevr)\b\.?\s+"
    rf"(?:(?:Dr|Prof|Ing|med|rer|nat|jur)\.?\s+)*(?:(?:von|van|de|der|di|la|"
    rf"[A-Z]\.)\s+)*{_CAP}(?:[ ](?:[A-Z]\.\s?)*(?!The\b){_CAP})?",
    # The usual miss: neighbours and tenants that stand in no file.
    r"(?P<cue>\b(?i:caretaker|neighbou?r|tenant|owner|foreman|landlord|hausmeister(?:in)?|"
    r"nachbar(?:in)?|mieter(?:in)?|eigentümer(?:in)?|polier|bauleiter(?:in)?|gardien(?:ne)?|voisine?|"
    r"locataire|portiere?|custode|vicin[oa]|conserje|vecin[oa]|buurman|soused|správce|sąsiad|dozorca)"
    rf",?\s){NO_TRADE}{_LOW}(?:\s{NO_TRADE}{_LOW})?",
)
_COMPANY = patterns(
    "company",
    rf"(?:\b{_CAP}(?:\s(?:&|und|and|et)\s|\s)){{1,4}}(?:GmbH|mbH|AG|KG|OHG|Ltd|Limited|LLC|LLP|"
    r"Inc|PLC|S\.?A\.?R\.?L|S\.?r\.?l|S\.?p\.?A|B\.?V|N\.?V|s\.?\s?r\.?\s?o|a\.\s?s|"
    r"sp\.\s?z\s?o\.?\s?o|S\.L|Sp\.\sk)\b\.?(?:\s&\sCo\.?(?:\sKG)?)?",
)
# What is longer or surer comes first.
_PATTERNS: Final[tuple[Pattern, ...]] = (
    *(*MAPS, *MAILS, *WEB, *COORDINATES, *ACCOUNTS, *DATES, *PHONES),
    *(*_COMPANY, *STREETS, *POSTCODES, *PLATES, *_TITLED),
)
KINDS: Final = tuple(sorted({"number", *(kind for kind, _ in _PATTERNS)}))
_TAG = re.compile(rf"(\[(?:{'|'.join(KINDS)})\])")
_UNSEEN = re.compile("[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2064\ufeff]")
_BETWEEN = re.compile(
    r"(?:[\s,.\-–]|\b(?:von|van|vom|de|der|den|del|della|di|da|la|y|e|bin|zu|[A-Z]\.)\b)*"
)
_INITIALS_BEFORE = re.compile(
    r"(?<!\w)(?:[^\W\d_]\.[\s-]?(?:(?:&|\+|and|und|et|a|y|i|e)\s)?){1,3}\Z"
)
_INITIALS_AFTER = re.compile(r",?\s(?:[^\W\d_a-zà-ž]\.[\s-]?)*[^\W\d_a-zà-ž]\.")
_BROKEN = re.compile(r"-?\s?")
_YEAR = re.compile(r"(?:19|20)\d\d")
_SPLIT = re.compile(r"[,;\n|]|\s[-–]\s")
_GLUE = r"[\s.,/()–_-]{0,3}"


@dataclass(frozen=True, slots=True)
class Scrubbed:
    """removed: kind -> how often. What was removed stands in the text as its kind, in brackets."""

    text: str
    removed: Mapping[str, int]


def private_words(private: Mapping[str, Any]) -> tuple[str, ...]:
    """The names, streets and numbers in the private block of a callout, at any depth; no keys."""
    return tuple(dict.fromkeys(_phrases(private)))


def scrub_text(text: str, names: Sequence[str]) -> Scrubbed:
    """The text without people and places. names: as `private_words` gives them.

    Scrubbing again changes nothing.
    """
    known = _known(tuple(names))
    removed: Counter[str] = Counter()
    text = unicodedata.normalize("NFC", _UNSEEN.sub("", text))
    while True:
        before = text
        for kind, look in (*known.phrases, *_PATTERNS):
            text = _replace(text, kind, partial(_spans, look), removed)
        text = _replace(text, "name", known.spans, removed)
        if text == before:
            return Scrubbed(text, dict(sorted(removed.items())))


Spans = Iterator[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class _Known:
    """The private words made ready. phrases: patterns of what is removed as a whole."""

    phrases: tuple[Pattern, ...]
    parts: tuple[Name, ...]

    def spans(self, text: str) -> Spans:
        """Where parts of names stand, each with what stands between it and the next."""
        at: tuple[int, int] | None = None
        for word in self._words(text):
            start, end = _with_initials(text, *word)
            if at and (start <= at[1] or _BETWEEN.fullmatch(text, at[1], start)):
                at = at[0], end
                continue
            if at:
                yield at
            at = start, end
        if at:
            yield at

    def _words(self, text: str) -> Spans:
        """Single words, and two that one name was broken into."""
        words = list(WORD.finditer(text))
        for word, after in zip(words, [*words[1:], None], strict=False):
            if any(is_spelling_of(word[0], name) for name in self.parts):
                yield word.span()
            elif after and _BROKEN.fullmatch(text, word.end(), after.start()):
                whole = folded(word[0] + after[0])
                if any(len(form) >= 6 for form in whole) and any(
                    not whole.isdisjoint(name.forms) for name in self.parts
                ):
                    yield word.start(), after.end()


@lru_cache(maxsize=64)
def _known(names: tuple[str, ...]) -> _Known:
    phrases, words = [], dict[str, None]()
    for name in sorted(names, key=len, reverse=True):
        parts = parts_of(name)
        words |= dict.fromkeys((*parts, *joined(parts)))
        phrases += [*_whole(name), *_initials(name)]
    phrases += [found for name in names for found in _numbers(name)]
    return _Known(tuple(phrases), tuple(name_of(word) for word in words))


def _phrases(value: object) -> Iterator[str]:
    match value:
        case str():
            parts = [part.strip() for part in _SPLIT.split(value) if part.strip()]
            if len(parts) == 2 and all(WORD.fullmatch(part) for part in parts):
                yield f"{parts[1]} {parts[0]}"  # Novak, Jan
            yield from parts
        case Mapping():
            for one in value.values():
                yield from _phrases(one)
        case list() | tuple():
            for one in value:
                yield from _phrases(one)
        case bool() | None:
            return
        case date():
            yield value.isoformat()
        case int() | float():
            yield str(value)


def _whole(phrase: str) -> Iterator[Pattern]:
    """The phrase as it stands, in any case and spacing; a long number by its digits alone."""
    pieces = re.findall(r"[^\W\d_]+|\d+", phrase)
    digits = "".join(piece for piece in pieces if piece.isdigit())
    letters = [piece for piece in pieces if not piece.isdigit()]
    if len(digits) >= 7 and len(digits) > len("".join(letters)):
        # The country's own form drops what stands in front.
        tail = _GLUE.join(digits[-6:])
        yield "number", re.compile(rf"(?<!\w)[+(]?(?:\d{_GLUE}){{0,9}}{tail}(?!\d)")
    if len(pieces) < 2 and len(digits) < 4:
        return
    spelt = [_spelt(piece) for piece in pieces]
    orders = [spelt]
    if 0 < len(letters) < len(pieces) <= 6:
        orders += [[*spelt[1:], spelt[0]], [spelt[-1], *spelt[:-1]]]
    for order in orders:
        yield _kind(digits, letters), re.compile(rf"(?i:(?<!\w){_GLUE.join(order)}(?!\w))")
    if digits and len(letters) >= 2 and len("".join(letters)) >= 8:
        street = _GLUE.join(_spelt(piece) for piece in letters)
        yield "street-address", re.compile(rf"(?i:(?<!\w){street}(?!\w))")


def _numbers(phrase: str) -> Iterator[Pattern]:
    """The longer numbers in a phrase by themselves. A year tells nobody anything."""
    for piece in re.findall(r"\d{4,}", phrase):
        if not _YEAR.fullmatch(piece):
            yield "number", re.compile(rf"(?<![\w.,]){piece}{NO_UNIT}")


def _kind(digits: str, letters: Sequence[str]) -> str:
    if not digits:
        return "name"
    return "street-address" if any(len(one) > 3 for one in letters) else "number"


def _spelt(piece: str) -> str:
    forms = sorted({re.escape(piece), *(re.escape(form) for form in folded(piece))})
    return f"(?:{'|'.join(forms)})"


def _initials(phrase: str) -> Iterator[Pattern]:
    """J.N., N.J.: the dots tell them from the letters of a grid."""
    parts = parts_of(phrase)
    if not 2 <= len(parts) <= 4 or any(c.isdigit() for c in phrase):
        return
    firsts = [part[0].upper() for part in parts]
    dotted = [re.escape(one) + r"\." for one in firsts]
    for order in (dotted, dotted[::-1], [dotted[0], dotted[-1]], [dotted[-1], dotted[0]]):
        yield "name", re.compile(r"(?<!\w)(?<!\w\.)" + r"[\s-]?".join(order))


def _with_initials(text: str, start: int, end: int) -> tuple[int, int]:
    """A name from its first initial to its last: J. Novak, Novak, J."""
    before = _INITIALS_BEFORE.search(text, max(0, start - 16), start)
    after = _INITIALS_AFTER.match(text, end)
    return before.start() if before else start, after.end() if after else end


def _spans(look: re.Pattern[str], text: str) -> Spans:
    cued = "cue" in look.groupindex
    for found in look.finditer(text):
        yield found.end("cue") if cued else found.start(), found.end()


def _replace(text: str, kind: str, find: Callable[[str], Spans], removed: Counter[str]) -> str:
    """The text with what is found taken out. What was taken out before stays as it is."""
    made = []
    for number, part in enumerate(_TAG.split(text)):
        if number % 2:
            made.append(part)
            continue
        at = 0
        for start, end in find(part):
            made += [part[at:start], f"[{kind}]"]
            removed[kind] += 1
            at = end
        made.append(part[at:])
    return "".join(made)
