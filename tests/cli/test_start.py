"""What a command loads: who does not ask for the library does not wait for it."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.command import CASE, CHECKOUT

HEAVY = (
    *("sqlalchemy", "alembic", "pydantic", "PIL", "scipy", "matplotlib"),
    *("platformdirs", "sqlite3", "pandas", "advisor.library"),
)
SCRIPT = """
import json, sys
from advisor.cli import main
code = main(json.loads(sys.argv[1]))
heavy = json.loads(sys.argv[2])
print()
print(json.dumps([code, [name for name in heavy if name in sys.modules]]))
"""


def loaded(*words: str, homes: Path) -> list[str]:
    """Which of the heavy ones a call loads."""
    ended = subprocess.run(
        [sys.executable, "-c", SCRIPT, json.dumps(words), json.dumps(HEAVY)],
        cwd=CHECKOUT,
        capture_output=True,
        check=True,
        env={
            "PATH": "",
            "HOME": str(homes),
            "XDG_DATA_HOME": str(homes / "data"),
            "XDG_CONFIG_HOME": str(homes / "config"),
        },
    )
    code, heavy = json.loads(ended.stdout.splitlines()[-1])
    assert code == 0, ended.stderr
    return heavy  # type: ignore[no-any-return]


@pytest.mark.parametrize("words", [(), ("--json",), ("--brief",), ("--reasons",)], ids=" ".join)
def test_assess_does_not_wait_for_the_library(tmp_path: Path, words: tuple[str, ...]) -> None:
    assert loaded("assess", CASE, *words, homes=tmp_path) == []


def test_assess_with_similar_places_needs_no_pictures_and_no_curves(tmp_path: Path) -> None:
    heavy = loaded("assess", CASE, "--similar", homes=tmp_path)
    assert "sqlalchemy" in heavy
    assert not {"matplotlib", "PIL", "pandas"} & set(heavy)


def test_help_of_the_library_loads_nothing_heavy(tmp_path: Path) -> None:
    assert loaded("library", "--help", homes=tmp_path) == []
    assert loaded("library", "find", "--help", homes=tmp_path) == []
