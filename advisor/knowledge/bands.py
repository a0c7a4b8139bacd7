"""The readings of a family: a row for each choice, or for each band of a number."""

from dataclasses import dataclass

from advisor.knowledge.conditions import Read
from advisor.knowledge.names import known_word
from advisor.terms import (
    Faults,
    Node,
    Place,
    Range,
    fault,
    mapping,
    one_of,
    problem_at,
    read_number,
)
from advisor.terms import Mapping as Written


@dataclass(frozen=True, slots=True)
class Row:
    """One reading as written: its name, what stands under it, and where."""

    name: str
    node: Written
    place: Place


@dataclass(frozen=True, slots=True)
class Rows:
    """The readings in the variable's order; edges: inner limits of bands, none for choices."""

    rows: tuple[Row, ...]
    edges: tuple[float, ...] = ()


def read_rows(node: Node, read: Read) -> Rows:
    """Readings that exclude each other and leave nothing out. Raises Faulty."""
    written = mapping(node, "readings")
    return _bands(written, read) if not read.variable.is_choice else _choices(written, read)


def _choices(written: Written, read: Read) -> Rows:
    faults, found = Faults(), {}
    choices = read.variable.choices
    for key, row in written.entries:
        with faults.catch():
            name = known_word(key, choices, "the choices")
            found[name] = Row(name, mapping(row, name), key.place)
    missing = [c for c in choices if c not in found]
    if missing and not faults:
        told = f"the readings leave a gap: {', '.join(missing)}"
        faults.add(problem_at(written, told, key="readings", expected=f"each {one_of(choices)}"))
    faults.stop()
    return Rows(tuple(found[c] for c in choices))


def _bands(written: Written, read: Read) -> Rows:
    """Bands from low to high, each beginning where the one before ends."""
    faults = Faults()
    bands: list[tuple[Range, Row]] = []
    for key, row in written.entries:
        with faults.catch():
            range_ = read_number(key, read.attribute)
            bands.append((range_, Row(key.text, mapping(row, key.text), key.place)))
    faults.stop()
    if len(bands) < 2:
        raise fault(written, "a family has at least two readings", key="readings")
    bands.sort(key=lambda each: each[0].lo)
    end = read.variable.lowest
    for range_, band in bands:
        if range_.lo > end:
            faults.add(
                problem_at(band.place, "the readings leave a gap below this one", key=band.name)
            )
        elif range_.lo < end:
            faults.add(problem_at(band.place, "the readings overlap here", key=band.name))
        end = max(end, range_.hi)
    if end < read.variable.highest:
        last = bands[-1][1]
        told = "the readings leave a gap above this one"
        faults.add(problem_at(last.place, told, key=last.name))
    faults.stop()
    return Rows(tuple(band for _, band in bands), tuple(range_.lo for range_, _ in bands[1:]))
