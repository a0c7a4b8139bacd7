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
    Sum,
    Water,
    Weights,
    Why,
    WorkedOutBy,
)
from advisor.knowledge.knowledge import Knowledge
from advisor.knowledge.opening import open_folder, open_knowledge, shipped
from advisor.knowledge.saying import both, choice_words, either, read_aloud

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
    "Sum",
    "Water",
    "Weights",
    "Why",
    "WorkedOutBy",
    "both",
    "choice_words",
    "either",
    "open_folder",
    "open_knowledge",
    "read_aloud",
    "shipped",
]
