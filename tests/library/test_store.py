"""The library: what is added, found again, replaced, held and erased."""

import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from hashlib import sha256
from pathlib import Path

import numpy as np
import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, text

from advisor.library import migrations
from advisor.library.adding import Added
from advisor.library.case import Confirmed, Done, KeptCase, KeptPlace, Looked, Shown
from advisor.library.failures import LibraryFailed
from advisor.library.opening import default_path
from advisor.library.rows import body_of, place_row
from advisor.library.store import Library, open_library
from advisor.library.tables import metadata
from advisor.terms import Faulty
from tests.library.made_cases import CAUSES, KINDS, METHODS, made_case, token

DAY = date(2031, 4, 16)
MADE = [made_case(number) for number in range(120)]


def nothing(_: KeptPlace) -> bytes:
    return b""


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    with open_library(tmp_path / "library.sqlite") as opened:
        yield opened


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    """Only to be read."""
    with open_library(tmp_path_factory.mktemp("full") / "library.sqlite") as opened:
        opened.add(MADE, nothing)
        yield opened


def test_a_case_comes_back_as_it_was(full: Library) -> None:
    assert [full.show(case.case) for case in MADE] == MADE
    assert [KeptCase.model_validate_json(body) for body in full.bodies()] == MADE


def test_adding_again_writes_nothing(library: Library) -> None:
    assert library.add(MADE, nothing) == Added(new=len(MADE))
    before = (library.path.with_name("library.sqlite-wal")).stat().st_size
    assert library.add(reversed(MADE), nothing) == Added(same=len(MADE))
    assert (library.path.with_name("library.sqlite-wal")).stat().st_size == before
    assert library.count() == len(MADE)


def test_a_changed_case_replaces_and_its_history_is_kept(library: Library) -> None:
    forms = [made_case(7, seed=seed) for seed in range(4)]
    library.add(MADE, nothing)
    for form in forms[1:]:
        assert library.add([form, MADE[8]], nothing) == Added(replaced=1, same=1)
    assert library.history(token(7)) == tuple(forms)
    assert library.show(token(7)) == forms[-1]
    assert library.count() == len(MADE)
    assert library.find(after=9)[0].version == 4
    columns = library.columns()
    assert len(columns.case) == sum(len(case.places) for case in [*MADE[:7], forms[-1], *MADE[8:]])


def test_the_same_case_twice_in_one_call_counts_in_its_order(library: Library) -> None:
    first, second = made_case(1), made_case(1, seed=9)
    assert library.add([first, second, second], nothing) == Added(new=1, replaced=1, same=1)
    assert library.history(token(1)) == (first, second)


def test_invented_and_real_cases_are_kept_apart(tmp_path: Path, library: Library) -> None:
    with pytest.raises(Faulty, match="own library takes real ones only"):
        library.add([MADE[0], made_case(500, invented=True)], nothing)
    assert library.count() == 0
    with open_library(tmp_path / "demonstration.sqlite", invented=True) as demonstration:
        assert demonstration.add([made_case(500, invented=True)], nothing).new == 1
        with pytest.raises(Faulty, match="all in it is invented"):
            demonstration.add([MADE[0]], nothing)
    with open_library(tmp_path / "demonstration.sqlite") as again:
        assert again.invented
        assert again.refusal(MADE[0]) is not None
        assert again.refusal(made_case(1, invented=True)) is None


def test_what_a_pack_makes_is_stored_with_its_names(library: Library) -> None:
    def pack(place: KeptPlace) -> bytes:
        numbers = library.names_for(sorted(place.findings))
        return bytes(sorted(numbers.values()))

    library.add(MADE, pack)
    names = library.names()
    assert set(names) == {key for case in MADE for place in case.places for key in place.findings}
    expected = [
        bytes(sorted(names[key] for key in place.findings))
        for case in MADE
        for place in case.places
    ]
    assert list(library.packed()) == expected
    library.close()
    with open_library(library.path) as again:
        assert again.names_for(["made-attribute-3", "new-one"]) == {
            "made-attribute-3": names["made-attribute-3"],
            "new-one": len(names) + 1,
        }


def test_names_of_an_add_that_failed_are_undone(library: Library) -> None:
    def pack(place: KeptPlace) -> bytes:
        library.names_for(["lost"])
        raise ValueError(place.place)

    with pytest.raises(ValueError, match="1"):
        library.add(MADE, pack)
    assert library.names() == {}
    assert library.names_for(["kept"]) == library.names() == {"kept": 1}


@pytest.mark.parametrize(
    "wanted",
    [
        {},
        {"kind": KINDS[0]},
        {"cause": CAUSES[1]},
        {"method": METHODS[2]},
        {"status": "closed"},
        {"cause": CAUSES[1], "status": "closed"},
        {"cause": CAUSES[0], "method": METHODS[1], "status": "watching", "kind": KINDS[1]},
        {"quarter_from": "2020-Q2", "quarter_to": "2022-Q3"},
        {"quarter_from": "2029-Q4", "origin": "own"},
        {"words": "made-attribute-12"},
        {"words": "Made-Attribute-12 mm"},
        {"words": "100%_"},
        {"kind": "nowhere"},
    ],
    ids=str,
)
def test_find_and_count_agree_with_a_plain_search(full: Library, wanted: dict[str, str]) -> None:
    expected = [case.case for case in reversed(MADE) if is_as_wanted(case, **wanted)]
    assert [found.case for found in full.find(limit=1000, **wanted)] == expected  # type: ignore[arg-type]
    assert full.count(**wanted) == len(expected)
    paged: list[str] = []
    after = None
    while page := full.find(limit=7, after=after, **wanted):
        paged += [found.case for found in page]
        after = page[-1].id
    assert paged == expected


def is_as_wanted(case: KeptCase, **wanted: str) -> bool:
    quarter = case.quarter or ""
    whole = case.model_dump_json().lower()
    return (
        case.kind == wanted.get("kind", case.kind)
        and case.origin == wanted.get("origin", case.origin)
        and wanted.get("quarter_from", "") <= quarter <= wanted.get("quarter_to", "9")
        and all(word.lower() in whole for word in wanted.get("words", "").split())
        and any(place_is_as_wanted(place, **wanted) for place in case.places)
    )


def place_is_as_wanted(place: KeptPlace, **wanted: str) -> bool:
    cause = place.confirmed.cause if place.confirmed else None
    return (
        place.status == wanted.get("status", place.status)
        and cause == wanted.get("cause", cause)
        and ("method" not in wanted or wanted["method"] in [done.method for done in place.done])
    )


def test_a_case_is_named_by_the_beginning_of_its_token(full: Library) -> None:
    assert full.show(token(3)[:16]) == MADE[3]
    with pytest.raises(Faulty, match="no case of the library begins with"):
        full.show("zzz")
    with pytest.raises(Faulty, match="more than one case begins with"):
        full.show("")


def test_columns_tell_what_the_cases_tell(full: Library) -> None:
    columns = full.columns()
    places = [(case, place) for case in MADE for place in case.places]
    assert [columns.site.words[at] for at in columns.site.at] == [
        case.labels["site"] for case, _ in places
    ]
    assert list(columns.place) == [place.place for _, place in places]
    assert list(columns.status.are("closed")) == [p.status == "closed" for _, p in places]
    assert not columns.status.are("nowhere").any()
    assert list(columns.cause.at < 0) == [place.confirmed is None for _, place in places]
    ranks = np.nan_to_num(columns.shown_rank, nan=0)
    assert list(ranks) == [place_row(place)["shown_rank"] or 0 for _, place in places]
    done = [number for number, (_, place) in enumerate(places) for _ in place.done]
    assert list(columns.repair_row) == done
    assert [columns.repair_method.words[at] for at in columns.repair_method.at] == [
        one.method for _, place in places for one in place.done
    ]
    ids = [int(columns.place_id[5]), int(columns.place_id[0])]
    assert full.places_of(ids) == {
        int(columns.place_id[at]): (places[at][0].case, places[at][1].place) for at in (0, 5)
    }


def test_columns_of_an_empty_library(library: Library) -> None:
    columns = library.columns()
    assert len(columns.case) == len(columns.repair_row) == 0
    assert library.packed() == ()
    assert list(library.bodies()) == []


def test_the_row_of_a_place() -> None:
    place = KeptPlace(
        place=2,
        status="repaired",
        shown=Shown(day=4, advisor="1", knowledge="k", causes={"b": 0.4, "a": 0.4, "c": 0.2}),
        confirmed=Confirmed(day=3, cause="b", how="document", contributors=("x", "y")),
        done=(Done(day=9, method="late"), Done(day=5, method="early")),
        looked=(Looked(day=40, state="tight", water_up="yes"),),
    )
    row = place_row(place)
    assert (row["shown_best"], row["shown_rank"], row["shown_confidence"]) == ("a", 2, 0.4)
    assert (row["method"], row["first_day"], row["contributors"]) == ("late", 3, "x y")
    bare = place_row(KeptPlace(place=1, status="reported"))
    told = {key for key, value in bare.items() if value is not None}
    assert told == {"place", "status", "reopened", "first_day"}


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


def test_what_is_streamed_is_not_disturbed_by_what_is_written(library: Library) -> None:
    library.add(MADE, nothing)
    streamed = library.bodies()
    first = next(streamed)
    library.add([made_case(300)], nothing)
    assert [first, *streamed] == [body_of(case) for case in MADE]


def test_the_checksum_is_that_of_the_body(library: Library) -> None:
    library.add(MADE[:3], nothing)
    with sqlite3.connect(library.path) as raw:
        rows = raw.execute(
            "SELECT body, checksum FROM cases JOIN bodies ON case_id = id"
        ).fetchall()
        assert [sha256(body.encode()).hexdigest() for body, _ in rows] == [sum for _, sum in rows]
        raw.execute("UPDATE bodies SET body = replace(body, '0.6', '0.7')")
    raw.close()
    with pytest.raises(LibraryFailed, match=r"damaged \(a case is not as it was written\)"):
        library.show(token(1))


def test_settings_of_the_database(library: Library) -> None:
    library.add(MADE[:1], nothing)
    settings = {
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "secure_delete": 1,
        "busy_timeout": 5000,
    }
    with library._reading() as connection:
        for name, value in settings.items():
            assert connection.exec_driver_sql(f"PRAGMA {name}").scalar_one() == value, name
        listed = connection.execute(text("SELECT name, strict FROM pragma_table_list")).all()
    strict = {row.name: row.strict for row in listed}
    assert all(strict[name] for name in metadata.tables)
    assert library.path.stat().st_mode & 0o077 == 0 or sys.platform == "win32"


def test_the_versions_lead_to_the_tables(library: Library) -> None:
    script = ScriptDirectory(str(migrations.HERE))
    assert script.get_current_head() == migrations.KNOWN[-1]
    revisions = [step.revision for step in script.walk_revisions()]
    assert tuple(reversed(revisions)) == migrations.KNOWN
    with library._reading() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
        made = schema(connection.execute(text(_SCHEMA)).all())
    engine = create_engine("sqlite://")
    with engine.connect() as fresh:
        metadata.create_all(fresh)
        assert schema(fresh.execute(text(_SCHEMA)).all()) == made
    engine.dispose()


_SCHEMA = "SELECT name, sql FROM sqlite_master WHERE name != 'alembic_version'"


def schema(rows: object) -> dict[str, str]:
    return {name: " ".join((sql or "").split()) for name, sql in rows if "alembic" not in name}  # type: ignore[attr-defined]


def test_the_usual_place_is_in_the_folder_of_the_user(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert default_path().name == "library.sqlite"
    assert default_path().parent.is_dir()


@pytest.mark.parametrize("module", ["advisor.library", "advisor.library.failures"])
def test_the_library_is_light_until_it_is_opened(module: str) -> None:
    heavy = ("sqlalchemy", "alembic", "platformdirs", "pydantic", "numpy")
    code = f"import sys, {module}; print([m for m in {heavy} if m in sys.modules])"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


def test_opening_what_is_up_to_date_does_not_load_the_steps(tmp_path: Path) -> None:
    path = tmp_path / "library.sqlite"
    open_library(path).close()
    code = (
        "import sys; from pathlib import Path; from advisor.library.store import open_library;"
        f"open_library(Path({str(path)!r})).close(); print('alembic' in sys.modules)"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "False"
