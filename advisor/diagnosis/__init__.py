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
    Part,
    StopState,
    Through,
    WaterBelief,
)
from advisor.diagnosis.rows import table_of

__all__ = [
    "CauseBelief",
    "Conflict",
    "ContributorState",
    "Diagnosis",
    "Evidence",
    "GroupBelief",
    "NeedFactor",
    "NextLook",
    "Part",
    "StopState",
    "Through",
    "WaterBelief",
    "diagnose",
    "table_of",
]
