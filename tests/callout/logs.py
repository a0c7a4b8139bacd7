"""Records with a log (invented): cut from a template, and one with an entry of every kind."""

HEAD = """callout: X
structure: {kind: basement, pour-date: 2030-01-01}
visits: [{date: 2031-04-16}]
leaks: [{leak: L1}, {leak: L2}]
"""

PROPOSED = """proposed:
      advisor: 0.1.0
      knowledge: abc123
      settled-on: group
      causes: {early-thermal-crack: 0.5, honeycomb: 0.25}
      methods: {gel-injection: 0.4}
      advised: gel-injection
      looks: [see-the-place]
      stops: []"""

EVERY = {
    "proposed": PROPOSED,
    "secured": "secured: relief-pipe",
    "agreed": "agreed: gel injection\n    by: [owner, engineer]",
    "done": """done: gel-injection
    quantities: {acrylate-gel: '12,5 L', packers: 14}
    conditions: "8 °C # wet"
    deviations: none
    water-height: 1.2-1.4 m
    packers:
      - {packer: 1, pressure: 20 bar, volume: 0.5 L, minutes: 3, ended: full}
      - {packer: 2}""",
    "confirmed": """confirmed: honeycomb
    how: opened and seen
    role: engineer
    contributors: poor-curing
    present: [owner, crew]
    accepted-by: owner""",
    "supported": "supported: honeycomb",
    "looked": """looked: moved along
    water-up: yes
    water-height: 150 cm
    within-agreed: no
    proof: one-wet-season
    readings: {flow: 2 L/h}""",
    "told": "told: owner",
    "closed": "closed: no access\n    cause-confirmed: never",
    "handed-over": "handed-over: structural engineer",
}
"""One entry of each kind, without its wet place and day."""


def entry(body: str, *, leak: str = "L1", day: str = "2031-05-20", words: str = "") -> str:
    """One item of a log. words: as YAML."""
    said = f"\n    words: {words}" if words else ""
    return f"  - leak: {leak}\n    date: {day}{said}\n    {body}\n"


def record(*entries: str) -> str:
    """The record with these entries."""
    return f"{HEAD}log:\n{''.join(entries)}"


FULL = record(*(entry(body, words='"a, b: # c"') for body in EVERY.values()))
