"""What each repair of a case tells about how long it held: a failure lies between two looks."""

from dataclasses import dataclass

from advisor.library.case import KeptPlace, Looked


@dataclass(frozen=True, slots=True)
class RepairSpan:
    """Days after the repair. held: the last look that showed it holding with the water up, 0 where
    there was none; failed: the first look that showed it had not, None where there was none.
    """

    method: str
    held: int
    failed: int | None


def holds(look: Looked) -> bool | None:
    """Whether a look shows the repair holding; None where it tests nothing.

    Wet is wet, whatever the water stands at; so is what came out further along. Dry counts only
    with the water up.
    """
    dry = look.within if look.within is not None else look.state == "tight"
    if not dry or look.state == "moved-along":
        return False
    return True if look.water_up == "yes" else None


def is_after(look: Looked, repair: int) -> bool:
    """What was seen on the day of a repair was seen before it, unless it was to prove it."""
    return look.day > repair or (look.day == repair and look.proof is not None)


def spans(place: KeptPlace) -> tuple[RepairSpan, ...]:
    """One for each repair, oldest first. The looks of one end where the next repair begins."""
    done = sorted(place.done, key=lambda one: one.day)
    found = []
    for number, one in enumerate(done):
        end = done[number + 1].day if number + 1 < len(done) else None
        held, failed = 0, None
        for look in sorted(place.looked, key=lambda one: one.day):
            if not is_after(look, one.day) or (end is not None and is_after(look, end)):
                continue
            after = max(look.day - one.day, 1)
            match holds(look):
                case False:
                    failed = after
                    break
                case True:
                    held = look.day - one.day
        found.append(RepairSpan(one.method, held, failed))
    return tuple(found)
