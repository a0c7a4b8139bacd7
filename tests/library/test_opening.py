"""How a library is made, set up and found; what is not loaded for it."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, text

from advisor.library.store import migrations
from advisor.library.store.opening import default_path
from advisor.library.store.store import Library, open_library
from advisor.library.store.tables import metadata
from tests.library.fault_work import nothing
from tests.library.made_cases import made_case


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    with open_library(tmp_path / "library.sqlite") as opened:
        yield opened


def test_settings_of_the_database(library: Library) -> None:
    library.add([made_case(1)], nothing)
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


@pytest.mark.parametrize("module", ["advisor.library", "advisor.library.store.failures"])
def test_the_library_is_light_until_it_is_opened(module: str) -> None:
    heavy = ("sqlalchemy", "alembic", "platformdirs", "pydantic", "numpy")
    code = f"import sys, {module}; print([m for m in {heavy} if m in sys.modules])"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


def test_opening_what_is_up_to_date_does_not_load_the_steps(tmp_path: Path) -> None:
    path = tmp_path / "library.sqlite"
    open_library(path).close()
    code = (
        "import sys; from pathlib import Path;"
        "from advisor.library.store.store import open_library;"
        f"open_library(Path({str(path)!r})).close(); print('alembic' in sys.modules)"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "False"
