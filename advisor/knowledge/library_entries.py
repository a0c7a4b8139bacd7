"""What the knowledge says about closing and keeping cases, as the floors above use it."""

from dataclasses import dataclass

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
