"""The repair sheet of one wet place: the result, what the firm has, a method that is wanted."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from advisor.assessment.result import FORMAT, LeakResult, to_json
from advisor.callout import Callout, Leak
from advisor.diagnosis import examine
from advisor.knowledge import Knowledge
from advisor.repair import Order, Today, repair
from advisor.repair.amounts import Ledger
from advisor.repair.firm import Firm, best_today, fitting, orders
from advisor.terms import Problem
from advisor.version import __version__


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """advised: the method of the plan that was advised, where another is wanted; null if none fits.

    today: null where the firm's own files are not given.
    """

    leak: LeakResult
    advised: str | None
    orders: tuple[Order, ...]
    today: Today | None


@dataclass(frozen=True, kw_only=True)
class Sheets:
    """All wet places of the files that could be read, and what is wrong with the others."""

    format: int = FORMAT
    advisor: str = __version__
    knowledge: str
    sheets: tuple[Sheet, ...]
    problems: tuple[Problem, ...]

    def to_json(self) -> str:
        """The sheets as one JSON document."""
        return to_json(self)


def repair_sheets(
    callouts: Iterable[Callout],
    knowledge: Knowledge,
    *,
    leak: str | None = None,
    method: str | None = None,
    firm: Firm | None = None,
    problems: Sequence[Problem] = (),
) -> Sheets:
    """leak: only wet places of this key. method: what somebody wants, fit or not. firm: what it
    has today. problems: of the files that could not be read."""
    return Sheets(
        knowledge=knowledge.fingerprint,
        sheets=tuple(
            _sheet(callout, place, knowledge, method, firm)
            for callout in callouts
            for place in callout.leaks
            if leak in (None, place.key)
        ),
        problems=tuple(problems),
    )


def _sheet(
    callout: Callout, wet: Leak, knowledge: Knowledge, method: str | None, firm: Firm | None
) -> Sheet:
    diagnosis, place = examine(knowledge, callout, wet)
    methods, advised = repair(place, diagnosis)
    plan = advised if method is None else repair(place, diagnosis, method)[1]
    has = firm or Firm()
    today = None
    if firm is not None:
        today = best_today(has, Ledger(place), fitting(knowledge, methods), callout.last_day)
    return Sheet(
        leak=LeakResult(
            file=callout.file, leak=wet.key, methods=methods, plan=plan, **vars(diagnosis)
        ),
        advised=advised.method,
        orders=orders(has, plan.load),
        today=today,
    )
