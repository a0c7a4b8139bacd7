"""A folder of broken entries, one mistake each: the one message, and its line.

`broken/SECTION/NAME.yaml` is laid over the shipped knowledge as the only file of a firm's
own folder. Its first line says what is expected: `# expect: LINE: words of the message`.
"""

import re
from pathlib import Path

import pytest

from advisor.knowledge import open_knowledge
from advisor.terms import Faulty, Problem

BROKEN = sorted((Path(__file__).parent / "broken").glob("*/*.yaml"))


def problems_of(folder: Path) -> tuple[Problem, ...]:
    with pytest.raises(Faulty) as caught:
        open_knowledge(folder)
    return caught.value.problems


@pytest.mark.parametrize("path", BROKEN, ids=lambda p: f"{p.parent.name}/{p.stem}")
def test_a_broken_entry_is_told_in_one_message(path: Path, tmp_path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    expected = re.match(r"# expect: (\d+): (.+)\n", text)
    assert expected, "the first line says what is expected"
    own = tmp_path / path.parent.name / path.name
    own.parent.mkdir()
    own.write_text(text, encoding="utf-8")
    problems = problems_of(tmp_path)
    assert [(p.file, p.line) for p in problems] == [(str(own), int(expected[1]))], problems
    assert expected[2] in str(problems[0])
