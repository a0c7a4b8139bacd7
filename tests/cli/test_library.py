"""The library's commands as a technician uses them: well, and mistyped. All cases are invented."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from advisor.library.case import KeptCase
from advisor.library.moves.lines import to_line
from advisor.library.store import failures
from tests.cli.command import BLIND, CASE, Ended, run

INVENTED = "INVENTED CASES"
OTHER = str(sorted(path for path in BLIND.glob("*.yaml") if str(path) != CASE)[0])
Library = Callable[..., Ended]


@pytest.fixture(scope="module")
def demonstration(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Only to be copied."""
    path = tmp_path_factory.mktemp("demonstration") / "demo.sqlite"
    assert run("library", "demo", "--library", path).code == 0
    return path


@pytest.fixture
def demo(demonstration: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(demonstration, tmp_path / "demo.sqlite"))


@pytest.fixture
def library(tmp_path: Path) -> Library:
    """The command with a user's own folders, and nothing of a real user."""
    homes = {f"XDG_{kind}_HOME": str(tmp_path / kind) for kind in ("DATA", "CONFIG")}

    def called(*arguments: str | Path, **environment: str) -> Ended:
        settings: dict[str, Any] = {"ADVISOR_LIBRARY": "", **homes, **environment}
        return run("library", *arguments, **settings)

    return called


def own(tmp_path: Path) -> Path:
    return tmp_path / "DATA" / "leak-advisor" / "library.sqlite"


def test_a_case_is_added_found_shown_and_forgotten(library: Library, tmp_path: Path) -> None:
    added = library("add", CASE)
    assert (added.code, added.err) == (0, "")
    assert "1 new, 0 replaced, 0 as before" in added.out
    assert own(tmp_path).is_file()
    assert "0 new, 0 replaced, 1 as before" in library("add", CASE).out

    found = json.loads(library("find", "--json").out)
    assert found["count"] == 1
    (case,) = found["cases"]
    token = case["case"]
    listed = library("find").out
    assert token[:8] in listed
    assert INVENTED not in listed
    shown = library("show", token[:8])
    assert shown.code == 0
    assert token in shown.out
    assert json.loads(library("show", token[:8].upper(), "--json").out)["case"] == token
    forms = json.loads(library("show", token, "--history", "--json").out)
    assert [form["case"] for form in forms] == [token]

    assert library("forget", token[:8]).code == 0
    assert library("show", token).code == 2
    assert json.loads(library("find", "--json").out) == {"count": 0, "cases": []}
    assert "no such case" in library("find").out


def test_a_held_case_is_not_forgotten(library: Library) -> None:
    library("add", CASE)
    token = json.loads(library("find", "--json").out)["cases"][0]["case"]
    said = ("--who", "legal", "--why", "dispute", "--review", "2032-01-31")
    assert library("hold", token[:8], *said).code == 0
    assert "2032-01-31" in library("hold").out
    refused = library("forget", token)
    assert (refused.code, refused.out) == (2, "")
    assert "legal holds this case" in refused.err
    assert library("hold", token, *said).code == 2
    assert library("hold", token, "--lift").code == 0
    assert library("hold", token, "--lift").code == 2
    assert library("hold").out == "No case is held.\n"
    assert library("forget", token).code == 0


@pytest.mark.parametrize("day", ["tomorrow", "2032-02-30", "31.01.2032", "", "\ud800"])
def test_a_bad_day_of_review_is_told(library: Library, day: str) -> None:
    library("add", CASE)
    token = json.loads(library("find", "--json").out)["cases"][0]["case"]
    ended = library("hold", token, "--who", "legal", "--why", "dispute", "--review", day)
    assert (ended.code, ended.out) == (2, "")
    assert "--review: " in ended.err
    assert "YYYY-MM-DD" in ended.err
    assert library("hold").out == "No case is held.\n"


def test_all_that_a_hold_lacks_is_told_at_once(library: Library) -> None:
    library("add", CASE)
    token = json.loads(library("find", "--json").out)["cases"][0]["case"]
    told = library("hold", token).err.splitlines()
    assert [line.split(":")[0] for line in told] == ["--who", "--why", "--review"]
    assert library("hold", "--who", "legal").code == 2
    assert library("hold", "--lift").code == 2


READING = [
    ["find"],
    ["find", "--json"],
    ["show", "abc"],
    ["forget", "abc"],
    ["hold"],
    ["export", "-"],
    ["similar", CASE],
]


@pytest.mark.parametrize("words", READING, ids=" ".join)
def test_reading_makes_no_library(library: Library, tmp_path: Path, words: list[str]) -> None:
    ended = library(*words)
    assert (ended.code, ended.out) == (2, "")
    assert "there is no library yet" in ended.err
    assert "library add" in ended.err
    assert not own(tmp_path).exists()


@pytest.mark.parametrize("words", READING, ids=" ".join)
def test_what_is_no_library_is_told(library: Library, tmp_path: Path, words: list[str]) -> None:
    other = tmp_path / "other.sqlite"
    other.write_bytes(b"no database at all, but long enough for the head of one" * 40)
    told = {
        tmp_path: "this is a folder",
        tmp_path / "none" / "library.sqlite": "there is no such folder",
        other: "this is no case library",
    }
    for path, why in told.items():
        ended = library(*words, "--library", path)
        assert (ended.code, ended.out) == (3, "")
        assert why in ended.err
        assert ended.err.count("\n") == 1


@pytest.mark.parametrize("words", READING, ids=" ".join)
def test_a_read_only_library_is_told(
    library: Library, demo: Path, words: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The rights of a file are no bar to root, who may run this."""
    monkeypatch.setattr(failures, "_is_writable", lambda _: False)
    ended = library(*words, ADVISOR_LIBRARY=str(demo))
    assert ended.code == 3
    assert "may not be written to" in ended.err


def test_a_beginning_that_fits_several_cases_is_told(library: Library, demo: Path) -> None:
    cases = json.loads(library("find", "--limit", "1000", "--json", "--library", demo).out)
    tokens = [case["case"] for case in cases["cases"]]
    letter = next(t[0] for t in tokens if sum(o[0] == t[0] for o in tokens) > 1)
    for command in ("show", "forget"):
        ended = library(command, letter, "--library", demo)
        assert (ended.code, ended.out) == (2, "")
        assert f'more than one case begins with "{letter}"' in ended.err
    for nonsense in ("zz", "%", "'", "a" * 100):
        ended = library("show", nonsense, "--library", demo)
        assert ended.code == 2
        assert "no case of the library begins" in ended.err
    assert json.loads(library("find", "--json", "--library", demo).out)["count"] == len(tokens)


@pytest.mark.parametrize(
    ("option", "said", "nearest"),
    [
        ("--kind", "basment", "basement"),
        ("--status", "reopend", "reopened"),
        ("--since", "2029", "such as 2029-Q3"),
        ("--until", "2029-Q9", "such as 2029-Q3"),
    ],
)
def test_what_is_sought_and_is_none_is_told(
    library: Library, demo: Path, option: str, said: str, nearest: str
) -> None:
    ended = library("find", option, said, "--library", demo)
    assert (ended.code, ended.out) == (2, "")
    assert f'"{said}"' in ended.err
    assert nearest in ended.err


def test_unknown_causes_and_methods_get_the_nearest(library: Library, demo: Path) -> None:
    known = json.loads(run("knowledge", "list", "--json").out)
    cause, method = next(iter(known["causes"]))["key"], next(iter(known["methods"]))["key"]
    ended = library("find", "--cause", f"{cause}x", "--method", f"{method}x", "--library", demo)
    assert ended.code == 2
    assert f'did you mean "{cause}"' in ended.err
    assert f'did you mean "{method}"' in ended.err
    found = library("find", "--cause", cause, "--method", method, "--json", "--library", demo)
    assert found.code == 0
    assert json.loads(found.out)["count"] >= 0


def test_what_is_exported_comes_in_again(library: Library, demo: Path, tmp_path: Path) -> None:
    file, new = tmp_path / "cases.jsonl", tmp_path / "new.sqlite"
    assert library("export", file, "--library", demo).code == 0
    count = len(file.read_text(encoding="utf-8").splitlines())
    printed = library("export", "-", "--library", demo)
    assert printed.out == file.read_text(encoding="utf-8")
    assert "labels" not in printed.out
    assert INVENTED in printed.err

    library("demo", "--library", new)
    for case in ("first", "second"):
        ended = library("import", file, "--library", new)
        assert (ended.code, ended.err) == (0, ""), case
    assert f"0 new, 0 replaced, {count} as before" in ended.out
    again = tmp_path / "again.jsonl"
    library("export", again, "--library", new)
    assert sorted(again.read_text().splitlines()) == sorted(file.read_text().splitlines())


def test_real_cases_come_in_again_as_new_and_then_as_before(
    library: Library, tmp_path: Path
) -> None:
    library("add", CASE, OTHER)
    file, new = tmp_path / "cases.jsonl", tmp_path / "new.sqlite"
    assert library("export", file).code == 0
    assert "2 new, 0 replaced, 0 as before" in library("import", file, "--library", new).out
    assert "0 new, 0 replaced, 2 as before" in library("import", file, "--library", new).out


def with_a_broken_line(library: Library, folder: Path) -> Path:
    library("add", CASE, OTHER)
    file = folder / "cases.jsonl"
    library("export", file)
    first, second = file.read_text(encoding="utf-8").splitlines()
    broken = second.replace('"kind":"', '"kind":"x', 1)
    file.write_text(f"{first}\n\n{broken}\n{{\n{second}\n{first}\n", encoding="utf-8")
    return file


def test_good_lines_are_kept_and_broken_ones_told(library: Library, tmp_path: Path) -> None:
    file, new = with_a_broken_line(library, tmp_path), tmp_path / "new.sqlite"
    ended = library("import", file, "--library", new)
    assert ended.code == 2
    assert "2 new" in ended.out
    told = ended.err.splitlines()
    assert [line.split(":")[1] for line in told] == ["3", "4", "6"]
    assert all(line.startswith(f"{file}:") for line in told)


def test_all_or_nothing_keeps_nothing(library: Library, tmp_path: Path) -> None:
    file, new = with_a_broken_line(library, tmp_path), tmp_path / "new.sqlite"
    ended = library("import", file, "--all-or-nothing", "--library", new)
    assert (ended.code, ended.out) == (2, "")
    assert len(ended.err.splitlines()) == 3
    assert json.loads(library("find", "--json", "--library", new).out)["count"] == 0


def test_invented_cases_never_come_into_the_own_library(
    library: Library, demo: Path, tmp_path: Path
) -> None:
    library("add", CASE)
    file = tmp_path / "invented.jsonl"
    library("export", file, "--library", demo)
    ended = library("import", file)
    assert ended.code == 2
    assert ended.err.splitlines()[0].startswith(f"{file}:1:")
    assert "an invented case" in ended.err
    refused = library("demo", "--library", own(tmp_path))
    assert refused.code == 2
    assert refused.err.count("\n") == 1
    assert json.loads(library("find", "--json").out)["count"] == 1
    # And no real one into a demonstration.
    assert library("add", CASE, "--library", demo).code == 2
    assert library("backfill", "--set", "kind=basement", "--library", demo).code == 2


def test_the_demonstration_stands_beside_and_says_so_on_every_screen(
    library: Library, tmp_path: Path
) -> None:
    ended = library("demo")
    assert ended.code == 0
    assert not own(tmp_path).exists()
    beside = own(tmp_path).with_name("demonstration.sqlite")
    assert str(beside) in ended.out.replace("\n", "").replace("  ", "")
    there = ("--library", beside)
    token = json.loads(library("find", "--json", *there).out)["cases"][0]["case"]
    held = ("--who", "legal", "--why", "dispute", "--review", "2032-01-31")
    screens = [
        ended,
        library("demo"),
        library("find", *there),
        library("find", "--words", "nothing-like-it", *there),
        library("show", token, *there),
        library("hold", token, *held, *there),
        library("hold", *there),
        library("hold", token, "--lift", *there),
        library("forget", token, *there),
        library("similar", CASE, *there),
        library("facts", *there),
        run("assess", CASE, "--similar", *there),
        run("assess", CASE, "--with-library", *there),
    ]
    for number, screen in enumerate(screens):
        assert screen.code == 0, number
        assert "INVENTED" in screen.out, number


@pytest.mark.parametrize("name", [".", "..", "a-folder", "none/cases.jsonl"])
def test_what_cannot_be_written_is_told(
    library: Library, demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    (tmp_path / "here" / "a-folder").mkdir(parents=True)
    monkeypatch.chdir(tmp_path / "here")
    ended = library("export", name, "--library", demo)
    assert ended.code in (2, 3)
    assert ended.err.count("\n") == 1
    assert "fault of the program" not in ended.err
    assert name in ended.err
    assert [path.name for path in Path().rglob("*")] == ["a-folder"]


def test_an_export_interrupted_leaves_no_half_file(
    library: Library, demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "exports"
    folder.mkdir()
    file = folder / "cases.jsonl"
    file.write_text("what was there before\n")
    seen = []

    def interrupted(case: KeptCase) -> str:
        seen.append(case)
        if len(seen) == 50:
            raise KeyboardInterrupt
        return to_line(case)

    monkeypatch.setattr("advisor.library.moves.jsonl.to_line", interrupted)
    assert library("export", file, "--library", demo).code == 130
    assert [path.name for path in folder.iterdir()] == ["cases.jsonl"]
    assert file.read_text() == "what was there before\n"


def test_an_export_to_a_full_disk_says_so(library: Library, demo: Path) -> None:
    ended = library("export", "/dev/full", "--library", demo)
    assert ended.code == 3
    assert "/dev/full: no space left on device" in ended.err
    assert Path("/dev/full").is_char_device()


JSON = [
    ["find", "--json"],
    ["find", "--json", "--status", "reopened", "--limit", "3"],
    ["similar", CASE, "--json"],
    ["facts", "--json"],
]


@pytest.mark.parametrize("words", JSON, ids=" ".join)
def test_json_is_one_document(library: Library, demo: Path, words: list[str]) -> None:
    ended = library(*words, "--library", demo)
    assert (ended.code, ended.err) == (0, "")
    assert ended.out.count("\n") == 1
    assert json.loads(ended.out)
