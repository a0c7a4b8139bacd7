"""Reads and checks the knowledge folder and compiles it for the engine."""

from advisor.knowledge.conditions import READINGS_OF, Vocabulary, read_condition
from advisor.knowledge.entries import (
    NOT_IN_THIS_LIST,
    OTHER_SIDE,
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
from advisor.knowledge.folder import shipped
from advisor.knowledge.knowledge import Knowledge, open_folder, open_knowledge

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
    "Vocabulary",
    "Water",
    "Weights",
    "Why",
    "open_folder",
    "open_knowledge",
    "read_condition",
    "shipped",
]
