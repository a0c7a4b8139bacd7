"""Small invented cases, the same for the same number; their keys belong to no knowledge."""

from hashlib import sha256
from random import Random

from advisor.library.case import (
    Closed,
    Confirmed,
    Done,
    KeptCase,
    KeptFinding,
    KeptPlace,
    Looked,
    Packer,
    Shown,
    State,
    Status,
    WaterUp,
)

KINDS = ("made-cellar", "made-tank", "made-tunnel", "made-pool")
CAUSES = tuple(f"made-cause-{word}" for word in ("one", "two", "three", "four", "five", "six"))
METHODS = ("made-resin", "made-gel", "made-mortar", "made-sheet")
STATUSES: tuple[Status, ...] = ("cause-confirmed", "repaired", "watching", "closed", "reopened")
STATES: tuple[State, ...] = ("tight", "tight", "tight", "better", "worse", "moved-along")
WATER_UP: tuple[WaterUp, ...] = ("yes", "yes", "no", "unknown")


def token(number: int) -> str:
    """The token of a made case."""
    return sha256(f"made {number}".encode()).hexdigest()[:32]


def made_case(
    number: int, *, seed: int = 0, invented: bool = False, note: str | None = None
) -> KeptCase:
    """seed: another one gives other content to the same token. note: written at each place."""
    random = Random(f"{seed} {number}")
    return KeptCase(
        case=token(number),
        origin=random.choice(("own", "own", "from-records", "remembered")),
        invented=invented,
        quarter=f"{random.randint(2015, 2030)}-Q{random.randint(1, 4)}",
        kind=random.choice(KINDS),
        visits=random.randint(1, 9),
        labels={"crew": f"crew-{random.randint(1, 9)}", "site": f"site-{number // 2}"},
        places=tuple(
            made_place(place, random, note) for place in range(1, random.randint(1, 3) + 1)
        ),
    )


def made_place(place: int, random: Random, note: str | None = None) -> KeptPlace:
    """A wet place with findings, an answer, repairs and looks."""
    causes = random.sample(CAUSES, 4)
    status = random.choice(STATUSES)
    first = random.randint(0, 20)
    repairs = [first + 10 + 90 * n for n in range(random.randint(0, 2))]
    return KeptPlace(
        place=place,
        status=status,
        reopened=status == "reopened",
        findings={
            f"made-attribute-{n}": KeptFinding(value=random.choice(("yes", "no", "a or b", "3 mm")))
            for n in random.sample(range(40), 12)
        },
        shown=Shown(
            day=first,
            advisor="1.0",
            knowledge="made",
            settled_on="cause",
            causes=dict(zip(causes, (0.6, 0.2, 0.15, 0.05), strict=True)),
            methods={METHODS[0]: 0.8, METHODS[1]: 0.5},
            advised=METHODS[0],
        ),
        done=tuple(
            Done(
                day=day,
                method=random.choice(METHODS),
                quantities={"made-amount": "3 L"},
                packers=(Packer(pressure=20, volume=0.5),),
            )
            for day in repairs
        ),
        confirmed=Confirmed(
            day=first + 5,
            cause=random.choice(causes),
            contributors=("made-contributor",),
            how="opened-and-seen",
        )
        if random.random() < 0.7
        else None,
        looked=tuple(
            Looked(day=day + after, state=random.choice(STATES), water_up=random.choice(WATER_UP))
            for day in repairs
            for after in (30, 80)
        ),
        closed=Closed(day=first + 300, because="held") if status == "closed" else None,
        note=note,
    )
