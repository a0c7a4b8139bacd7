"""Causes ranked and explained, stops, the next looks, and what the belief hangs on."""

from advisor.diagnosis.diagnose import diagnose
from advisor.diagnosis.result import (
    CauseBelief,
    Conflict,
    ContributorState,
    Diagnosis,
    Evidence,
    GroupBelief,
    NeedFactor,
    NextLook,
    StopState,
    Through,
    WaterBelief,
)
from advisor.diagnosis.rows import table_of
from advisor.diagnosis.signs import answered_by, barring

__all__ = [
    "CauseBelief",
    "Conflict",
    "ContributorState",
    "Diagnosis",
    "Evidence",
    "GroupBelief",
    "NeedFactor",
    "NextLook",
    "StopState",
    "Through",
    "WaterBelief",
    "answered_by",
    "barring",
    "diagnose",
    "table_of",
]
