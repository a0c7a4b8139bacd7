"""Many mistakes at once: all of them are told, and no more than that."""

from pathlib import Path

import pytest

from advisor.knowledge import open_knowledge
from advisor.terms import Faulty, Problem
from tests.knowledge.laying import WHY, lay, sign

MANY = Path(__file__).parent / "many"
MARK = "# next: "


def problems_of(folder: Path) -> tuple[Problem, ...]:
    with pytest.raises(Faulty) as caught:
        open_knowledge(folder)
    return caught.value.problems


def expected_of(folder: Path) -> list[tuple[str, int, str]]:
    """File, line and words of every fault that the files announce a line ahead."""
    found = []
    for path in sorted(folder.rglob("*.yaml")):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            if line.lstrip().startswith(MARK):
                found.append((str(path), number + 1, line.lstrip().removeprefix(MARK)))
    return found


def test_every_fault_of_a_folder_is_told_in_one_run_and_in_order() -> None:
    expected, problems = expected_of(MANY), problems_of(MANY)
    assert len(expected) >= 12
    assert [(p.file, p.line) for p in problems] == [(file, line) for file, line, _ in expected]
    for problem, (_, _, words) in zip(problems, expected, strict=True):
        assert words in str(problem)


def test_a_faulty_attribute_makes_no_storm(tmp_path: Path) -> None:
    """`crack-visible` is named by dozens of shipped conditions, looks and families."""
    text = f"crack-visible:\n  label: crack\n  of: leak\n  kind: yesno\n{WHY}"
    text += "  question: Is there one?\n  check: Look.\n  who: [eyes-here]\n"
    (problem,) = problems_of(lay(tmp_path, attributes=text))
    assert problem.nearest == "yes-no"


def test_an_attribute_with_a_readable_form_hides_no_misspelt_choice(tmp_path: Path) -> None:
    attribute = f"own-sign:\n  label: sign\n  of: leak\n  kind: yes-no\n{WHY}"
    attribute += "  question: Is there one?\n  check: Look.\n  who: [nobody]\n"
    deduction = f"own:\n  when: {{own-sign: yse}}\n  then: {{moving: moving}}\n{WHY}"
    problems = problems_of(lay(tmp_path, attributes=attribute, deductions=deduction))
    assert [p.nearest for p in problems] == [None, "yes"]


def test_a_file_that_cannot_be_read_makes_no_storm_and_hides_no_other_fault(
    tmp_path: Path,
) -> None:
    look = "own-look:\n  label: look\n  do: Look.\n  attributes: [in-the-torn-file, own]\n"
    look += f"  minutes: 0\n  who: own-technician\n  answers: 0.5\n{WHY}"
    problems = problems_of(
        lay(tmp_path, attributes="in-the-torn-file:\n  label: 'never closed\n", looks=look)
    )
    assert [(Path(p.file).parent.name, p.line) for p in problems] == [
        ("attributes", 2),
        ("looks", 5),
    ]


def test_a_faulty_figure_in_the_weights_hides_no_family(tmp_path: Path) -> None:
    weights = "words:\n  strong: {times: ten, at-most: 0.9}\n"
    weights += "  moderate: {times: 3, at-most: 0.75}\n  weak: {times: 2, at-most: 0.6}\n"
    family = f"own:\n  label: own\n  reads: repaired-before\n{WHY}"
    family += (
        "  readings:\n    yes: {share: 0.2, times: {honycomb: strong for}}\n    no: {share: 0.8}\n"
    )
    problems = problems_of(lay(tmp_path, weights=weights, families=family))
    assert [(Path(p.file).parent.name, p.line) for p in problems] == [
        ("families", 7),
        ("weights", 2),
    ]


def test_two_cycles_are_two_faults_and_hide_no_second_path(tmp_path: Path) -> None:
    rules = {
        "one": ("first-water: crack", "wet-shape: wavy-line"),
        "two": ("wet-shape: wavy-line", "first-water: crack"),
        "three": ("member: pit", "wet-zone: slab-edge"),
        "four": ("wet-zone: slab-edge", "member: pit"),
        "five": ("sounding: hollow", "on-tie-grid: on-grid"),
    }
    text = "".join(
        f"{key}:\n  when: {{{when}}}\n  then: {{{then}}}\n{WHY}"
        for key, (when, then) in rules.items()
    )
    problems = problems_of(lay(tmp_path, deductions=text))
    told = {p.key: p.message for p in problems}
    assert told.keys() == {"two", "four", "five"}
    assert "itself: wet-shape -> first-water -> wet-shape, through one, two" in told["two"]
    assert "itself: wet-zone -> member -> wet-zone, through three, four" in told["four"]
    assert "twice by sounding" in told["five"]


@pytest.mark.parametrize("number", [8, 9])
def test_more_than_eight_again(number: int, tmp_path: Path) -> None:
    """Those of the shipped knowledge count with a firm's own."""
    shipped = [key for key, f in open_knowledge().families.items() if f.family.again]
    own = [f"own-{i}" for i in range(number - len(shipped))]
    readings = "  readings:\n    yes: {share: 0.2}\n    no: {share: 0.8}\n"
    text = "".join(
        f"{key}:\n  label: own\n  reads: own-sign\n  again: Invented.\n{WHY}{readings}"
        for key in own
    )
    folder = lay(tmp_path, attributes=sign("own-sign"), families=text)
    if number == 8:
        again = [p for p in open_knowledge(folder).remarks if "reads again" in p.message]
        assert [p.key for p in again] == [*shipped, *own]
    else:
        (problem,) = problems_of(folder)
        assert (problem.key, problem.message) == (own[-1], "more than 8 families say again")
