"""An old case written up in twelve answers, by options and by answering. All is invented."""

import json
import os
import pty
import select
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from advisor import open_knowledge
from advisor.library.moves.backfill import fields
from tests.cli.command import CHECKOUT, Ended, run

KNOWLEDGE = open_knowledge()
CAUSE = next(key for key, cause in KNOWLEDGE.causes.items() if "-" in key)
METHOD = next(key for key in KNOWLEDGE.methods if "-" in key)
ANSWERS = {
    "quarter": "2024-Q3",
    "kind": "basement",
    **dict.fromkeys(fields(KNOWLEDGE)[2:-6], ""),
    "cause": CAUSE,
    "how": "opened-and-seen",
    "method": METHOD,
    "months": "24",
    "state": "tight",
    "water-up": "yes",
}


def called(library: Path, *arguments: str) -> Ended:
    return run("library", *arguments, "--library", library)


def sets(answers: dict[str, str]) -> list[str]:
    return [part for key, said in answers.items() if said for part in ("--set", f"{key}={said}")]


def kept(library: Path) -> dict[str, Any]:
    (case,) = json.loads(called(library, "find", "--json").out)["cases"]
    return json.loads(called(library, "show", case["case"], "--json").out)  # type: ignore[no-any-return]


def test_there_are_twelve_answers() -> None:
    assert len(fields(KNOWLEDGE)) == 12
    assert tuple(ANSWERS) == fields(KNOWLEDGE)


def test_a_case_from_options(tmp_path: Path) -> None:
    library = tmp_path / "library.sqlite"
    ended = called(library, "backfill", *sets(ANSWERS))
    assert (ended.code, ended.err) == (0, "")
    case = kept(library)
    assert (case["origin"], case["quarter"], case["kind"]) == (
        "from-records",
        ANSWERS["quarter"],
        ANSWERS["kind"],
    )
    (place,) = case["places"]
    assert place["confirmed"]["cause"] == CAUSE
    assert place["done"][0]["method"] == METHOD
    (look,) = place["looked"]
    assert (look["day"], look["state"], look["water_up"]) == (730, "tight", "yes")
    assert all(finding["sure"] is False for finding in place["findings"].values())


def test_words_may_have_blanks_and_a_small_quarter(tmp_path: Path) -> None:
    library = tmp_path / "library.sqlite"
    said = {
        **ANSWERS,
        "quarter": "2024-q3",
        "kind": "underground car park",
        "cause": CAUSE.replace("-", " "),
        "method": METHOD.replace("-", " "),
        "how": "opened and seen",
    }
    assert called(library, "backfill", "--remembered", *sets(said)).code == 0
    case = kept(library)
    assert (case["origin"], case["quarter"]) == ("remembered", "2024-Q3")
    assert case["kind"] == "underground-car-park"


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"kind": "basment"}, ['did you mean "basement"']),
        ({"kind": "basement or lift-pit"}, ["kind: "]),
        ({"kind": "unknown"}, ["kind: "]),
        ({"kind": ""}, ["kind: this is missing"]),
        ({"quarter": "2024"}, ["quarter: ", "2029-Q3"]),
        ({"cause": f"{CAUSE}x"}, [f'did you mean "{CAUSE}"']),
        ({"cause": f"{CAUSE}x", "method": f"{METHOD}x"}, ["cause: ", "method: "]),
        ({"cause": ""}, ["how: what was confirmed is missing"]),
        ({"how": ""}, ["how: this is missing"]),
        ({"method": ""}, ["months: ", "state: ", "water-up: "]),
        ({"months": "many"}, ["months: "]),
        ({"months": "-3"}, ["months: "]),
        ({"months": "nan"}, ["months: "]),
        ({"state": "dry"}, ["state: ", "tight"]),
        ({"wetnes": "x"}, ['did you mean "wetness"']),
    ],
    ids=lambda one: " ".join(one) if isinstance(one, list) else str(one),
)
def test_what_is_wrong_is_told_and_nothing_kept(
    tmp_path: Path, wrong: dict[str, str], told: list[str]
) -> None:
    library = tmp_path / "library.sqlite"
    ended = called(library, "backfill", *sets({**ANSWERS, **wrong}))
    assert (ended.code, ended.out) == (2, "")
    for part in told:
        assert part in ended.err
    assert json.loads(called(library, "find", "--json").out)["count"] == 0


def test_an_answer_said_twice_is_told(tmp_path: Path) -> None:
    library = tmp_path / "library.sqlite"
    twice = ("--set", "kind=basement", "--set", "kind=lift-pit")
    ended = called(library, "backfill", *twice)
    assert ended.code == 2
    assert "kind: this is given twice" in ended.err


def test_nothing_said_and_nobody_to_ask(tmp_path: Path) -> None:
    ended = called(tmp_path / "library.sqlite", "backfill")
    assert (ended.code, ended.out) == (2, "")
    assert "--set KEY=VALUE, or a terminal" in ended.err


def answered(library: Path, typed: list[str]) -> tuple[int, str]:
    """`backfill` on a pseudo-terminal: each line is typed when it is asked for."""
    ours, theirs = pty.openpty()
    words = [sys.executable, "-m", "advisor", "library", "backfill", "--library", str(library)]
    plain = {**os.environ, "NO_COLOR": "1", "TERM": "dumb"}
    with subprocess.Popen(
        words, cwd=CHECKOUT, stdin=theirs, stdout=theirs, stderr=theirs, env=plain
    ) as asking:
        os.close(theirs)
        shown, left = "", list(typed)
        while select.select([ours], [], [], 60)[0]:
            try:
                part = os.read(ours, 65536)
            except OSError:  # the other end is closed
                break
            shown += part.decode()
            if shown.endswith(" = ") and left:
                os.write(ours, f"{left.pop(0)}\n".encode())
        code = asking.wait(timeout=30)
    os.close(ours)
    return code, shown


def test_twelve_answers_on_a_terminal(tmp_path: Path) -> None:
    library = tmp_path / "library.sqlite"
    code, shown = answered(library, list(ANSWERS.values()))
    assert code == 0, shown
    assert shown.count(" = ") == 12
    assert "1 new" in shown
    assert kept(library)["kind"] == "basement"


def test_a_wrong_answer_is_asked_anew_and_the_right_ones_stay(tmp_path: Path) -> None:
    library = tmp_path / "library.sqlite"
    first = [*{**ANSWERS, "state": "dry", "months": "24"}.values()]
    second = ["tight" if key == "state" else "" for key in ANSWERS]
    code, shown = answered(library, [*first, *second])
    assert code == 0, shown
    assert shown.count(" = ") == 24
    assert f"cause [{CAUSE}] = " in shown
    assert "state = " in shown.split("state: ")[-1]
    (place,) = kept(library)["places"]
    assert place["looked"][0]["state"] == "tight"


def test_an_end_of_typing_keeps_nothing(tmp_path: Path) -> None:
    library = tmp_path / "library.sqlite"
    code, shown = answered(library, ["2024-Q3", "\x04"])
    assert code == 2
    assert "nothing was kept" in shown
    assert json.loads(called(library, "find", "--json").out)["count"] == 0
