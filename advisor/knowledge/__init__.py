"""Reads and checks the knowledge folder and compiles it for the engine."""

from advisor.knowledge.entries import (
    NOT_IN_THIS_LIST,
    OTHER_SIDE,
    READINGS_OF,
    STEPS,
    UNLISTED,
    Cause,
    Contributor,
    FamilyEntry,
    Group,
    Look,
    NeedEntry,
    Source,
    Stop,
    Water,
    Weights,
    Why,
)
from advisor.knowledge.knowledge import Knowledge
from advisor.knowledge.opening import open_folder, open_knowledge, shipped

__all__ = [
    "NOT_IN_THIS_LIST",
    "OTHER_SIDE",
    "READINGS_OF",
    "STEPS",
    "UNLISTED",
    "Cause",
    "Contributor",
    "FamilyEntry",
    "Group",
    "Knowledge",
    "Look",
    "NeedEntry",
    "Source",
    "Stop",
    "Water",
    "Weights",
    "Why",
    "open_folder",
    "open_knowledge",
    "shipped",
]
