"""A folder of broken callout files, one mistake each: the one message, and its line.

The first line of a file says what is expected: `# expect: LINE: words of the message`,
with `-` for a fault of the file as a whole, and `~` for what the knowledge may change.
"""

import os
import re
from pathlib import Path

import pytest

from advisor.callout import Callout
from advisor.terms import Faulty, Problem
from tests.callout.conftest import Attributes

BROKEN = sorted((Path(__file__).parent / "broken").glob("*.yaml"))


def problems_of(path: Path, attributes: Attributes) -> tuple[Problem, ...]:
    with pytest.raises(Faulty) as caught:
        Callout.read(path, attributes)
    return caught.value.problems


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_broken_file_is_told_in_one_message(path: Path, attributes: Attributes) -> None:
    first_line = path.read_bytes().split(b"\n")[0].decode()
    expected = re.fullmatch(r"# expect: (-|\d+): (.+)", first_line)
    assert expected, "the first line says what is expected"
    (problem,) = problems_of(path, attributes)
    assert (str(problem.line or "-"), problem.file) == (expected[1], str(path))
    assert re.search(".*".join(map(re.escape, expected[2].split("~"))), str(problem)), problem


def test_the_folder_is_there() -> None:
    assert len(BROKEN) > 30


def test_a_file_of_50_megabytes(tmp_path: Path, attributes: Attributes) -> None:
    path = tmp_path / "large.yaml"
    with path.open("wb") as stream:
        stream.truncate(50 * 1024 * 1024)
    (problem,) = problems_of(path, attributes)
    assert "too large" in str(problem)


def test_a_folder(tmp_path: Path, attributes: Attributes) -> None:
    (problem,) = problems_of(tmp_path, attributes)
    assert "this is a folder" in str(problem)


def test_no_such_file(tmp_path: Path, attributes: Attributes) -> None:
    (problem,) = problems_of(tmp_path / "none.yaml", attributes)
    assert "no such file" in str(problem)


def test_no_permission(
    tmp_path: Path, attributes: Attributes, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "locked.yaml"
    path.write_text("callout: X\n")
    path.chmod(0)
    if os.access(path, os.R_OK):  # root reads everything

        def refuse(*_: object, **__: object) -> None:
            raise PermissionError(13, "Permission denied")

        monkeypatch.setattr(Path, "open", refuse)
    (problem,) = problems_of(path, attributes)
    assert "no permission" in str(problem)


def test_utf_16(tmp_path: Path, attributes: Attributes) -> None:
    path = tmp_path / "wide.yaml"
    path.write_text("callout: X\n", encoding="utf-16")
    (problem,) = problems_of(path, attributes)
    assert "UTF-16" in str(problem)


def test_an_alias_bomb(attributes: Attributes) -> None:
    levels = "\n".join(f"  l{n}: &l{n} [{', '.join([f'*l{n - 1}'] * 10)}]" for n in range(1, 10))
    with pytest.raises(Faulty) as caught:
        Callout.parse(f"callout: X\nprivate:\n  l0: &l0 wet\n{levels}\n", "f.yaml", attributes)
    first = caught.value.problems[0]
    assert (first.line, first.message) == (3, "an anchor (…): put it in quotes")
    assert len(caught.value.problems) <= 100


@pytest.mark.parametrize(
    ("part", "entry"),
    [("leaks", "{{leak: L{n}}}"), ("visits", "{{date: {n}-01-01}}")],
)
def test_more_entries_than_anybody_keeps(part: str, entry: str, attributes: Attributes) -> None:
    parts = {"visits": "", "leaks": "{leak: L1}"}
    parts[part] = ", ".join(entry.format(n=n) for n in range(1500, 2501))
    text = "callout: X\nstructure: {kind: tank}\n"
    text += "".join(f"{key}: [{items}]\n" for key, items in parts.items())
    with pytest.raises(Faulty) as caught:
        Callout.parse(text, "f.yaml", attributes)
    assert [(p.key, p.message) for p in caught.value.problems] == [
        (part, "1001 entries are too many")
    ]
