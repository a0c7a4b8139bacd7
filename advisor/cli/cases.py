"""`advisor cases check`: worked cases against the knowledge."""

from collections.abc import Sequence
from pathlib import Path

from advisor.assessment.cases import FLOOR, read_cases
from advisor.assessment.worked import CaseReport, below_floor, score
from advisor.cli.exits import DONE, FAULTY, WRONG, worst
from advisor.cli.opening import Refused, opened, printable, tell
from advisor.cli.screen import Screen
from advisor.knowledge import shipped
from advisor.report.cases import case_lines
from advisor.terms import Faulty, Problem


def check(paths: Sequence[str], *, json: bool, folder: str | None, screen: Screen) -> int:
    """Print how well the cases are answered. Returns the exit code.

    paths: files and folders; none for the shipped cases. A folder checked alone is held
    against its own floor file.
    """
    try:
        knowledge = opened(folder)
    except Refused as refused:
        tell(refused.problems)
        return refused.code
    places = [Path(path) for path in paths] or [shipped("cases") / "worked"]
    missing = [path for path in places if not path.exists()]
    wrong = [
        Problem(message="there is no such file or folder", file=printable(str(path)))
        for path in missing
    ]
    cases, faulty = read_cases([path for path in places if path not in missing], knowledge)
    report = score(cases, knowledge, [*wrong, *faulty])
    below, floor_faults = _below(report, places)
    if json:
        print(report.to_json())
    else:
        screen.show(case_lines(screen.page, knowledge, report, below))
    tell([*wrong, *faulty, *floor_faults])
    if json and below:
        tell(Problem(message=f"below the recorded floor: {text}") for text in below)
    is_faulty = faulty or floor_faults or below
    return worst([WRONG if wrong else DONE, FAULTY if is_faulty else DONE])


def _below(
    report: CaseReport, places: Sequence[Path]
) -> tuple[tuple[str, ...], tuple[Problem, ...]]:
    """What is worse than recorded, and what is wrong with the record."""
    floor = places[0] / FLOOR
    if len(places) != 1 or not floor.is_file():
        return (), ()
    try:
        return below_floor(report, floor), ()
    except Faulty as faulty:
        return (), faulty.problems
