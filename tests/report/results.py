"""Results to show: of short callouts written here (invented), and of all worked cases."""

from functools import cache
from pathlib import Path

from advisor import Callout, assess
from advisor.assessment import Assessment, assess_all
from advisor.knowledge import Knowledge, open_knowledge, shipped
from advisor.report import Line

NOTHING = """
callout: nothing-yet
structure: {kind: basement}
leaks:
  - leak: L1
"""

TOLD = """
callout: on-the-telephone
structure: {kind: basement}
visits:
  - {date: 2031-04-16}
leaks:
  - leak: L1
    findings:
      wetness: {value: runs or drips, how: told}
      wet-after-rain: {value: yes, how: told}
      began-with: {value: heavy rain, how: told}
"""

BULGE = """
callout: bulging
structure: {kind: retaining-wall}
visits:
  - {date: 2031-04-16, danger-signs: [bulge]}
leaks:
  - leak: L1
    findings: {member: wall}
"""

CALM = """
callout: calm
structure: {kind: basement, has-movement-joints: no, tensioned: no, old-materials: none-found}
visits:
  - date: 2031-04-16
    danger-signs: []
    ground-signs: []
    smells: []
    water-out-of-hand: []
    space-to-enter: no
    dam-or-levee: no
    people-in-danger: no
leaks:
  - leak: L1
    findings:
      member: wall
      wet-zone: wall-foot
      relation-to-joint: at the joint
      joint-kind: wall-to-floor
      first-water: joint-line
      wet-shape: straight-line
      joint-detail: plain-run
      joint-face: [debris, grout-loss]
      deposits: [lime]
      electrics-near: no
      steel-scan: clear-spots-marked
      work-cuts: []
"""


@cache
def knowledge() -> Knowledge:
    return open_knowledge()


@cache
def result_of(text: str) -> Assessment:
    return assess(Callout.parse(text, "invented.yaml"))


def worked_files() -> list[Path]:
    folder = shipped("cases") / "worked"
    return sorted(p for p in folder.rglob("*.yaml") if p.name != "floor.yaml")


@cache
def worked() -> Assessment:
    """The result of every worked case."""
    return assess_all([Callout.read(path) for path in worked_files()], knowledge())


def text_of(lines: list[Line]) -> str:
    return "\n".join(line.text for line in lines)


def words_of(lines: list[Line]) -> str:
    """All words with single spaces, so that wrapping does not matter."""
    return " ".join(text_of(lines).split())
