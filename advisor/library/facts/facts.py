"""What the library tells of its cases, counted."""

from dataclasses import dataclass
from typing import Final, Literal

from advisor.knowledge import Knowledge
from advisor.library.facts.causes import CauseCount, cause_counts
from advisor.library.facts.first_beliefs import FirstBeliefs, first_beliefs
from advisor.library.facts.holding_facts import WhatHeld, what_held
from advisor.library.facts.paths import paths_of
from advisor.library.facts.rates import Rates, rates
from advisor.library.facts.standing import Standings, standings
from advisor.library.facts.supplied import Supplied
from advisor.library.store.columns import Columns

FORMAT: Final = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class LibraryFacts:
    """As published. invented: the library is a demonstration. rates: None without a base."""

    format: Literal[1] = FORMAT
    invented: bool
    knowledge: str
    standing: Standings
    causes: tuple[CauseCount, ...]
    held: WhatHeld
    first_beliefs: FirstBeliefs
    rates: Rates | None


def facts_of(
    knowledge: Knowledge,
    columns: Columns,
    supplied: Supplied | None = None,
    *,
    invented: bool = False,
) -> LibraryFacts:
    """supplied: what was built, the base of the rates."""
    paths = paths_of(knowledge, columns)
    return LibraryFacts(
        invented=invented,
        knowledge=knowledge.fingerprint,
        standing=standings(knowledge, columns, paths),
        causes=cause_counts(columns),
        held=what_held(knowledge, columns, paths),
        first_beliefs=first_beliefs(columns),
        rates=None if supplied is None else rates(knowledge, columns, paths, supplied),
    )
