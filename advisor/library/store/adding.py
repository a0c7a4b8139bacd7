"""Cases written to the tables, many at a time."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Select, bindparam, delete, insert, select, update

from advisor.library.body import body_of, checksum_of
from advisor.library.case import KeptCase, KeptPlace
from advisor.library.store.pictures import Photos, Pictures, pictures_of, replace_pictures
from advisor.library.store.rows import Row, case_row, place_row, repair_rows
from advisor.library.store.tables import about, bodies, cases, earlier, places, repairs
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


def add(
    connection: Connection,
    given: Iterable[KeptCase],
    pack: Pack,
    *,
    invented: bool,
    photos: Photos | None = None,
) -> Added:
    """Write them in the transaction of the connection. invented: what the library takes.

    photos: of the cases that have any; None: nothing is said of photos, and those of a case that
    is there with the same content stay.

    Raises Faulty where a case does not belong into this library: nothing is to be committed then.
    """
    added = Added()
    for several in _chunks(given):
        refused = Faults()
        for case in several:
            if (problem := refusal(case, invented=invented)) is not None:
                refused.add(problem)
        refused.stop()
        added += _add_distinct(connection, several, pack, photos)
    return added


def pack_anew(connection: Connection, form: str, pack: Pack) -> int:
    """Pack the findings of every place again, where they are packed in another form. How many."""
    if connection.execute(select(about.c.packed_as)).scalar_one() == form:
        return 0
    rows = connection.execute(select(bodies.c.case_id, bodies.c.body)).all()
    put = update(places).where(
        places.c.case_id == bindparam("of_case"), places.c.place == bindparam("number")
    )
    told = [
        {"of_case": case_id, "number": place.place, "packed": pack(place)}
        for case_id, body in rows
        for place in KeptCase.model_validate_json(body).places
    ]
    if told:
        connection.execute(put.values(packed=bindparam("packed")), told)
    connection.execute(update(about).values(packed_as=form))
    return len(told)


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


def _add_distinct(
    connection: Connection, several: list[KeptCase], pack: Pack, photos: Photos | None
) -> Added:
    there = {row.token: row for row in connection.execute(_those(several))}
    new: list[Row] = []
    replaced: list[Row] = []
    changed: list[tuple[KeptCase, str]] = []
    labels = _labels_of(connection, [case for case in several if not case.labels])
    for given in several:
        # An import brings no labels: those that are there stay.
        kept = {"labels": labels[given.case]} if given.case in labels else {}
        case = given.model_copy(update=kept) if kept else given
        body = body_of(case)
        row = case_row(case, checksum_of(body))
        former = there.get(case.case)
        if former is None:
            new.append({**row, "version": 1})
        elif former.checksum != row["checksum"]:
            replaced.append({**row, "version": former.version + 1})
        else:
            continue
        changed.append((case, body))
    of_before: dict[str, Pictures] = {}
    for row in replaced:
        number = there[row["token"]].id
        if photos is None and (there_now := pictures_of(connection, number)):
            of_before[row["token"]] = there_now
        _replace(connection, number, row)
    if new:
        connection.execute(insert(cases), new)
    if changed:
        _add_parts(connection, changed, pack)
    for token, pictures in of_before.items():
        replace_pictures(connection, there[token].id, pictures)
    other_photos = _add_photos(connection, several, photos) - {case.case for case, _ in changed}
    same = len(several) - len(changed) - len(other_photos)
    return Added(len(new), len(replaced) + len(other_photos), same)


def _labels_of(connection: Connection, several: list[KeptCase]) -> dict[str, dict[str, str]]:
    """The labels of those of the cases that are there and have any."""
    if not several:
        return {}
    query = select(bodies.c.body).join_from(bodies, cases)
    rows = connection.execute(query.where(cases.c.token.in_([case.case for case in several])))
    there = (KeptCase.model_validate_json(body) for (body,) in rows)
    return {case.case: dict(case.labels) for case in there if case.labels}


def _add_photos(
    connection: Connection, several: list[KeptCase], photos: Photos | None
) -> frozenset[str]:
    """The tokens of the cases that have other photos now. A form of a case has no history of them.

    The body is the same: the case has no new version.
    """
    if photos is None:
        return frozenset()
    return frozenset(
        row.token
        for row in connection.execute(_those(several)).all()
        if replace_pictures(connection, row.id, photos.get(row.token, {}))
    )


def _replace(connection: Connection, number: int, row: Row) -> None:
    """The former body goes to `earlier`; its places go, with their repairs."""
    former = select(bodies.c.case_id, cases.c.version, cases.c.checksum, bodies.c.body)
    former = former.join_from(cases, bodies).where(cases.c.id == number)
    kept = ["case_id", "version", "checksum", "body"]
    connection.execute(insert(earlier).from_select(kept, former))
    connection.execute(delete(places).where(places.c.case_id == number))
    connection.execute(delete(bodies).where(bodies.c.case_id == number))
    connection.execute(update(cases).where(cases.c.id == number).values(**row))


def _add_parts(connection: Connection, changed: list[tuple[KeptCase, str]], pack: Pack) -> None:
    """The bodies, places and repairs of cases that stand in `cases` already."""
    found = connection.execute(_those([case for case, _ in changed]))
    by_token = {row.token: row.id for row in found}
    ids = {case.case: by_token[case.case] for case, _ in changed}
    told = [{"case_id": ids[case.case], "body": body} for case, body in changed]
    connection.execute(insert(bodies), told)
    all_places = [(ids[case.case], place) for case, _ in changed for place in case.places]
    rows = [{**place_row(one), "case_id": case, "packed": pack(one)} for case, one in all_places]
    if rows:
        connection.execute(insert(places), rows)
    made = _places_of(connection, ids.values())
    done = [
        {**row, "case_id": case, "place_id": number}
        for (case, place), number in zip(all_places, made, strict=True)
        for row in repair_rows(place)
    ]
    if done:
        connection.execute(insert(repairs), done)


def _places_of(connection: Connection, ids: Collection[int]) -> list[int]:
    """The places of cases, in the order of `ids`; those of one case as they were given."""
    query = select(places.c.case_id, places.c.id).where(places.c.case_id.in_(ids))
    found: dict[int, list[int]] = {case: [] for case in ids}
    for row in connection.execute(query.order_by(places.c.id)):
        found[row.case_id].append(row.id)
    return [number for numbers in found.values() for number in numbers]


def _those(several: list[KeptCase]) -> Select[Any]:
    """The rows of these cases, as far as they are there."""
    tokens = [case.case for case in several]
    return select(cases.c.id, cases.c.token, cases.c.version, cases.c.checksum).where(
        cases.c.token.in_(tokens)
    )
