"""Small invented cases of keys that the shipped knowledge has, and their columns."""

from collections.abc import Iterable
from pathlib import Path

from advisor.library.case import (
    Closed,
    Confirmed,
    Done,
    KeptCase,
    KeptPlace,
    Looked,
    Origin,
    Shown,
    Status,
)
from advisor.library.store.columns import Columns
from advisor.library.store.store import open_library
from tests.library.made_cases import token

JOINT = "wall-foot-joint"
CRACK = "settlement-crack"
DEW = "surface-condensation"
GEL, FOAM = "gel-injection", "water-stop-foam"


def columns_of(cases: Iterable[KeptCase], folder: Path) -> Columns:
    """As a library in a new file in the folder has them."""
    path = folder / f"library-{len(list(folder.iterdir()))}.sqlite"
    with open_library(path) as library:
        library.add(cases, lambda _: b"")
        return library.columns()


def kept_case(
    number: int,
    *places: KeptPlace,
    site: int | None = None,
    kind: str = "basement",
    quarter: str | None = "2031-Q2",
    origin: Origin = "own",
    visits: int = 2,
) -> KeptCase:
    """site: None for one of its own."""
    return KeptCase(
        case=token(number),
        origin=origin,
        quarter=quarter,
        kind=kind,
        visits=visits,
        labels={} if site is None else {"site": f"site-{site}"},
        places=places,
    )


def kept_place(
    number: int = 1,
    *,
    status: Status = "watching",
    cause: str | None = None,
    shown: dict[str, float] | None = None,
    repairs: dict[int, str] | None = None,
    looks: dict[int, bool] | None = None,
    closed: tuple[int, str] | None = None,
    reopened: bool = False,
) -> KeptPlace:
    """repairs: day -> method. looks: day -> whether it was tight, with the water up."""
    return KeptPlace(
        place=number,
        status=status,
        reopened=reopened,
        shown=None
        if shown is None
        else Shown(day=0, advisor="1.0", knowledge="made", causes=shown),
        done=tuple(Done(day=day, method=method) for day, method in (repairs or {}).items()),
        confirmed=None if cause is None else Confirmed(day=5, cause=cause, how="opened-and-seen"),
        looked=tuple(
            Looked(day=day, state="tight" if tight else "worse", water_up="yes")
            for day, tight in (looks or {}).items()
        ),
        closed=None if closed is None else Closed(day=closed[0], because=closed[1]),
    )
