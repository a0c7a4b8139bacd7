"""A mapping file to be filled in: all columns of a table, and the words in it that are not ours."""

import json
from collections import Counter
from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from advisor.knowledge import Knowledge
from advisor.library.moves.csv_rows import Sheet
from advisor.library.moves.import_columns import DATES, UNKNOWN, our_column, plain_names
from advisor.library.moves.mapping import ColumnMapping, spaced
from advisor.terms import Faulty, Place

LONGEST_WORD: Final = 100
"""Longer ones are no words but notes: they are counted, not listed."""
MOST_WORDS: Final = 30
"""Different texts of a column that are listed before it is mapped."""


def mapping_draft(sheet: Sheet, knowledge: Knowledge, mapping: ColumnMapping | None = None) -> str:
    """YAML. What is to be filled in is `""`; counts stand beside it as comments.

    mapping: what is known already. The words of the columns that it maps are listed under `words`.
    """
    mapping = ColumnMapping() if mapping is None else mapping
    ours = {header: _ours(header, knowledge, mapping) for header in sheet.header}
    lines = [
        "# Write one of our columns behind each of yours, or move yours under `leave`. Ours:",
        *wrap(
            ", ".join(plain_names(knowledge)), 96, initial_indent="#   ", subsequent_indent="#   "
        ),
        "# look-1 is the day of the first look after the repair. finding.ATTRIBUTE is any finding.",
        f"# dates: one of {', '.join(DATES)}.",
        "# A cause needs confirmed-how, a repair its day (done).",
        f"dates: {mapping.dates}",
        "columns:",
    ]
    for index, header in enumerate(sheet.header):
        if spaced(header) not in mapping.leave:
            texts = _texts(sheet, index)
            counts = f"{texts.total()} of {len(sheet.rows)} rows, {len(texts)} different"
            lines.append(f"  {_text(header)}: {_text(ours[header])}  # {counts}")
            if not ours[header] and len(texts) <= MOST_WORDS:
                lines += [f"    # {count} x {_text(word)}" for word, count in _listed(texts)]
    lines.append(f"leave: [{', '.join(_text(one) for one in sorted(mapping.leave))}]")
    for part, said in (("fixed", mapping.fixed), ("units", mapping.units)):
        lines.append(f"{part}:" if said else f"{part}: {{}}")
        lines += [f"  {_text(key)}: {_text(value)}" for key, value in said.items()]
    words = list(_words(sheet, knowledge, mapping, ours))
    return "\n".join([*lines, *(["words:", *words] if words else ["words: {}"])]) + "\n"


def _ours(header: str, knowledge: Knowledge, mapping: ColumnMapping) -> str:
    """What a column is mapped to, or its own name where that is one of ours."""
    if (mapped := mapping.columns.get(spaced(header))) is not None:
        return mapped
    try:
        return our_column(knowledge, header).name
    except Faulty:
        return ""


def _words(
    sheet: Sheet, knowledge: Knowledge, mapping: ColumnMapping, ours: dict[str, str]
) -> Iterator[str]:
    """The words of the mapping, and those that are neither ours nor in it."""
    for index, header in enumerate(sheet.header):
        name = ours[header]
        if not name or spaced(header) in mapping.leave:
            continue
        reader = mapping.reader(knowledge, name, index, header)
        for row in sheet.rows:
            if text := row.cells[index]:
                reader.read(text, Place(sheet.file, row.line, 1))
        known = [f"    {_text(theirs)}: {_text(word)}" for theirs, word in reader.words.items()]
        open_ = [f'    {_text(word)}: ""  # {n} x' for word, n in _listed(reader.unmatched)]
        longer = len(reader.unmatched) - len(open_)
        if known or open_ or longer:
            takes = reader.column.takes
            takes += "" if UNKNOWN in reader.column.known else ", unknown"
            yield f"  {name}:{'' if known or open_ else ' {}'}  # {takes}"
            yield from known
            yield from open_
        if longer:
            yield f"    # {longer} longer texts are no words: is this the right column?"


def _texts(sheet: Sheet, index: int) -> Counter[str]:
    return Counter(spaced(text) for row in sheet.rows if (text := row.cells[index]))


def _listed(texts: Counter[str]) -> list[tuple[str, int]]:
    return [(text, count) for text, count in texts.most_common() if len(text) <= LONGEST_WORD]


def _text(text: str) -> str:
    """In double quotes, as YAML and JSON both have them."""
    return json.dumps(text, ensure_ascii=False)
