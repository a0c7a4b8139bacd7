"""The knowledge as a whole, as the floors above use it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.engine import Circuit, Condition, Engine, Model, compile_circuit, compile_engine
from advisor.knowledge.entries import (
    Cause,
    Contributor,
    DeductionEntry,
    FamilyEntry,
    Group,
    Look,
    NeedEntry,
    Source,
    Stop,
    Sum,
    Water,
    Weights,
    WorkedOutBy,
)
from advisor.knowledge.library_entries import Closing, History, Keeping
from advisor.knowledge.repair_entries import (
    Caution,
    Limit,
    Material,
    Method,
    Moment,
    Proof,
    Quantity,
)
from advisor.terms import Attribute, Problem

if TYPE_CHECKING:
    from advisor.knowledge.folder import Sections


@dataclass(frozen=True, eq=False)
class Knowledge:
    """Entries by key, in the order of their files, and the engine they make."""

    fingerprint: str
    folders: tuple[Path, ...]
    """Where it was read: the folder that stands below, and the one laid over it."""
    attributes: Mapping[str, Attribute]
    applies: Mapping[str, Condition]
    worked_out: tuple[WorkedOutBy, ...]
    sums: Mapping[str, Sum]
    groups: Mapping[str, Group]
    waters: Mapping[str, Water]
    needs: Mapping[str, NeedEntry]
    causes: Mapping[str, Cause]
    deductions: Mapping[str, DeductionEntry]
    families: Mapping[str, FamilyEntry]
    contributors: Mapping[str, Contributor]
    looks: Mapping[str, Look]
    stops: Mapping[str, Stop]
    limits: Mapping[str, Limit]
    methods: Mapping[str, Method]
    moments: Mapping[str, Moment]
    quantities: Mapping[str, Quantity]
    materials: Mapping[str, Material]
    cautions: Mapping[str, Caution]
    proofs: Mapping[str, Proof]
    closing: Mapping[str, Closing]
    keeping: Mapping[str, Keeping]
    for_repair: Mapping[str, Condition]
    """Conditions that a plan asks, by section, key and part."""
    weights: Weights
    sources: Mapping[str, Source]
    phrases: Mapping[str, str]
    """Fixed sentences, headings and units of speech, with `{names}` for what is filled in."""
    model: Model
    differences: tuple[Problem, ...]
    changed: int
    """Entries that the folder laid over adds, replaces or words anew."""
    history: History | None = None
    """The own cases that base rates and rates of methods were updated with."""

    @cached_property
    def kinds(self) -> Mapping[str, str]:
        """The kinds of structure, with their labels."""
        return {choice.key: choice.label for choice in self.attributes["kind"].choices}

    def say(self, phrase: str, **given: object) -> str:
        """A phrase with what it is given filled in. Its key and its names are in `asked.py`."""
        return self.phrases[phrase].format(**given)

    @cached_property
    def engine(self) -> Engine:
        """The compiled rule base."""
        return compile_engine(self.model)

    @cached_property
    def repair_circuit(self) -> Circuit:
        """The truth of `for_repair`, row by row; asked only of what is to be repaired."""
        return compile_circuit([*self.for_repair.values()], self.engine.layout)

    @cached_property
    def sections(self) -> "Sections":
        """The entries as written, each with its place: read again, for who asks."""
        from advisor.knowledge.laying import read_folders  # noqa: PLC0415

        return read_folders(*self.folders).sections

    @cached_property
    def remarks(self) -> tuple[Problem, ...]:
        """What is odd but stops nothing, and what an overlay changed."""
        from advisor.knowledge.remarks import find_remarks  # noqa: PLC0415

        return (
            *self.differences,
            *find_remarks(self.model, self.sections, self.for_repair.values()),
        )
