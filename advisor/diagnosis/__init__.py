"""Causes ranked and explained, stops, the next looks, and what the belief hangs on."""

from advisor.diagnosis.diagnose import diagnose, examine
from advisor.diagnosis.releases import idle_releases
from advisor.diagnosis.result import (
    CauseBelief,
    Conflict,
    ContributorState,
    Diagnosis,
    Evidence,
    GroupBelief,
    NeedFactor,
    NextLook,
    ReleasedStop,
    StopState,
    SumInput,
    Through,
    WaterBelief,
    WorkedOutFact,
)
from advisor.diagnosis.rows import table_of
from advisor.diagnosis.signs import answered_by, barring
from advisor.diagnosis.sums import (
    Place,
    check_words,
    failing,
    likely,
    meaning,
    place_of,
    said,
    standing,
    three_figures,
    unheld,
    worked_out,
)

__all__ = [
    "CauseBelief",
    "Conflict",
    "ContributorState",
    "Diagnosis",
    "Evidence",
    "GroupBelief",
    "NeedFactor",
    "NextLook",
    "Place",
    "ReleasedStop",
    "StopState",
    "SumInput",
    "Through",
    "WaterBelief",
    "WorkedOutFact",
    "answered_by",
    "barring",
    "check_words",
    "diagnose",
    "examine",
    "failing",
    "idle_releases",
    "likely",
    "meaning",
    "place_of",
    "said",
    "standing",
    "table_of",
    "three_figures",
    "unheld",
    "worked_out",
]
