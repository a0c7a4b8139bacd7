"""How long a case is kept: held for a dispute, or erased for good."""

from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, delete, insert, select, update

from advisor.library.store.finding import one
from advisor.library.store.tables import about, cases, erased, holds
from advisor.terms import Faulty, Problem


@dataclass(frozen=True, slots=True)
class Hold:
    """Why a case may not be erased. review: the day to look whether it still has to be held."""

    case: str
    who: str
    why: str
    review: date


@dataclass(frozen=True, slots=True)
class Forgotten:
    """copies: names of the copies of the library that were deleted, for the case was in them."""

    case: str
    copies: tuple[str, ...]


def hold(connection: Connection, beginning: str, *, who: str, why: str, review: date) -> str:
    """The token of the case held. Raises Faulty: no such case, held already, nothing said."""
    missing = [name for name, text in (("who", who), ("why", why)) if not text.strip()]
    if missing:
        expected = "who holds the case, and why"
        raise Faulty(
            [Problem(message="nothing is said", key=key, expected=expected) for key in missing]
        )
    case = one(connection, beginning, cases.c.id)
    if there := _hold_of(connection, case.token):
        raise Faulty(_held(there, "lift that hold first"))
    connection.execute(
        insert(holds).values(
            case_id=case.id, who=who.strip(), why=why.strip(), review=review.isoformat()
        )
    )
    return str(case.token)


def lift(connection: Connection, beginning: str) -> Hold:
    """The hold that was lifted. Raises Faulty: no such case, or it is not held."""
    case = one(connection, beginning, cases.c.id)
    there = _hold_of(connection, case.token)
    if there is None:
        raise Faulty(Problem(message="this case is not held", key=case.token))
    connection.execute(delete(holds).where(holds.c.case_id == case.id))
    return there


def all_holds(connection: Connection) -> tuple[Hold, ...]:
    """The one to be looked at first comes first."""
    h = holds.c
    query = select(cases.c.token, h.who, h.why, h.review).join_from(holds, cases)
    rows = connection.execute(query.order_by(h.review, h.id))
    return tuple(Hold(r.token, r.who, r.why, date.fromisoformat(r.review)) for r in rows)


def erase(connection: Connection, beginning: str, day: date) -> str:
    """The token of the case erased: its places, repairs and earlier bodies go with it, and the
    files are to be rinsed. Raises Faulty: no such case, or it is held."""
    case = one(connection, beginning, cases.c.id)
    if there := _hold_of(connection, case.token):
        raise Faulty(_held(there, "it may be erased once the hold is lifted"))
    connection.execute(delete(cases).where(cases.c.id == case.id))
    same_day = erased.c.day == day.isoformat()
    counted = connection.execute(update(erased).where(same_day).values(count=erased.c.count + 1))
    if not counted.rowcount:
        connection.execute(insert(erased).values(day=day.isoformat(), count=1))
    connection.execute(update(about).values(rinse=1))
    return str(case.token)


def erased_by_day(connection: Connection) -> dict[date, int]:
    """How many cases were erased on each day; nothing else is known of them."""
    rows = connection.execute(select(erased.c.day, erased.c.count).order_by(erased.c.day))
    return {date.fromisoformat(day): int(number) for day, number in rows}


def _hold_of(connection: Connection, token: str) -> Hold | None:
    return next((one for one in all_holds(connection) if one.case == token), None)


def _held(there: Hold, what_then: str) -> Problem:
    message = f"{there.who} holds this case: {there.why}; review on {there.review}; {what_then}"
    return Problem(message=message, key=there.case)
