"""A case as rows of the tables: its body, and what is told beside it for finding and counting."""

from collections.abc import Mapping
from typing import Any

from advisor.library.case import KeptCase, KeptPlace, Shown
from advisor.library.repairs import spans

Row = dict[str, Any]


def case_row(case: KeptCase, checksum: str) -> Row:
    """Without id, version and body."""
    return {
        "token": case.case,
        "checksum": checksum,
        "format": case.format,
        "origin": case.origin,
        "invented": int(case.invented),
        "kind": case.kind,
        "quarter": case.quarter,
        "site": case.labels.get("site") or case.case,
        "visits": case.visits,
        "places": len(case.places),
    }


def place_row(place: KeptPlace) -> Row:
    """Without the case it belongs to, and not packed."""
    confirmed, shown = place.confirmed, place.shown
    cause = confirmed.cause if confirmed else None
    last = max(place.done, key=lambda one: one.day, default=None)
    if shown and confirmed and shown.day > confirmed.day:
        shown = None  # what is answered once the cause is known is no first belief
    order = _order(shown.causes) if shown else []
    return {
        "place": place.place,
        "status": place.status,
        "cause": cause,
        "how": confirmed.how if confirmed else None,
        "contributors": " ".join(confirmed.contributors) or None if confirmed else None,
        "method": last.method if last else None,
        "closed_because": place.closed.because if place.closed else None,
        "reopened": int(place.reopened),
        "first_day": _first_day(place),
        "closed_day": place.closed.day if place.closed else None,
        "shown_best": order[0] if order else None,
        "shown_rank": order.index(cause) + 1 if cause in order else None,
        "shown_confidence": _best(shown),
    }


def repair_rows(place: KeptPlace) -> list[Row]:
    """Without the place they belong to."""
    return [{"method": s.method, "held": s.held, "failed": s.failed} for s in spans(place)]


def _order(causes: Mapping[str, float]) -> list[str]:
    """As they were shown: the likeliest first, alike ones by key."""
    return sorted(causes, key=lambda cause: (-causes[cause], cause))


def _best(shown: Shown | None) -> float | None:
    return max(shown.causes.values(), default=None) if shown else None


def _first_day(place: KeptPlace) -> int:
    """The first day of which anything is told; 0, that of the first visit, where nothing is."""
    told = [one for one in (place.shown, place.confirmed, place.closed) if one]
    return min((one.day for one in (*told, *place.done, *place.looked)), default=0)
