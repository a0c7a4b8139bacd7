"""Mistakes of a firm's own entries that are easy to make and hard to see."""

from pathlib import Path

import pytest

from advisor import open_knowledge
from advisor.terms import Faulty

CAUSE = """
lost-sheet:
  label: sheet left in the deck
  group: penetration
  water: other-side
  base-rate: {rate}
  needs: [sheet-left-in]
  because: Water runs along the ribs of a sheet that stayed in.
  source: own-judgement
"""
NEED = """
sheet-left-in:
  label: a sheet left in
  when: {sheet-left-in: yes}
  share: 0.1
  because: No sheet, no leak along one.
  source: own-judgement
"""
ATTRIBUTE = """
sheet-left-in:
  label: sheet left in
  of: structure
  kind: yes-no
  question: Was a sheet left in the deck?
  check: Look from below.
  who: [eyes-here]
  because: It is a path.
  source: own-judgement
"""
LOOK = """
look-from-below:
  label: look from below
  do: Lamp from the side.
  attributes: [sheet-left-in]
  minutes: 5
  who: own-technician
  answers: 0.9
  because: Ribs can be seen.
  source: own-judgement
"""


def own_folder(folder: Path, rate: str, *, look: bool) -> Path:
    (folder / "causes.yaml").write_text(CAUSE.replace("{rate}", rate))
    (folder / "needs.yaml").write_text(NEED)
    (folder / "attributes.yaml").write_text(ATTRIBUTE)
    if look:
        (folder / "looks.yaml").write_text(LOOK)
    return folder


def test_a_rate_above_the_share_of_its_need_is_a_fault(tmp_path: Path) -> None:
    folder = own_folder(tmp_path, "{podium-deck: 0.2}", look=True)
    with pytest.raises(Faulty) as raised:
        open_knowledge(folder)
    (problem,) = raised.value.problems
    assert problem.message.startswith("0.2 of podium-deck is above the share 0.1")
    assert (problem.file, problem.line) == (f"{folder}/causes.yaml", 6)


def test_what_no_look_answers_is_remarked(tmp_path: Path) -> None:
    said = [
        (problem.key, problem.message)
        for problem in open_knowledge(own_folder(tmp_path, "0.01", look=False)).remarks
    ]
    assert ("sheet-left-in", "it decides something, but no look answers it") in said


def test_a_look_that_answers_it_ends_the_remark(tmp_path: Path) -> None:
    remarks = open_knowledge(own_folder(tmp_path, "0.01", look=True)).remarks
    assert not [problem for problem in remarks if "no look answers" in problem.message]


def test_a_replaced_entry_is_named_by_what_it_says_otherwise(tmp_path: Path) -> None:
    (tmp_path / "causes.yaml").write_text(
        "formwork-tie-hole:\n  label: rod hole\n  group: penetration\n  water: other-side\n"
        "  base-rate: {retaining-wall: 0.15}\n  needs: [ties-through-the-wall]\n"
        "  because: Our own count.\n  source: own-judgement\n"
    )
    (difference,) = open_knowledge(tmp_path).differences
    shipped = open_knowledge().causes["formwork-tie-hole"].base_rate
    assert isinstance(shipped, dict)
    assert f"base-rate retaining-wall {shipped['retaining-wall']:g} -> 0.15" in difference.message
    assert "base-rate taken away: basement, underground-car-park" in difference.message
    assert "other because" in difference.message
