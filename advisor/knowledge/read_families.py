"""Families: the tables of evidence, from words or numbers to probabilities."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from advisor.engine import Family, TableResult, Weight, build_table
from advisor.knowledge.bands import Rows, read_rows
from advisor.knowledge.conditions import Read, Vocabulary, read_condition
from advisor.knowledge.entries import NOT_IN_THIS_LIST, UNLISTED, Cause, FamilyEntry, Weights
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import known_word, unresolved
from advisor.knowledge.parts import Parts, parts_of, read_all
from advisor.knowledge.read_weights import STRENGTHS
from advisor.terms import (
    Faults,
    Faulty,
    Node,
    Place,
    Problem,
    fault,
    mapping,
    nearest,
    one_of,
    problem_at,
    scalar,
)
from advisor.terms import Mapping as Written

_MUSTS = ("label", "reads", "readings")
_NAMES = (*_MUSTS, "story", "given", "again")
_DIRECTIONS = ("for", "against")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Said:
    """What one line under `times` says of a cause or group at one reading, and where."""

    key: str
    reading: str
    weight: Weight
    words: str
    because: str | None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    """The readings of a family with their shares, what is said at each, and what it makes."""

    rows: Rows
    shares: tuple[float, ...]
    said: tuple[_Said, ...]
    built: TableResult


def read_families(
    sections: Sections,
    vocabulary: Vocabulary,
    causes: Mapping[str, Cause],
    weights: Weights,
    faults: Faults,
) -> dict[str, FamilyEntry]:
    """Faults are gathered, faulty entries left out."""

    def read(entry: Entry) -> FamilyEntry:
        return _read_family(entry, sections, vocabulary, causes, weights)

    return read_all(sections["families"], faults, read)


def _read_family(
    entry: Entry,
    sections: Sections,
    vocabulary: Vocabulary,
    causes: Mapping[str, Cause],
    weights: Weights,
) -> FamilyEntry:
    part = parts_of(entry, sections, _NAMES, _MUSTS)
    label, why, again = part.text("label"), part.why(), part.text("again") or None
    given = part.read("given", lambda node: read_condition(node, vocabulary), None)
    story = part.read("story", lambda n: known_word(n, weights.stories, "the stories"), None)
    read = part.read("reads", lambda n: _look_up(n, vocabulary), None)
    table = None
    if read is not None:
        found = read  # for the checker of types: not None inside the function either
        table = part.read(
            "readings", lambda n: _read_table(n, found, sections, causes, weights), None
        )
    if read is None or table is None:
        raise Faulty(part.faults.problems)
    part.stop()
    shares = np.array(table.shares)
    return FamilyEntry(
        key=entry.key,
        label=label,
        family=Family(
            key=entry.key,
            variable=read.variable.key,
            readings=tuple(row.name for row in table.rows.rows),
            shares=shares / shares.sum(),
            likelihood=table.built.likelihood,
            mentioned=table.built.mentioned,
            edges=table.rows.edges,
            given=given,
            story=story,
            again=again,
        ),
        said={
            row.name: tuple(
                (s.key, s.words, s.because) for s in table.said if s.reading == row.name
            )
            for row in table.rows.rows
        },
        cuts=table.built.cuts,
        why=why,
    )


def _look_up(node: Node, vocabulary: Vocabulary) -> Read:
    name = scalar(node, "an attribute", "reads").text.strip()
    return vocabulary.look_up(name, node.place)


def _read_table(
    node: Node, read: Read, sections: Sections, causes: Mapping[str, Cause], weights: Weights
) -> _Table:
    rows, faults = read_rows(node, read), Faults()
    shares: list[float] = []
    said: list[_Said] = []
    for row in rows.rows:
        part = Parts(row.node, row.place, sections, ("share", "times"), ("share",))
        shares.append(part.fraction("share", stand_in=0.0))
        read_here = partial(_read_times, reading=row.name, sections=sections, weights=weights)
        said += part.read("times", read_here, ())
        faults.add(*part.faults.problems)
    if faults and all(shares):
        alone = build_table([r.name for r in rows.rows], shares, (), {})  # told all the same
        faults.add(*_misfits(alone, (), rows, causes, node))
    faults.stop()
    # The cause's own word comes last, and wins.
    times = {
        cause.key: {
            s.reading: s.weight for key in (cause.group, cause.key) for s in said if s.key == key
        }
        for cause in causes.values()
    }
    names = [row.name for row in rows.rows]
    built = build_table(names, shares, [*causes], times, least_left=weights.least_left)
    faults.add(*_misfits(built, said, rows, causes, node))
    faults.stop()
    return _Table(rows=rows, shares=tuple(shares), said=tuple(said), built=built)


def _misfits(
    built: TableResult, said: Sequence[_Said], rows: Rows, causes: Mapping[str, Cause], node: Node
) -> list[Problem]:
    """What cannot be in a table, where it is written. One line about a group is told once."""
    places = {row.name: row.place for row in rows.rows}
    found: dict[tuple[Place, str], Problem] = {}
    for reading, cause, message in built.faults:
        names = () if cause is None else (cause, causes[cause].group)
        lines = [s for key in names for s in said if s.key == key and reading in (None, s.reading)]
        place = lines[0].place if lines else places.get(reading or "", node.place)
        key = lines[0].key if lines else reading
        found.setdefault((place, message), problem_at(place, message, key=key))
    return list(found.values())


def _read_times(
    node: Node, reading: str, sections: Sections, weights: Weights
) -> tuple[_Said, ...]:
    faults, said = Faults(), []
    known = (*sections["causes"], *sections["groups"])
    for key, value in mapping(node, "times").entries:
        with faults.catch():
            name = key.text
            if name in (NOT_IN_THIS_LIST, UNLISTED):
                told = "nothing speaks for or against what is in no list"
                raise fault(key, told, key=name, expected="another cause or group")
            if name not in known:
                told, near = f'"{name}" is neither a cause nor a group', nearest(name, known)
                raise Faulty(unresolved(key, told, "causes", "groups", key="times", nearest=near))
            weight, words, because = _read_weight(value, sections, weights)
            said.append(
                _Said(
                    key=name,
                    reading=reading,
                    weight=weight,
                    words=words,
                    because=because,
                    place=key.place,
                )
            )
    faults.stop()
    return tuple(said)


def _read_weight(
    node: Node, sections: Sections, weights: Weights
) -> tuple[Weight, str, str | None]:
    """A word with its direction, or a number with its because."""
    if isinstance(node, Written):
        musts = ("times", "because")
        part = Parts(node, node.place, sections, (*musts, "source"), musts)
        value, because = part.number("times", 1.0), part.text("because")
        part.keys("source", "sources")
        part.stop()
        return Weight(times=value), f"{value:g} times", because
    written = " ".join(scalar(node, "a weight", "times").text.split())
    strength, _, direction = written.partition(" ")
    if strength in STRENGTHS and strength not in weights.words:
        raise Faulty(unresolved(node, f'"{strength}" has a fault of its own'))
    if strength not in STRENGTHS or direction not in _DIRECTIONS:
        forms = [f"{w} {d}" for w in STRENGTHS for d in _DIRECTIONS]
        raise fault(
            node,
            f'"{written}" is no weight',
            key="times",
            expected=f"{one_of(forms)}, or {{times: NUMBER, because: …}}",
            nearest=nearest(written, forms),
        )
    word = weights.words[strength]
    times = word.times if direction == "for" else 1 / word.times
    return Weight(times=times, at_most=word.at_most), written, None
