"""Cases as CSV, one row a wet place: to be read in a spreadsheet, and read back by `csv_in`.

Several of a kind stand in one cell with `; ` between them: repairs, oldest first, and what
belongs to each in the same order. A look is `DAYS:STATE:WATER-UP`, days after the repair before
it, with `:within` or `:not-within` behind where that was told. Looks before the first repair have
negative days; without a repair they count from the first visit. Labels never leave the library.
"""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from advisor.callout.log_record import is_after
from advisor.library.case import Done, KeptCase, KeptFinding, KeptPlace, Looked
from advisor.library.repairs import spans
from advisor.library.store.rows import place_row

MARK: Final = "library-format"
"""Header of the first column: by it the file is known as the library's own."""
CSV_FORMAT: Final = 1
COLUMNS: Final = (
    *(MARK, "case", "place", "origin", "invented", "quarter", "kind", "status", "visits"),
    *("first-shown", "first-confidence", "cause", "confirmed-how", "confirmed-day"),
    *("contributors", "method", "done-day", "looks-after", "held-days", "failed-day"),
    *("closed-because", "closed-day", "reopened", "findings"),
)
BETWEEN: Final = "; "
WITHIN: Final = {True: "within", False: "not-within"}
UNSURE: Final = " (unsure)"
NOT_APPLICABLE: Final = "not-applicable"

_RUNS: Final = ("=", "+", "-", "@", "\t", "\r")
_APOSTROPHE: Final = "'"


def csv_lines(cases: Iterable[KeptCase]) -> Iterator[str]:
    """The lines of the file, header first, each with its line end; one case in memory at a time."""
    yield _line(COLUMNS)
    for case in cases:
        for place in case.places:
            cells = _cells(case, place)
            yield _line([inert(cells[name]) for name in COLUMNS])


def inert(text: str) -> str:
    """A text that a spreadsheet shows and does not run. One that looks so already is marked too."""
    bare = text.lstrip(_APOSTROPHE)
    return _APOSTROPHE + text if bare.startswith(_RUNS) else text


def told(text: str) -> str:
    """What `inert` was given."""
    bare = text.lstrip(_APOSTROPHE)
    return text[1:] if bare != text and bare.startswith(_RUNS) else text


def _line(cells: Sequence[str]) -> str:
    stream = io.StringIO()
    csv.writer(stream).writerow(cells)
    return stream.getvalue()


def _cells(case: KeptCase, place: KeptPlace) -> dict[str, str]:
    row = place_row(place)
    done = sorted(place.done, key=lambda one: one.day)
    held = spans(place)
    confirmed, closed = place.confirmed, place.closed
    failed = ["none" if one.failed is None else str(one.failed) for one in held]
    confidence = row["shown_confidence"]
    return {
        MARK: str(CSV_FORMAT),
        "case": case.case,
        "place": str(place.place),
        "origin": case.origin,
        "invented": _yes_no(case.invented),
        "quarter": case.quarter or "",
        "kind": case.kind,
        "status": place.status,
        "visits": str(case.visits),
        "first-shown": row["shown_best"] or "",
        "first-confidence": "" if confidence is None else f"{confidence:.3f}",
        "cause": confirmed.cause if confirmed else "",
        "confirmed-how": confirmed.how if confirmed else "",
        "confirmed-day": str(confirmed.day) if confirmed else "",
        "contributors": BETWEEN.join(confirmed.contributors) if confirmed else "",
        "method": BETWEEN.join(one.method for one in done),
        "done-day": BETWEEN.join(str(one.day) for one in done),
        "looks-after": BETWEEN.join(_looks(done, place.looked)),
        "held-days": BETWEEN.join(str(one.held) for one in held),
        "failed-day": "" if set(failed) <= {"none"} else BETWEEN.join(failed),
        "closed-because": closed.because if closed else "",
        "closed-day": str(closed.day) if closed else "",
        "reopened": _yes_no(place.reopened),
        "findings": BETWEEN.join(f"{key}={_said(one)}" for key, one in place.findings.items()),
    }


def _looks(done: Sequence[Done], looked: Iterable[Looked]) -> list[str]:
    """For each repair the looks after it, in one text; one text where there was no repair."""
    days = [one.day for one in done] or [0]
    found: list[list[str]] = [[] for _ in days]
    for look in sorted(looked, key=lambda one: one.day):
        number = max(sum(is_after(look.day, day, look.proof) for day in days) - 1, 0)
        parts = [str(look.day - days[number]), look.state, look.water_up]
        parts += [] if look.within is None else [WITHIN[look.within]]
        found[number].append(":".join(parts))
    texts = [" ".join(looks) for looks in found]
    return texts if any(texts) else []


def _said(finding: KeptFinding) -> str:
    value = NOT_APPLICABLE if finding.value is None else finding.value
    return value if finding.sure else value + UNSURE


def _yes_no(told: bool) -> str:
    return "yes" if told else "no"
