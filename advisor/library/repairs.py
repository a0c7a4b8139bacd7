"""What each repair of a case tells about how long it held: a failure lies between two looks."""

from dataclasses import dataclass

from advisor.callout.log_record import is_after, shows_holding
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
    """Whether it shows the repair holding; None where it tests nothing."""
    return shows_holding(look.state, look.within, look.water_up)


def spans(place: KeptPlace) -> tuple[RepairSpan, ...]:
    """One for each repair, oldest first. The looks of one end where the next repair begins."""
    done = sorted(place.done, key=lambda one: one.day)
    found = []
    for number, one in enumerate(done):
        end = done[number + 1].day if number + 1 < len(done) else None
        held, failed = 0, None
        for look in sorted(place.looked, key=lambda one: one.day):
            if not is_after(look.day, one.day, look.proof):
                continue
            if end is not None and is_after(look.day, end, look.proof):
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
