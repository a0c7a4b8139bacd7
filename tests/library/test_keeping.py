"""A case is held, or erased so that no byte of it is left."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from random import Random

import pytest

from advisor.library.store import sqlite
from advisor.library.store.failures import LibraryFailed
from advisor.library.store.store import Library, open_library
from advisor.terms import Faulty
from tests.library.fault_work import nothing
from tests.library.made_cases import made_case, token

DAY = date(2031, 4, 16)
MADE = [made_case(number) for number in range(120)]


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    with open_library(tmp_path / "library.sqlite") as opened:
        yield opened


def test_a_hold_blocks_erasing_until_it_is_lifted(library: Library) -> None:
    library.add(MADE, nothing)
    held = library.hold(token(5)[:12], who="the office", why="a dispute", review=DAY)
    assert held == token(5)
    with pytest.raises(Faulty, match="the office holds this case: a dispute; review on 2031-04-16"):
        library.forget(token(5), DAY)
    with pytest.raises(Faulty, match="lift that hold first"):
        library.hold(token(5), who="another", why="also", review=DAY)
    assert library.show(token(5)) == MADE[5]
    (hold,) = library.holds()
    assert library.lift(token(5)) == hold
    assert library.holds() == ()
    with pytest.raises(Faulty, match="this case is not held"):
        library.lift(token(5))
    assert library.forget(token(5), DAY).case == token(5)


def test_a_hold_says_who_and_why(library: Library) -> None:
    library.add(MADE[:1], nothing)
    with pytest.raises(Faulty) as caught:
        library.hold(token(0), who=" ", why="", review=DAY)
    assert [problem.key for problem in caught.value.problems] == ["who", "why"]


@pytest.mark.parametrize("reopened", [False, True], ids=["at once", "after a reopening"])
def test_a_forgotten_case_leaves_no_byte(tmp_path: Path, reopened: bool) -> None:
    """Also not those of its former forms, its notes, its repairs, and of the copies."""
    path = tmp_path / "library.sqlite"
    library = open_library(path)
    library.add(MADE, lambda place: f"packed-{place.note}".encode())
    gone = range(200, 230)
    for seed in range(3):
        for number in gone:
            case = made_case(number, seed=seed, note=f"Zimtstern {number} " * (1 + 40 * seed))
            library.add([case], lambda place: f"packed {place.note}".encode())
    library.add(MADE, nothing)
    copy = path.with_name("library.sqlite.copy-of-0000")
    copy.write_bytes(b"Zimtstern")
    if reopened:
        library.close()
        library = open_library(path)
    assert "Zimtstern" in everything(tmp_path)
    tokens = [token(number) for number in gone]
    assert library.forget(tokens[0], DAY).copies == (copy.name,)
    for one in tokens[1:]:
        library.forget(one, DAY)
    left = everything(tmp_path)
    assert "Zimtstern" not in left
    assert not [one for one in tokens if one in left]
    assert library.erased() == {DAY: len(gone)}
    assert library.count() == len(MADE)
    with pytest.raises(Faulty):
        library.show(tokens[0])
    library.close()
    assert "Zimtstern" not in everything(tmp_path)


def test_what_overwriting_leaves_is_rinsed(tmp_path: Path) -> None:
    """The database overwrites what it deletes, but not what it moved from one page to another."""
    random = Random(1)
    path = tmp_path / "any.sqlite"
    sqlite.make_file(path)
    engine = sqlite.engine_of(path, wait=1)
    with sqlite.writing(engine) as connection:
        connection.exec_driver_sql("CREATE TABLE any (id INTEGER PRIMARY KEY, told TEXT UNIQUE)")
        rows = []
        for number in random.sample(range(10**9), 3000):
            word = "Zimtstern" if number % 3 else "stays"
            rows.append((number, f"{word} {random.random()} " + "x" * random.randint(0, 900)))
        for row in rows:
            connection.exec_driver_sql("INSERT INTO any VALUES (?, ?)", row)
    with sqlite.writing(engine) as connection:
        connection.exec_driver_sql("DELETE FROM any WHERE id % 3")
    sqlite.empty_log(engine, path)
    assert "Zimtstern" in everything(tmp_path), "then the file need not be written anew"
    sqlite.rinse(engine, path)
    assert "Zimtstern" not in everything(tmp_path)
    assert "stays" in everything(tmp_path)
    engine.dispose()


def everything(folder: Path) -> str:
    """All bytes of all files."""
    return "".join(one.read_bytes().decode("latin-1") for one in sorted(folder.iterdir()))


def test_what_a_reader_kept_from_being_rinsed_is_rinsed_later(tmp_path: Path) -> None:
    path = tmp_path / "library.sqlite"
    library = open_library(path, wait=0.1)
    library.add([*MADE, made_case(200, note="Zimtstern")], nothing)
    other = open_library(path)
    reading = other.bodies()
    next(reading)
    with pytest.raises(LibraryFailed, match="the case is erased, but traces may be left"):
        library.forget(token(200), DAY)
    assert library.count() == len(MADE)
    reading.close()  # type: ignore[attr-defined]
    library.close()
    other.close()
    open_library(path).close()
    assert "Zimtstern" not in everything(tmp_path)
