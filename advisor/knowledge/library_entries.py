"""What the knowledge says about closing and keeping cases, as the floors above use it."""

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.engine.model import Floats
from advisor.knowledge.entries import Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """What has to be proved before a case is closed as held: one of `proofs`.

    groups, kinds: paths and kinds of structure that it is asked for; empty: all.
    """

    key: str
    label: str
    proofs: tuple[str, ...]
    groups: tuple[str, ...]
    kinds: tuple[str, ...]
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """How the case library keeps an attribute. key: that of the attribute.

    bands: edges, rising, in its unit; empty: as found. leave_out: never kept. backfill: asked of
    an old case.
    """

    key: str
    bands: tuple[float, ...]
    leave_out: bool
    backfill: bool
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class History:
    """What the firm's own cases add to the book: how many counted, and how much is still book.

    base_weight: cases that the shipped base rates of a kind are worth; rate_times: what the
    shipped weights of the rates of methods are taken times. book_rates: (kinds, causes), the part
    of each base rate that the book gives. book_shares: method -> cause -> the share of the rate
    that the book gives. invented: from a demonstration, for trying out only.
    """

    invented: bool
    places: int
    repairs: int
    base_weight: float
    rate_times: float
    book_rates: Floats
    book_shares: Mapping[str, Mapping[str, float]]
