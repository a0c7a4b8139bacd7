"""Whatever stands in a file, the command answers or says what is wrong: in process, seeded.

Mutations of worked cases and random bytes, through `advisor assess --json` as a user would.
"""

import json
import random
from pathlib import Path

import pytest

from advisor.cli import main
from advisor.knowledge import shipped

CASES = sorted((shipped("cases") / "worked").rglob("*/*.yaml"))
WORDS = [
    *("yes", "no", "unknown", "{not: ", "[", "]", "}", "{", ": ", "- ", "\n", "\t", "&a ", "*a"),
    *("-1 mm", "140 %", "1e400 m", "0,3 mm", "NaN", "2031-02-30", "9999-12-31", "null", "~"),
    *("!!python/object", "at the joint", "or", "visit: 9", "corrects: 1", "\0", "ü", "\u2028", "#"),
]
AT_ONCE = 50
"""Files in one run of the command: the knowledge is read once for them."""


def mutated(dice: random.Random) -> bytes:
    """A worked case with a few places broken, or no YAML at all."""
    if dice.random() < 0.1:
        return dice.randbytes(dice.randrange(400))
    text = dice.choice(CASES).read_text(encoding="utf-8")
    for _ in range(dice.randint(1, 6)):
        at = dice.randrange(len(text))
        end = min(len(text), at + dice.randrange(30))
        lines = text.splitlines()
        text = dice.choice(
            [
                text[:at] + dice.choice(WORDS) + text[at:],
                text[:at] + text[end:],
                text[:at] + dice.choice(WORDS) + text[end:],
                "\n".join(dice.sample(lines, len(lines))),
                text[:end] + text[at:],
                text,
            ]
        )
    data = bytearray(text.encode())
    if dice.random() < 0.2:
        data[dice.randrange(len(data))] = dice.randrange(256)
    return bytes(data)


def run(folder: Path, capsys: pytest.CaptureFixture[str], seed: int) -> None:
    dice = random.Random(seed)
    files = []
    for number in range(AT_ONCE):
        file = folder / f"{seed}-{number}.yaml"
        file.write_bytes(mutated(dice))
        files.append(str(file))
    code = main(["assess", "--json", *files])
    shown = capsys.readouterr()
    assert code in (0, 2), shown.err
    assert "Traceback" not in shown.err
    result = json.loads(shown.out)
    answered = {leak["file"] for leak in result["leaks"]}
    faulty = {problem["file"] for problem in result["problems"]}
    assert answered.isdisjoint(faulty)
    assert answered | faulty <= set(files)
    for leak in result["leaks"]:
        assert sum(c["confidence"] for c in leak["causes"]) == pytest.approx(1, abs=1e-9)
    for problem in result["problems"]:
        assert problem["message"]


@pytest.mark.parametrize("seed", range(2000 // AT_ONCE))
def test_two_thousand_broken_files(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], seed: int
) -> None:
    run(tmp_path, capsys, seed)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(1000, 1000 + 20_000 // AT_ONCE))
def test_twenty_thousand_broken_files(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], seed: int
) -> None:
    run(tmp_path, capsys, seed)
