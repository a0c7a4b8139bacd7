"""Cases written to the tables, many at a time."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, delete, insert, select, update

from advisor.library.case import KeptCase, KeptPlace
from advisor.library.rows import Row, body_of, case_row, checksum_of, place_row, repair_rows
from advisor.library.tables import cases, earlier, places, repairs
from advisor.terms import Faults, Problem

Pack = Callable[[KeptPlace], bytes]
"""The findings of a place as bytes, for comparing it with others."""

_AT_ONCE = 400
"""Cases of one statement."""


@dataclass(frozen=True, slots=True)
class Added:
    """How many cases were new, replaced a former form of themselves, or were there already."""

    new: int = 0
    replaced: int = 0
    same: int = 0

    def __add__(self, other: "Added") -> "Added":
        return Added(self.new + other.new, self.replaced + other.replaced, self.same + other.same)


def add(connection: Connection, given: Iterable[KeptCase], pack: Pack, *, invented: bool) -> Added:
    """Write them in the transaction of the connection. invented: what the library takes.

    Raises Faulty where a case does not belong into this library: nothing is to be committed then.
    """
    added = Added()
    for several in _chunks(given):
        refused = Faults()
        for case in several:
            if (problem := refusal(case, invented=invented)) is not None:
                refused.add(problem)
        refused.stop()
        added += _add_distinct(connection, several, pack)
    return added


def refusal(case: KeptCase, *, invented: bool) -> Problem | None:
    """Why a case does not belong into a library that takes invented ones only, or none."""
    if case.invented == invented:
        return None
    if invented:
        message = "a real case; this is a demonstration library, all in it is invented"
        return Problem(message=message, key=case.case, expected="your own library for real cases")
    message = "an invented case; your own library takes real ones only"
    return Problem(message=message, key=case.case, expected="a demonstration library for it")


def _chunks(given: Iterable[KeptCase]) -> Iterator[list[KeptCase]]:
    """Several cases at a time, no token twice among them."""
    several: dict[str, KeptCase] = {}
    for case in given:
        if len(several) == _AT_ONCE or case.case in several:
            yield list(several.values())
            several = {}
        several[case.case] = case
    if several:
        yield list(several.values())


def _add_distinct(connection: Connection, several: list[KeptCase], pack: Pack) -> Added:
    tokens = [case.case for case in several]
    columns = (cases.c.token, cases.c.checksum)
    there = {row.token: row.checksum for row in connection.execute(_with(tokens, *columns))}
    new: list[Row] = []
    replaced: list[Row] = []
    changed: list[KeptCase] = []
    for case in several:
        body = body_of(case)
        checksum = checksum_of(body)
        if there.get(case.case) == checksum:
            continue
        row = case_row(case, body, checksum)
        (replaced if case.case in there else new).append(row)
        changed.append(case)
    if new:
        connection.execute(insert(cases), [{**row, "version": 1} for row in new])
    for row in replaced:
        _replace(connection, row)
    if changed:
        _add_places(connection, changed, pack)
    return Added(len(new), len(replaced), len(several) - len(changed))


def _replace(connection: Connection, row: Row) -> None:
    """The former body is kept; its places go, with their repairs."""
    kept = (cases.c.id, cases.c.version, cases.c.checksum, cases.c.body)
    former = connection.execute(_with([row["token"]], *kept)).one()
    connection.execute(
        insert(earlier).values(
            case_id=former.id,
            version=former.version,
            checksum=former.checksum,
            body=former.body,
        )
    )
    connection.execute(delete(places).where(places.c.case_id == former.id))
    connection.execute(
        update(cases).where(cases.c.id == former.id).values(**row, version=former.version + 1)
    )


def _add_places(connection: Connection, changed: list[KeptCase], pack: Pack) -> None:
    tokens = [case.case for case in changed]
    ids = {
        row.token: row.id for row in connection.execute(_with(tokens, cases.c.token, cases.c.id))
    }
    rows = [
        {**place_row(place), "case_id": ids[case.case], "packed": pack(place)}
        for case in changed
        for place in case.places
    ]
    if not rows:
        return
    connection.execute(insert(places), rows)
    found = connection.execute(
        select(places.c.id, places.c.case_id, places.c.place)
        .where(places.c.case_id.in_(ids.values()))
        .order_by(places.c.case_id, places.c.id)
    )
    # Places of one case stand in the order in which they were given.
    of_case: dict[int, list[int]] = {}
    for row in found:
        of_case.setdefault(row.case_id, []).append(row.id)
    done = [
        {**row, "place_id": number}
        for case in changed
        for number, place in zip(of_case.get(ids[case.case], ()), case.places, strict=True)
        for row in repair_rows(place)
    ]
    if done:
        connection.execute(insert(repairs), done)


def _with(tokens: list[str], *columns: ColumnElement[Any]) -> Select[Any]:
    return select(*columns).where(cases.c.token.in_(tokens))
