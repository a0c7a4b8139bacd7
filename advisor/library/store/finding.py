"""Cases found again by what is told of them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, TypedDict

from sqlalchemy import ColumnElement, Connection, Row, Select, exists, func, select

from advisor.library.store.tables import bodies, cases, places, repairs
from advisor.terms import Faulty, Problem

_SHOWN = 5
_AFTER_HEX = "g"
"""The letter after the last of a token."""


class Wanted(TypedDict, total=False):
    """What a case must be like; what is left out may be anything.

    cause, status and method must be those of one and the same wet place; method: of any repair of
    it. quarter_from, quarter_to: as 2031-Q2, both included. words: each stands somewhere in the
    case, in any letters of A to Z, large or small.
    """

    kind: str | None
    cause: str | None
    method: str | None
    status: str | None
    quarter_from: str | None
    quarter_to: str | None
    origin: str | None
    words: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPlace:
    """A wet place as a list shows it. method: of the last repair."""

    place: int
    status: str
    cause: str | None
    method: str | None
    closed_because: str | None
    reopened: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A case as a list shows it. id: what `after` takes to go on behind it."""

    id: int
    case: str
    origin: str
    invented: bool
    kind: str
    quarter: str | None
    version: int
    places: tuple[FoundPlace, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundCases:
    """count: how many there are as wanted; cases: those that are shown."""

    count: int
    cases: tuple[Found, ...]


def find(
    connection: Connection, wanted: Wanted, *, limit: int, after: int | None
) -> tuple[Found, ...]:
    """At most `limit`, last added first. after: the id of the last one shown before."""
    c = cases.c
    columns = (c.id, c.token, c.origin, c.invented, c.kind, c.quarter, c.version)
    asked, at_place = _of_case(wanted), _at_place(wanted)
    if at_place is not None:
        case = at_place.selected_columns.case_id
        if not asked:  # then the first places, last added first, are those of the page
            if after is not None:
                at_place = at_place.where(case < after)
            at_place = at_place.distinct().order_by(case.desc()).limit(limit)
        asked.append(c.id.in_(at_place))
    if after is not None:
        asked.append(c.id < after)
    query = select(*columns).where(*asked).order_by(c.id.desc()).limit(limit)
    found = connection.execute(query).all()
    of_case = _places(connection, [row.id for row in found])
    return tuple(
        Found(
            id=row.id,
            case=row.token,
            origin=row.origin,
            invented=bool(row.invented),
            kind=row.kind,
            quarter=row.quarter,
            version=row.version,
            places=tuple(of_case.get(row.id, ())),
        )
        for row in found
    )


def count(connection: Connection, wanted: Wanted) -> int:
    """How many cases are as wanted."""
    asked, at_place = _of_case(wanted), _at_place(wanted)
    if at_place is None:
        query = select(func.count()).select_from(cases).where(*asked)
    elif not asked:
        query = select(func.count()).select_from(at_place.distinct().subquery())
    else:
        asked.append(cases.c.id.in_(at_place))
        query = select(func.count()).select_from(cases).where(*asked)
    return int(connection.execute(query).scalar_one())


def one(connection: Connection, beginning: str, *columns: ColumnElement[object]) -> Row[Any]:
    """The columns of the one case whose token begins so. Raises Faulty: there is none, or more."""
    spelt = beginning.strip().lower()
    query = (
        select(cases.c.token, *columns)
        .where(cases.c.token >= spelt, cases.c.token < spelt + _AFTER_HEX)
        .order_by(cases.c.token)
        .limit(_SHOWN)
    )
    found = connection.execute(query).all()
    if len(found) == 1:
        return found[0]
    if not found:
        message = f'no case of the library begins with "{beginning}"'
        raise Faulty(Problem(message=message, expected="the beginning of a case's token"))
    raise Faulty(
        Problem(
            message=f'more than one case begins with "{beginning}"',
            expected="more letters: " + ", ".join(row.token for row in found),
        )
    )


def places_of(connection: Connection, ids: Sequence[int]) -> dict[int, tuple[str, int]]:
    """For each id of a place the token of its case and its number there."""
    query = select(places.c.id, cases.c.token, places.c.place).join_from(places, cases)
    rows = connection.execute(query.where(places.c.id.in_(ids)))
    return {row.id: (row.token, row.place) for row in rows}


def _of_case(wanted: Wanted) -> list[ColumnElement[bool]]:
    """What is asked of the case itself."""
    c = cases.c
    found: list[ColumnElement[bool]] = []
    if (kind := wanted.get("kind")) is not None:
        found.append(c.kind == kind)
    if (origin := wanted.get("origin")) is not None:
        found.append(c.origin == origin)
    if (first := wanted.get("quarter_from")) is not None:
        found.append(c.quarter >= first)
    if (last := wanted.get("quarter_to")) is not None:
        found.append(c.quarter <= last)
    words = (wanted.get("words") or "").split()
    if words:
        contained = [bodies.c.body.contains(word, autoescape=True) for word in words]
        found.append(exists().where(bodies.c.case_id == c.id, *contained))
    return found


def _at_place(wanted: Wanted) -> Select[tuple[int]] | None:
    """The `case_id` of all wet places as wanted; None where any will do."""
    asked: list[ColumnElement[bool]] = []
    if (cause := wanted.get("cause")) is not None:
        asked.append(places.c.cause == cause)
    if (status := wanted.get("status")) is not None:
        asked.append(places.c.status == status)
    if (method := wanted.get("method")) is not None:
        if not asked:
            return select(repairs.c.case_id).where(repairs.c.method == method)
        asked.append(exists().where(repairs.c.place_id == places.c.id, repairs.c.method == method))
    return select(places.c.case_id).where(*asked) if asked else None


def _places(connection: Connection, ids: list[int]) -> dict[int, list[FoundPlace]]:
    p = places.c
    columns = (p.case_id, p.place, p.status, p.cause, p.method, p.closed_because, p.reopened)
    query = select(*columns).where(p.case_id.in_(ids)).order_by(p.case_id, p.id)
    found: dict[int, list[FoundPlace]] = {}
    for row in connection.execute(query):
        place = FoundPlace(
            place=row.place,
            status=row.status,
            cause=row.cause,
            method=row.method,
            closed_because=row.closed_because,
            reopened=bool(row.reopened),
        )
        found.setdefault(row.case_id, []).append(place)
    return found
