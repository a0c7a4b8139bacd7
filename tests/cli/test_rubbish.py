"""Options of the library with rubbish: a clear answer, never a traceback. In process, seeded."""

import random
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.cli.command import CASE, run

RUBBISH = [
    *("", " ", "-", "--", ".", "..", "%", "_", "'", '"', "' OR 1=1 --", "*", "\\", "\t", "\n"),
    *("0", "-1", "1e400", "nan", "99999999999999999999", "2029-Q9", "9999-99-99", "0000-01-01"),
    *(
        "=",
        "a=",
        "=b",
        "kind=",
        "kind=basement",
        "cause==",
        "\u2028",
        "\u00fc",
        "\x1b[31m",
        "x" * 5000,
    ),
    *("null", "true", "{}", "[]", "\ud800", "\udcff", "\U0001f6b1", "basement", "3fa94c12", "a"),
]
COMMANDS: list[list[str]] = [
    ["find", "--kind"],
    ["find", "--cause"],
    ["find", "--method"],
    ["find", "--status"],
    ["find", "--since"],
    ["find", "--until"],
    ["find", "--words"],
    ["find", "--limit"],
    ["find", "--json", "--words"],
    ["show"],
    ["show", "--history"],
    ["forget"],
    ["hold"],
    ["hold", "a", "--who", "x", "--why", "y", "--review"],
    ["hold", "--lift"],
    ["hold", "--who"],
    ["import"],
    ["import", "--all-or-nothing"],
    ["similar"],
    ["similar", CASE, "--leak"],
    ["similar", CASE, "--key"],
    ["backfill", "--set"],
    ["backfill", "--set", "kind=basement", "--set"],
    ["add"],
    ["find", "--knowledge"],
    ["find", "--library"],
    ["hold", "--library"],
]


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("filled") / "library.sqlite"
    assert run("library", "add", CASE, "--library", path, **homes(path.parent)).code == 0
    return path


def homes(folder: Path) -> dict[str, Any]:
    return {f"XDG_{kind}_HOME": str(folder / kind) for kind in ("DATA", "CONFIG")}


def check(words: list[str], library: Path) -> None:
    """Rubbish as a name of a file stays in an empty folder."""
    ended = run("library", *words, **homes(library.parent), ADVISOR_LIBRARY=str(library))
    told = f"{words}: {ended.err[-500:]}"
    assert ended.code in (0, 1, 2, 3), told  # 1: a folder that holds no knowledge
    assert "Traceback" not in ended.err, told
    assert "fault of the program" not in ended.err, told
    assert ended.code == 0 or ended.err, told


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_rubbish_as_the_last_word(
    filled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: list[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    library = Path(shutil.copy(filled, tmp_path / "own.sqlite"))
    for rubbish in random.Random(" ".join(command)).sample(RUBBISH, 12):
        check([*command, rubbish], library)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(400))
def test_rubbish_anywhere(
    filled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    monkeypatch.chdir(tmp_path)
    library = Path(shutil.copy(filled, tmp_path / "own.sqlite"))
    dice = random.Random(seed)
    for _ in range(10):
        words = [*dice.choice(COMMANDS), dice.choice(RUBBISH)]
        for _ in range(dice.randint(0, 3)):
            words.insert(dice.randint(1, len(words)), dice.choice([*RUBBISH, "--json", "--lift"]))
        check(words, library)
