"""A library: cases in a database, opened, filled, read, and erased from.

What is acknowledged is committed: a call that returns has written; one that raises has not.
"""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Unpack

from sqlalchemy import Connection, Engine, insert, select, update

from advisor.library.alike.packed import PackedPlaces
from advisor.library.body import checksum_of
from advisor.library.case import KeptCase
from advisor.library.store import adding, finding, keeping, sqlite
from advisor.library.store.adding import Added, Pack
from advisor.library.store.columns import Columns, columns, packed
from advisor.library.store.failures import LibraryFailed, clearly, damaged
from advisor.library.store.finding import Found, Wanted
from advisor.library.store.keeping import Forgotten, Hold
from advisor.library.store.opening import engine_for
from advisor.library.store.pictures import Photos, pictures_of
from advisor.library.store.tables import about, bodies, cases, earlier, names, places
from advisor.terms import Problem

_AT_ONCE = 500


def open_library(path: Path, *, invented: bool = False, wait: float = 5.0) -> "Library":
    """The library in a file; it is made where there is none, and brought up to date.

    invented: a new one is a demonstration. wait: seconds to wait for other programs.
    Raises LibraryFailed.
    """
    path = path.absolute()
    engine = engine_for(path, invented=invented, wait=wait)
    try:
        library = Library(engine, path)
        library.rinse_if_due()
    except BaseException:
        engine.dispose()
        raise
    return library


class Library:
    """For one thread at a time. Raises LibraryFailed where the database or the disk fails."""

    def __init__(self, engine: Engine, path: Path) -> None:
        self._engine = engine
        self.path = path
        self._writing_now: Connection | None = None
        self._names: dict[str, int] = {}
        with self._reading() as connection:
            self.invented = bool(connection.execute(select(about.c.invented)).scalar_one())

    def __enter__(self) -> "Library":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        self._engine.dispose()

    # Written

    def add(self, given: Iterable[KeptCase], pack: Pack, photos: Photos | None = None) -> Added:
        """All of them or none. A case that is there with the same content is left alone, one with
        other content is replaced and its former body kept.

        pack: its bytes are stored with each place; it may call `names_for`.
        photos: token -> number of the place -> PNG or JPEG without metadata; other photos than
        before replace a case too. None: those of a case with the same content stay.
        Raises Faulty where a case does not belong here, see `refusal`.
        """
        with self._writing() as connection:
            return adding.add(connection, given, pack, invented=self.invented, photos=photos)

    def pack_as(self, form: str, pack: Pack) -> int:
        """Pack the findings of all places again where the library has them in another form, as
        after a change of the knowledge; how many."""
        with self._reading() as connection:
            if connection.execute(select(about.c.packed_as)).scalar_one() == form:
                return 0
        with self._writing() as connection:
            return adding.pack_anew(connection, form, pack)

    def refusal(self, case: KeptCase) -> Problem | None:
        """Why a case does not belong into this library; None where it does."""
        return adding.refusal(case, invented=self.invented)

    def names_for(self, wanted: Sequence[str]) -> dict[str, int]:
        """The number of each name; new names get one, within an `add` in its transaction."""
        if any(name not in self._names for name in wanted):
            if self._writing_now is None:
                with self._writing():
                    return self.names_for(wanted)
            self._number(self._writing_now, wanted)
        return {name: self._names[name] for name in wanted}

    def hold(self, beginning: str, *, who: str, why: str, review: date) -> str:
        """Keep a case from being erased; its token. Raises Faulty: no such case, or held."""
        with self._writing() as connection:
            return keeping.hold(connection, beginning, who=who, why=why, review=review)

    def lift(self, beginning: str) -> Hold:
        """End a hold. Raises Faulty: no such case, or it is not held."""
        with self._writing() as connection:
            return keeping.lift(connection, beginning)

    def forget(self, beginning: str, day: date) -> Forgotten:
        """Erase a case and every trace of it in the library's files; copies made before a change
        of version are deleted. Takes seconds in a large library, for the file is written anew.
        Raises Faulty: no such case, or it is held."""
        with self._writing() as connection:
            token = keeping.erase(connection, beginning, day)
        try:
            return Forgotten(token, self._rinse())
        except LibraryFailed as failed:
            raise LibraryFailed(
                self.path,
                f"the case is erased, but traces may be left in the files: {failed.message}",
                f"{failed.do}; the rest is done when the library is opened next",
            ) from failed

    def rinse_if_due(self) -> None:
        """Finish what `forget` could not. Others may be reading: then the next one does it."""
        with self._reading() as connection:
            due = connection.execute(select(about.c.rinse)).scalar_one()
        if due:
            try:
                self._rinse()
            except LibraryFailed:
                return

    # Read

    def find(
        self, *, limit: int = 20, after: int | None = None, **wanted: Unpack[Wanted]
    ) -> tuple[Found, ...]:
        """At most `limit`, last added first. after: the id of the last one shown before."""
        with self._reading() as connection:
            return finding.find(connection, wanted, limit=limit, after=after)

    def count(self, **wanted: Unpack[Wanted]) -> int:
        """How many cases are as wanted."""
        with self._reading() as connection:
            return finding.count(connection, wanted)

    def show(self, beginning: str) -> KeptCase:
        """The one case whose token begins so. Raises Faulty: there is none, or more."""
        return self.history(beginning)[-1]

    def origin_of(self, token: str) -> str | None:
        """How the case of that token came to be known; None where it is not there."""
        query = select(cases.c.origin).where(cases.c.token == token)
        with self._reading() as connection:
            return connection.execute(query).scalar_one_or_none()

    def history(self, beginning: str) -> tuple[KeptCase, ...]:
        """All forms the case has had, oldest first; the last is what it is now."""
        with self._reading() as connection:
            now = finding.one(connection, beginning, cases.c.id, cases.c.checksum)
            body = select(bodies.c.body).where(bodies.c.case_id == now.id)
            latest = (connection.execute(body).scalar_one(), now.checksum)
            former = select(earlier.c.body, earlier.c.checksum).where(earlier.c.case_id == now.id)
            rows = connection.execute(former.order_by(earlier.c.version)).all()
        forms = [self._whole(body, checksum) for body, checksum in (*rows, latest)]
        return tuple(KeptCase.model_validate_json(body) for body in forms)

    def photos(self, beginning: str) -> dict[int, tuple[bytes, ...]]:
        """The photos of one case, by the number of the place. Raises Faulty as `show` does."""
        with self._reading() as connection:
            return pictures_of(connection, finding.one(connection, beginning, cases.c.id).id)

    def bodies(self) -> Iterator[str]:
        """All cases as lines of JSON, in the order in which they were first added; a few at a time
        are in memory. What is written meanwhile is not among them."""
        query = select(bodies.c.body, cases.c.checksum).join_from(cases, bodies)
        with self._reading() as connection:
            streamed = connection.execution_options(yield_per=_AT_ONCE).execute(
                query.order_by(cases.c.id)
            )
            for body, checksum in streamed:
                yield self._whole(body, checksum)

    def columns(self) -> Columns:
        """All places and repairs, for counting."""
        with self._reading() as connection:
            return columns(connection)

    def packed(self) -> PackedPlaces:
        """What `pack` made of each place, in the order of `columns`."""
        with self._reading() as connection:
            return packed(connection)

    def places_of(self, ids: Sequence[int]) -> dict[int, tuple[str, int]]:
        """The token of its case and its number there, for each `place_id` of `columns`."""
        with self._reading() as connection:
            return finding.places_of(connection, ids)

    def ids_of(self, token: str) -> list[int]:
        """The `place_id` of each place of a case; none where it is not there."""
        query = select(places.c.id).join_from(places, cases).where(cases.c.token == token)
        with self._reading() as connection:
            return [int(number) for number in connection.execute(query).scalars()]

    def names(self) -> dict[str, int]:
        """All names that have a number."""
        with self._reading() as connection:
            return _names(connection)

    def holds(self) -> tuple[Hold, ...]:
        """The one to be looked at first comes first."""
        with self._reading() as connection:
            return keeping.all_holds(connection)

    def erased(self) -> dict[date, int]:
        """How many cases were erased on each day."""
        with self._reading() as connection:
            return keeping.erased_by_day(connection)

    # Within

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with clearly(self.path), self._engine.connect() as connection:
            yield connection

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        with clearly(self.path):
            try:
                with sqlite.writing(self._engine) as connection:
                    self._writing_now = connection
                    yield connection
            except BaseException:
                self._names = {}  # what was numbered within is undone
                raise
            finally:
                self._writing_now = None

    def _number(self, connection: Connection, wanted: Sequence[str]) -> None:
        """Give a number to each name that has none; another process may have added some."""
        self._names = _names(connection)
        new = [name for name in dict.fromkeys(wanted) if name not in self._names]
        if new:
            connection.execute(insert(names), [{"name": name} for name in new])
            self._names = _names(connection)

    def _rinse(self) -> tuple[str, ...]:
        with clearly(self.path):
            copies = sqlite.rinse(self._engine, self.path)
        with self._writing() as connection:
            connection.execute(update(about).values(rinse=0))
        return tuple(copy.name for copy in copies)

    def _whole(self, body: str, checksum: str) -> str:
        if checksum_of(body) != checksum:
            raise damaged(self.path, "a case is not as it was written")
        return body


def _names(connection: Connection) -> dict[str, int]:
    return {name: number for number, name in connection.execute(select(names.c.id, names.c.name))}
