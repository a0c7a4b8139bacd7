"""One wet crack (invented), with every stop answered, that repairs are planned for."""

from functools import cache

from advisor import Callout, open_knowledge
from advisor.diagnosis import Place, examine
from advisor.knowledge import Knowledge

RESIN = "elastic-resin-injection"
"""The method that is advised for it."""

CRACK = """# Invented example.
callout: X
structure:
  {kind: basement, tensioned: no, old-materials: none-found, has-movement-joints: no,
   agreed-tightness: fully-dry}
visits:
  - date: 2031-04-16
    people-in-danger: no
    smells: []
    water-out-of-hand: []
    ground-signs: []
    danger-signs: []
    space-to-enter: no
    dam-or-levee: no
leaks:
  - leak: L1
    findings:
      member: wall
      surface-here: bare-concrete
      relation-to-joint: away-from-joints
      crack-visible: yes
      crack-form: vertical-mid-bay
      crack-width: 0.3 mm
      crack-both-faces: no
      wall-thickness: 300 mm
      path-length: 2 m
      step-across-crack: no-step
      wetness: paper-colours
      deposits: [lime]
      electrics-near: no
      steel-scan: clear-spots-marked
      work-cuts: []
"""


@cache
def knowledge() -> Knowledge:
    return open_knowledge()


def changed(text: str = CRACK, **findings: str | None) -> str:
    """The callout with findings of the wet place written otherwise, added, or left out (None)."""
    for name, value in findings.items():
        key = name.replace("_", "-")
        lines = [line for line in text.splitlines() if not line.startswith(f"      {key}:")]
        if value is not None:
            lines.insert(lines.index("    findings:") + 1, f"      {key}: {value}")
        text = "\n".join(lines) + "\n"
    return text


def place_of(text: str) -> Place:
    callout = Callout.parse(text, "invented.yaml")
    return examine(knowledge(), callout, callout.leaks[0])[1]
