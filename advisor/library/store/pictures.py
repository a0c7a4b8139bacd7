"""Photos of wet places in the tables: pixels beside a case, under no name. No export holds them."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sqlalchemy import Connection, Select, delete, insert, select

from advisor.library.store.tables import photos, places

Pictures = Mapping[int, tuple[bytes, ...]]
"""The photos of a case as PNG or JPEG, by the number of the wet place."""
Photos = Mapping[str, Pictures]
"""By the token of the case."""

_PNG: Final = b"\x89PNG"


def pictures_of(connection: Connection, case_id: int) -> dict[int, tuple[bytes, ...]]:
    """Of the wet places that have any."""
    found: dict[int, tuple[bytes, ...]] = {}
    for row in connection.execute(_those(case_id)):
        found[row.place] = (*found.get(row.place, ()), row.picture)
    return found


def replace_pictures(connection: Connection, case_id: int, pictures: Pictures) -> bool:
    """Whether anything was changed: these are the case's photos now, and no others.

    What is said of a place that the case does not have is passed over.
    """
    query = select(places.c.place, places.c.id).where(places.c.case_id == case_id)
    ids = {row.place: row.id for row in connection.execute(query)}
    wanted = {place: pictures[place] for place in sorted(ids) if pictures.get(place)}
    if pictures_of(connection, case_id) == wanted:
        return False
    connection.execute(delete(photos).where(photos.c.place_id.in_(ids.values())))
    if rows := list(_rows(wanted, ids)):
        connection.execute(insert(photos), rows)
    return True


def ending_of(picture: bytes) -> str:
    """`png` or `jpg`."""
    return "png" if picture.startswith(_PNG) else "jpg"


def _those(case_id: int) -> Select[Any]:
    query = select(places.c.place, photos.c.picture).join_from(photos, places)
    query = query.where(places.c.case_id == case_id)
    return query.order_by(places.c.place, photos.c.number)


def _rows(pictures: Pictures, ids: Mapping[int, int]) -> Iterator[dict[str, object]]:
    for place, those in pictures.items():
        for number, picture in enumerate(those, 1):
            yield {
                "place_id": ids[place],
                "number": number,
                "ending": ending_of(picture),
                "picture": picture,
            }
