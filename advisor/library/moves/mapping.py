"""The mapping file: a firm's own columns and words, and what they are here.

    columns: {"Their column": our-column}
    words: {our-column: {"Their word": our-word}}    # or unknown
    leave: ["Column that is not wanted"]
    fixed: {our-column: value}                       # the same in every row
    units: {finding.ATTRIBUTE: mm}                   # of bare numbers
    dates: DD.MM.YYYY

All of it is checked against the knowledge; a column without a name here is told, not passed over.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Final, NamedTuple

from advisor.knowledge import Knowledge
from advisor.library.moves.csv_cells import CellReader
from advisor.library.moves.import_columns import DATES, OurColumn, our_column
from advisor.library.moves.import_findings import finding_attribute
from advisor.terms import (
    Faults,
    Faulty,
    Listing,
    Place,
    Problem,
    fault,
    listing,
    nearest,
    one_of,
    only_keys,
    parse,
    problem_at,
    scalar,
    unit_named,
)
from advisor.terms import Mapping as Keys
from advisor.terms import mapping as keys_of
from advisor.terms.source_file import read_bytes

PARTS: Final = ("columns", "words", "leave", "fixed", "units", "dates")
NEVER_FIXED: Final = ("case", "place")
EITHER: Final = (
    *(("date", "quarter"), ("done", "done-day")),
    *(("confirmed", "confirmed-day"), ("closed", "closed-day")),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnMapping:
    """columns: ours by theirs. words: by our column, ours by theirs. fixed, units: by ours."""

    columns: Mapping[str, str] = field(default_factory=dict)
    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    leave: frozenset[str] = frozenset()
    fixed: Mapping[str, str] = field(default_factory=dict)
    units: Mapping[str, str] = field(default_factory=dict)
    dates: str = "YYYY-MM-DD"

    def column(self, knowledge: Knowledge, ours: str) -> OurColumn:
        """Raises Faulty, without a place, where there is no such column."""
        return our_column(knowledge, ours, self.dates, self.units.get(ours))

    def reader(self, knowledge: Knowledge, ours: str, index: int, header: str) -> CellReader:
        column = self.column(knowledge, ours)
        return CellReader(index, header, column, self.words.get(ours, {}))


def read_mapping(path: str | Path, knowledge: Knowledge) -> ColumnMapping:
    """Raises Faulty with every problem of the file."""
    return parse_mapping(read_bytes(Path(path)), str(path), knowledge)


def parse_mapping(data: bytes | str, file: str, knowledge: Knowledge) -> ColumnMapping:
    """file: its name in messages. Raises as `read_mapping` does."""
    node = keys_of(parse(data, file))
    only_keys(node, PARTS, ("columns",))
    faults = Faults()
    columns, fixed, units = (_texts(node, part, faults) for part in ("columns", "fixed", "units"))
    words = _all_words(node, faults)
    found = ColumnMapping(
        columns={theirs: one.text for theirs, one in columns.items()},
        words={
            ours: {theirs: one.text for theirs, one in said.items()} for ours, said in words.items()
        },
        leave=frozenset(_leave(node, faults)),
        fixed={ours: one.text for ours, one in fixed.items()},
        units={ours: one.text for ours, one in units.items()},
        dates=_dates(node, faults),
    )
    faults.add(*_wrong_units(units, knowledge))
    faults.stop()  # what hangs on the units would be told twice
    faults.add(*_wrong_columns(found, [*columns.values()], knowledge))
    faults.add(*_wrong_together(found, node.place))
    for ours, said in words.items():
        faults.add(*_wrong_values(found, [(ours, one) for one in said.values()], knowledge))
    faults.add(*_wrong_values(found, [*fixed.items()], knowledge))
    faults.stop()
    return found


def spaced(text: str) -> str:
    """With single spaces: as names of columns and words are compared."""
    return " ".join(text.split())


class Text(NamedTuple):
    """What stands in the mapping, and where."""

    text: str
    place: Place


def _texts(node: Keys, part: str, faults: Faults) -> dict[str, Text]:
    found: dict[str, Text] = {}
    with faults.catch():
        entries = keys_of(node.get(part) or Keys((), node.place), part).entries
        for name, value in entries:
            with faults.catch():
                said = scalar(value, "one of ours, in quotes where it has brackets", name.text)
                found[spaced(name.text)] = Text(spaced(said.text), value.place)
    return found


def _all_words(node: Keys, faults: Faults) -> dict[str, dict[str, Text]]:
    with faults.catch():
        words = keys_of(node.get("words") or Keys((), node.place), "words")
        return {name.text: _texts(words, name.text, faults) for name, _ in words.entries}
    return {}


def _leave(node: Keys, faults: Faults) -> Iterator[str]:
    with faults.catch():
        for item in listing(node.get("leave") or Listing((), node.place), "leave"):
            with faults.catch():
                yield spaced(scalar(item, "the name of a column", "leave").text)


def _dates(node: Keys, faults: Faults) -> str:
    written = node.get("dates")
    if written is not None:
        with faults.catch():
            form = scalar(written, one_of(DATES), "dates").text.strip()
            if form in DATES:
                return form
            near = nearest(form, DATES)
            raise fault(
                written, "no form of dates", key="dates", expected=one_of(DATES), nearest=near
            )
    return next(iter(DATES))


def _wrong_units(units: Mapping[str, Text], knowledge: Knowledge) -> Iterator[Problem]:
    for ours, one in units.items():
        try:
            attribute = finding_attribute(knowledge, ours)
        except Faulty as faulty:
            yield _at(one.place, ours, faulty.problems[0])
            continue
        unit, own = unit_named(one.text), unit_named(attribute.unit or "")
        if unit is None or own is None or unit.dimension != own.dimension:
            expected = f"a unit such as {attribute.unit or 'none'}"
            yield problem_at(one.place, f'no unit of it: "{one.text}"', key=ours, expected=expected)


def _wrong_columns(
    found: ColumnMapping, ours: Iterable[Text], knowledge: Knowledge
) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for one in ours:
        try:
            found.column(knowledge, one.text)
        except Faulty as faulty:
            yield _at(one.place, one.text, faulty.problems[0])
            continue
        if one.text in first:
            message = f"this is told on line {first[one.text]} too"
            yield problem_at(one.place, message, key=one.text, expected="one column for it")
        first.setdefault(one.text, one.place.line)


def _wrong_together(found: ColumnMapping, place: Place) -> Iterator[Problem]:
    for theirs in found.columns:
        if theirs in found.leave:
            yield problem_at(place, "this column is mapped and left out", key=theirs)
    told = {*found.columns.values(), *found.fixed}
    for ours in sorted(set(found.columns.values()) & set(found.fixed)):
        yield problem_at(place, "this has a column and is fixed", key=ours)
    for one, other in EITHER:
        if {one, other} <= told:
            yield problem_at(place, f"{one} and {other} are told", key=one, expected="one of them")
    for ours in NEVER_FIXED:
        if ours in found.fixed:
            yield problem_at(place, "this is never the same in every row", key=ours)


def _wrong_values(
    found: ColumnMapping, said: Iterable[tuple[str, Text]], knowledge: Knowledge
) -> Iterator[Problem]:
    """Values of ours that are none, each told for its column."""
    for ours, one in said:
        try:
            # What stands in the mapping is ours already: it goes through no words.
            reader = CellReader(0, ours, found.column(knowledge, ours), {})
        except Faulty as faulty:
            yield _at(one.place, ours, faulty.problems[0])
            return
        _, problems = reader.read(one.text, one.place)
        for problem in problems:
            yield _at(one.place, ours, problem)


def _at(place: Place, key: str, problem: Problem) -> Problem:
    return replace(problem, file=place.file, line=place.line, column=place.column, key=key)
