"""Families: the tables of evidence, from words or numbers to probabilities."""

from dataclasses import dataclass
from math import inf

import numpy as np

from advisor.engine import Condition, Family, Weight, build_table
from advisor.knowledge.conditions import Read, Vocabulary, read_condition
from advisor.knowledge.entries import FamilyEntry, Weights
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.read_causes import Causes
from advisor.knowledge.read_weights import fraction, known_word, read_why
from advisor.terms import (
    Faults,
    Node,
    Place,
    Range,
    Scalar,
    fault,
    mapping,
    nearest,
    number,
    one_of,
    only_keys,
    problem_at,
    read_number,
    text,
)
from advisor.terms import (
    Mapping as Written,
)

_FAMILY_NAMES = ("label", "reads", "story", "given", "readings", "again")


def read_families(
    sections: Sections, vocabulary: Vocabulary, causes: Causes, weights: Weights, faults: Faults
) -> dict[str, FamilyEntry]:
    """Faults are gathered, faulty entries left out."""
    found = {}
    for entry in sections["families"].values():
        with faults.catch():
            found[entry.key] = _read_family(entry, sections, vocabulary, causes, weights)
    return found


def _read_family(
    entry: Entry, sections: Sections, vocabulary: Vocabulary, causes: Causes, weights: Weights
) -> FamilyEntry:
    entry.only(_FAMILY_NAMES, ("label", "reads", "readings"))
    reads, faults = entry.need("reads"), Faults()
    read = vocabulary.look_up(text(reads, "reads"), reads.place)
    given = story = None
    with faults.catch():
        given = _optional_condition(entry.get("given"), vocabulary)
    with faults.catch():
        node = entry.get("story")
        story = None if node is None else known_word(node, weights.stories, "the stories")
    rows = mapping(entry.need("readings"), "readings")
    readings, edges = _read_readings(rows, read)
    shares: list[float] = []
    said: dict[str, tuple[tuple[str, str, str | None], ...]] = {}
    written: list[_Said] = []
    for reading, _, row in readings:
        with faults.catch():
            only_keys(row, ("share", "times"), ("share",))
            share = row.get("share")
            assert share is not None
            shares.append(fraction(share, "share"))
        with faults.catch():
            here = _read_times(row.get("times"), reading, causes, weights)
            said[reading] = tuple((s.key, s.words, s.because) for s in here)
            written += here
    faults.stop()
    keys = tuple(causes.causes)
    times = {
        cause.key: {
            s.reading: s.weight
            for name in (cause.group, cause.key)
            for s in written
            if s.key == name
        }
        for cause in causes.causes.values()
    }  # the cause's own word comes last, and wins
    names = tuple(reading for reading, _, _ in readings)
    built = build_table(names, shares, keys, times, least_left=weights.least_left)
    for row_name, cause, message in built.faults:
        place = next((p for r, p, _ in readings if r == row_name), entry.place)
        faults.add(problem_at(place, f"{cause}: {message}" if cause else message, key=entry.key))
    faults.stop()
    again = entry.get("again")
    share_array = np.array(shares)
    return FamilyEntry(
        key=entry.key,
        label=text(entry.need("label"), "label"),
        family=Family(
            key=entry.key,
            variable=read.variable.key,
            readings=names,
            shares=share_array / share_array.sum(),
            likelihood=built.likelihood,
            mentioned=built.mentioned,
            edges=edges,
            given=given,
            story=story,
            again=None if again is None else text(again, "again"),
        ),
        said=said,
        cuts=built.cuts,
        why=read_why(entry, sections),
    )


def _optional_condition(node: Node | None, vocabulary: Vocabulary) -> Condition | None:
    return None if node is None else read_condition(node, vocabulary)


_Rows = list[tuple[str, Place, Written]]


def _read_readings(rows: Written, read: Read) -> tuple[_Rows, tuple[float, ...]]:
    """The readings in order, and the inner edges of bands. They leave nothing out."""
    if read.variable.is_choice:
        return _read_choice_readings(rows, read), ()
    return _read_bands(rows, read)


def _read_choice_readings(rows: Written, read: Read) -> _Rows:
    faults = Faults()
    choices = read.variable.choices
    found: dict[str, tuple[Place, Written]] = {}
    for key, row in rows.entries:
        with faults.catch():
            name = known_word(Scalar(key.text, True, False, key.place), choices, "the choices")
            found[name] = (key.place, mapping(row, name))
    missing = [c for c in choices if c not in found]
    faults.stop()
    if missing:
        raise fault(
            rows, f"the readings leave a gap: {', '.join(missing)}", expected=one_of(choices)
        )
    return [(c, *found[c]) for c in choices]


def _read_bands(rows: Written, read: Read) -> tuple[_Rows, tuple[float, ...]]:
    """Bands from low to high, each beginning where the one before ends."""
    faults = Faults()
    bands: list[tuple[Range, str, Place, Written]] = []
    for key, row in rows.entries:
        with faults.catch():
            range_ = read_number(Scalar(key.text, True, False, key.place), read.attribute)
            bands.append((range_, key.text, key.place, mapping(row, key.text)))
    faults.stop()
    bands.sort(key=lambda band: band[0].lo)
    ends = [read.variable.lowest, *(band[0].hi for band in bands)]
    for end, (range_, name, place, _) in zip(ends, bands, strict=False):
        if range_.lo > end:
            faults.add(problem_at(place, "the readings leave a gap below this one", key=name))
        elif range_.lo < end:
            faults.add(problem_at(place, "the readings overlap here", key=name))
    if bands and bands[-1][0].hi < min(read.variable.highest, inf):
        faults.add(problem_at(bands[-1][2], "the readings leave a gap above this one"))
    faults.stop()
    if len(bands) < 2:
        raise fault(rows, "a family has at least two readings")
    return [(n, p, r) for _, n, p, r in bands], tuple(b[0].lo for b in bands[1:])


_DIRECTIONS = ("for", "against")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Said:
    """What one line under `times` says: of a cause or group, at one reading."""

    key: str
    reading: str
    weight: Weight
    words: str
    because: str | None


def _read_times(node: Node | None, reading: str, causes: Causes, weights: Weights) -> list[_Said]:
    faults = Faults()
    said = []
    for key, value in mapping(node, "times").entries if node is not None else ():
        with faults.catch():
            known = (*causes.causes, *causes.groups)
            if key.text not in known:
                near = nearest(key.text, known)
                raise fault(key, "is neither a cause nor a group", key=key.text, nearest=near)
            weight, words, because = _read_weight(value, weights)
            said.append(
                _Said(key=key.text, reading=reading, weight=weight, words=words, because=because)
            )
    faults.stop()
    return said


def _read_weight(node: Node, weights: Weights) -> tuple[Weight, str, str | None]:
    """A word with its direction, or a number with its because."""
    if isinstance(node, Written):
        only_keys(node, ("times", "because", "source"), ("times", "because"))
        times, because = node.get("times"), node.get("because")
        assert times is not None
        assert because is not None
        value = number(times, "times")
        return Weight(times=value), f"{value:g} times", text(because, "because")
    written = " ".join(text(node, "times").split())
    strength, _, direction = written.partition(" ")
    forms = [f"{w} {d}" for w in weights.words for d in _DIRECTIONS]
    if strength not in weights.words or direction not in _DIRECTIONS:
        raise fault(
            node,
            f'"{written}" is no weight',
            expected=f"{one_of(forms)}, or {{times: NUMBER, because: …}}",
            nearest=nearest(written, forms),
        )
    entry = weights.words[strength]
    if direction == "for":
        return Weight(times=entry.times, at_most=entry.at_most), written, None
    return Weight(times=1 / entry.times, at_most=entry.at_most), written, None
