"""A row of an imported table as a wet place: what is missing in it, and what it says.

What a row says stands by our column. No entry: nothing was told; None: it is told as unknown.
Days count from the first visit of the case; where no day of a visit is told, from the first day
that is. A cause without a day was confirmed on the first visit, a closing came on the last day.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Any, Final, NamedTuple, get_args

from advisor.callout.log_record import How, State, WaterUp
from advisor.callout.status import Status
from advisor.library.case import Closed, Confirmed, Done, KeptPlace, Looked
from advisor.library.moves.import_columns import DATED, LAST_DAY, LOOKS
from advisor.library.moves.own_export import LookAfter
from advisor.terms import one_of

Said = Mapping[str, Any]

CLOSED: Final = "closed"
FINDINGS: Final = "findings"
"""Where all findings of a row stand, whatever column they came from."""


class Complaint(NamedTuple):
    """Why a row is not taken. column: ours."""

    column: str
    message: str
    expected: str | None = None


def first_day(rows: Iterable[Said]) -> date | None:
    """The day of the first visit of a case; else the first day that is told."""
    told = list(rows)
    visits = [row["date"] for row in told if row.get("date")]
    return min(visits or [day for row in told for _, day in _dates(row)], default=None)


def quarter_of(day: date | None) -> str | None:
    """`2031-Q2`: all that is kept of a date."""
    return None if day is None else f"{day.year:04d}-Q{(day.month + 2) // 3}"


def complaints(said: Said, *, own: bool) -> Iterator[Complaint]:
    """What keeps a row from being taken: parts that say nothing without another, and days that
    cannot be. own: the library wrote it; then its days are as they are."""
    if said.get("cause") and "confirmed-how" not in said:
        expected = one_of(get_args(How))
        yield Complaint("confirmed-how", "how the cause was confirmed is missing", expected)
    if said.get("contributors") and "cause" not in said:
        yield Complaint("contributors", "contributors without a cause", "a cause, or unknown")
    yield from _of_repairs(said)
    if not own:
        yield from _of_looks(said)
        yield from _of_closing(said)
        yield from _of_days(said)


def kept_place(said: Said, first: date | None) -> KeptPlace:
    """first: what days count from. Raises ValueError for a day that no case can hold.

    The row is one without complaints.
    """
    days = _days_of_repairs(said, first)
    done = tuple(
        Done(day=day, method=method)
        for method, day in zip(said.get("method") or (), days, strict=False)
    )
    looked = sorted((*_looks(said, first), *_looks_after(said, done)), key=lambda look: look.day)
    confirmed = _confirmed(said, first)
    told = [*(one.day for one in done), *(look.day for look in looked)]
    told += [confirmed.day] if confirmed else []
    because = said.get("closed-because")
    closed = because and Closed(
        day=_day(said, CLOSED, first, max(told, default=0)), because=because
    )
    return KeptPlace(
        place=said.get("place") or 1,
        status=said.get("status") or _status(said),
        reopened=said.get("reopened", said.get("status") == "reopened") or False,
        findings=said.get(FINDINGS) or {},
        done=done,
        confirmed=confirmed,
        looked=tuple(looked),
        closed=closed or None,
    )


def _of_repairs(said: Said) -> Iterator[Complaint]:
    methods, days = said.get("method"), _days_told(said)
    if days and "method" not in said:
        yield Complaint("method", "a repair without its method", "a method, or unknown")
    if methods and len(methods) != days:
        day = "done-day" if "done-day" in said else "done"
        message = f"methods: {len(methods)}, days of repair: {days}"
        yield Complaint(day, message, "one day for each repair")
    groups = len(said.get("looks-after") or ())
    if groups > max(days, 1):
        message = f"looks after {groups} repairs, days of repair: {days}"
        yield Complaint("looks-after", message, "one part for each repair")


def _of_looks(said: Said) -> Iterator[Complaint]:
    for look in LOOKS:
        state = f"{look}-state"
        if said.get(look) and state not in said:
            yield Complaint(state, "a look without what it showed", one_of(get_args(State)))
        if said.get(state) and not said.get(look):
            yield Complaint(look, "a look without its day", "a date")


def _of_closing(said: Said) -> Iterator[Complaint]:
    because, status = said.get("closed-because"), said.get("status")
    if because and status and status != CLOSED:
        yield Complaint("status", f"{status}, with a reason for closing", CLOSED)
    elif not because and (status == CLOSED or said.get(CLOSED) or "closed-day" in said):
        yield Complaint("closed-because", "closed, and why is missing", "a reason")


def _of_days(said: Said) -> Iterator[Complaint]:
    dates = dict(_dates(said))
    first = first_day([said])
    numbered = any(said.get(f"{name}-day") for name in ("done", "confirmed", CLOSED))
    if dates and numbered and not said.get("date"):
        yield Complaint("date", "days that count from the first visit, and no date of it", "a date")
        return
    for name, day in dates.items():
        after = (day - first).days if first else 0
        if after < 0:
            yield Complaint(name, f"{-after} days before the first visit", "a later day")
        elif after > LAST_DAY:
            yield Complaint(name, f"{after} days after the first visit", f"at most {LAST_DAY}")
    repaired = min(_days_of_repairs(said, first), default=None)
    for name in (*LOOKS, CLOSED) if repaired is not None else ():
        day_of_it = _day(said, name, first, repaired)
        if day_of_it < repaired:
            message = f"{repaired - day_of_it} days before the repair"
            yield Complaint(name, message, "a day after it")


def _dates(said: Said) -> Iterator[tuple[str, date]]:
    for name in DATED:
        if day := said.get(name):
            yield name, day


def _day(said: Said, name: str, first: date | None, without: Any) -> Any:
    """Of a date the days from the first visit, or the number of days that is told."""
    if (day := said.get(name)) and first:
        return (day - first).days
    number = said.get(f"{name}-day")
    return without if number is None else number


def _days_told(said: Said) -> int:
    return 1 if said.get("done") else len(said.get("done-day") or ())


def _days_of_repairs(said: Said, first: date | None) -> tuple[int, ...]:
    if (day := said.get("done")) and first:
        return ((day - first).days,)
    return said.get("done-day") or ()


def _looks(said: Said, first: date | None) -> Iterator[Looked]:
    for look in LOOKS:
        if said.get(look) and (state := said.get(f"{look}-state")):
            water_up: WaterUp = said.get(f"{look}-water-up") or "unknown"
            yield Looked(day=_day(said, look, first, 0), state=state, water_up=water_up)


def _looks_after(said: Said, done: tuple[Done, ...]) -> Iterator[Looked]:
    groups: tuple[tuple[LookAfter, ...], ...] = said.get("looks-after") or ()
    days = [one.day for one in done] or [0]
    for day, group in zip(days, groups, strict=False):
        for look in group:
            yield Looked(
                day=day + look.after,
                state=look.state,
                water_up=look.water_up,
                within=look.within,
            )


def _confirmed(said: Said, first: date | None) -> Confirmed | None:
    """None where the cause, or how it was confirmed, is unknown."""
    cause, how = said.get("cause"), said.get("confirmed-how")
    if not (cause and how):
        return None
    day = _day(said, "confirmed", first, 0)
    return Confirmed(day=day, cause=cause, how=how, contributors=said.get("contributors") or ())


def _status(said: Said) -> Status:
    """As far as the furthest thing that is told."""
    if said.get("closed-because"):
        return "closed"
    if said.get("method"):
        return "watching" if any(said.get(look) for look in LOOKS) else "repaired"
    if said.get("cause") and said.get("confirmed-how"):
        return "cause-confirmed"
    return "looked-at" if said.get(FINDINGS) else "reported"
