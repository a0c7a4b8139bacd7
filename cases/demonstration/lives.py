"""What becomes of an invented wet place: secured, confirmed, repaired, looked at, closed, reopened.

A life is a list of steps by day, drawn without an end; who writes it down cuts it off where the
record ends.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np

from advisor.knowledge import Knowledge
from advisor.library.case import Closed, Confirmed, Done, Looked, Packer, State, Status, WaterUp
from advisor.library.repairs import holds
from cases.demonstration.seen import Spot
from cases.demonstration.steps import Step, proved
from cases.demonstration.world import LaterLook, World, cause_rates, law_of, pick

MONTH: Final = 365.25 / 12
"""Days."""


def life(
    world: World, knowledge: Knowledge, spot: Spot, seed: Sequence[int]
) -> tuple[Status, list[Step]]:
    """How a wet place stands before any step, and its steps, oldest first, from day 0 on."""
    return _Life(world, knowledge, spot, np.random.default_rng(seed)).told()


class _Life:
    """Draws for one wet place."""

    def __init__(
        self, world: World, knowledge: Knowledge, spot: Spot, random: np.random.Generator
    ) -> None:
        self.world, self.knowledge, self.random = world, knowledge, random
        self.truth, self.kind = spot.cause, spot.kind
        self.rates = cause_rates(world, knowledge, spot.kind)
        self.group = knowledge.groups[knowledge.causes[spot.cause].group]

    def told(self) -> tuple[Status, list[Step]]:
        stays: dict[Status | None, float] = dict(self.world.stays_at.items())
        last = pick(self.random, {**stays, None: 1 - sum(stays.values())})
        # It was reported by telephone, and nobody has been there yet.
        first: Status = "reported" if last in ("reported", "secured") else "looked-at"
        return first, self.steps(last)

    def steps(self, last: Status | None) -> list[Step]:
        """last: where it stays; None: it goes on."""
        found = list[Step]()
        if last == "reported":
            return found
        if last == "secured" or self.happens(self.world.secured.share):
            found.append(Step(0, "secured", pick(self.random, self.world.secured.methods)))
        if last == "handed-over":
            found.append(Step(self.days(3, 60), "handed-over"))
        elif last not in ("secured", "looked-at"):
            found += [Step(0, "cause-proposed"), *self.after_the_answer(last)]
        return found

    def after_the_answer(self, last: Status | None) -> list[Step]:
        found = list[Step]()
        if last == "cause-proposed":
            return found
        day = self.days(0, 25)
        if last == "cause-confirmed" or self.happens(self.world.confirmed.share):
            found.append(Step(day, "cause-confirmed", self.confirmed(day)))
        if last == "cause-confirmed":
            return found
        if last == "repair-agreed":
            return [*found, Step(self.days(day, day + 30), "repair-agreed", self.method())]
        if (because := self.closed_without()) is not None:
            day = self.days(day, day + 60)
            return [*found, Step(day, "closed", Closed(day=day, because=because))]
        return [*found, *self.repairs(day)]

    def closed_without(self) -> str | None:
        if self.group.through == "no" and self.happens(self.world.not_through_closed):
            return "not-through-the-structure"
        shares: dict[str | None, float] = dict(self.world.closed_without.items())
        return pick(self.random, {**shares, None: 1 - sum(shares.values())})

    def confirmed(self, day: int) -> Confirmed:
        opinions = self.world.confirmed
        how = pick(self.random, opinions.how)
        right = how != "experts-opinion" or self.happens(opinions.opinion_right)
        return Confirmed(
            day=day,
            cause=self.truth if right else pick(self.random, self.rates),
            contributors=tuple(
                key for key, share in opinions.contributors.items() if self.happens(share)
            ),
            how=how,
            role=pick(self.random, opinions.roles),
            accepted_by="owner" if self.happens(opinions.accepted) else None,
        )

    def method(self) -> str:
        """What the firm does against what it takes for the cause."""
        right = self.happens(self.world.acts_on_the_truth)
        cause = self.truth if right else pick(self.random, self.rates)
        does = self.world.does
        return pick(self.random, does.get(cause) or does[self.knowledge.causes[cause].group])

    def repairs(self, day: int) -> list[Step]:
        """Rounds of repair and looks, until one holds, or nobody comes again."""
        again, found = self.world.again, list[Step]()
        for round_ in range(again.most):
            method = self.method()
            if self.happens(self.world.agreed):
                day = self.days(day, day + 21)
                found.append(Step(day, "repair-agreed", method))
            day = self.days(day, day + 40)
            found.append(Step(day, "repaired", self.done(day, method)))
            looks = self.looks(day, method)
            found += looks
            last = looks[-1].told if looks else None
            if not isinstance(last, Looked) or holds(last) is not False:
                break
            day = last.day
            if self.happens(again.handed_over):
                return [*found, Step(day + self.days(1, 30), "handed-over")]
            if round_ + 1 == again.most or not self.happens(again.share):
                break
            day += self.days(3, 60)
        return found

    def done(self, day: int, method: str) -> Done:
        used = self.world.used
        amount = used.methods.get(method)
        if amount is None or not self.happens(used.share):
            return Done(day=day, method=method)
        volume = amount.from_ * (amount.to / amount.from_) ** self.random.random()
        count = amount.packers if self.happens(used.packers_written_down) else 0
        parts = self.random.dirichlet(np.full(count, 2.0)) if count else np.empty(0)
        packers = tuple(
            Packer(
                pressure=float(self.days(5, 90)),
                volume=round(float(part * volume), 2),
                minutes=float(self.days(1, 25)),
            )
            for part in parts
        )
        quantities = {amount.what: f"{volume:.2g} {amount.unit}"}
        return Done(day=day, method=method, quantities=quantities, packers=packers)

    def looks(self, repaired: int, method: str) -> list[Step]:
        """The looks after one repair, up to the first that shows it wet."""
        world = self.world
        fails = MONTH * law_of(world, self.knowledge, method, self.truth).draw(self.random)
        calls = fails + self.random.random() * world.calls_again.within
        called = self.happens(world.calls_again.share)
        found: list[Step] = []
        closed, passed = False, set[str]()
        for planned in world.later_looks:
            after = self.days(planned.from_, planned.to)
            if found and after <= found[-1].day - repaired:
                continue
            if called and calls < after:
                break
            if self.happens(planned.missed):
                continue
            look = self.looked(repaired + after, planned, failed=after >= fails)
            found.append(Step(look.day, "watching", look))
            if holds(look) is False:
                return found
            if holds(look):
                passed.add(look.proof or "")
            if holds(look) and not closed and after >= world.closing.after:
                closed = self.may_close(passed) and self.happens(world.closing.share)
                found += self.closing(look.day) if closed else []
            if self.happens(world.lost_after_a_look):
                return found
        if called and calls < 40_000:
            day = repaired + max(int(calls), 1)
            seen = Looked(day=day, state=self.wet(), within=False, water_up="yes")
            found.append(Step(day, "watching", seen))
        return found

    def may_close(self, passed: set[str]) -> bool:
        return proved(self.knowledge, self.group.key, self.kind, passed)

    def closing(self, day: int) -> list[Step]:
        closed = Step(day, "closed", Closed(day=day, because="held"))
        speaks = self.happens(self.world.closing.supported)
        return [closed, Step(day, None, self.truth)] if speaks else [closed]

    def looked(self, day: int, planned: LaterLook, *, failed: bool) -> Looked:
        world = self.world
        down = 1 - planned.up - planned.unclear
        shares: dict[WaterUp, float] = {"yes": planned.up, "unknown": planned.unclear, "no": down}
        up = pick(self.random, shares)
        dry = not failed or (up == "no" and self.happens(world.looks_dry_without_water))
        nearly = dry and self.happens(world.dry_but_not_quite)
        above = None
        if up != "unknown" and self.happens(world.heights_written_down):
            height = round(float(self.random.random()) * 1.2, 1)
            above = height if up == "yes" else -height - 0.1
        return Looked(
            day=day,
            state="better" if nearly else "tight" if dry else self.wet(),
            within=True if nearly else None if dry else False,
            water_up=up,
            water_above=above,
            proof=world.proofs_of_kinds.get(self.kind, {}).get(planned.proof or "", planned.proof),
        )

    def wet(self) -> State:
        """How it looks when it is wet again."""
        return pick(self.random, self.world.states_when_failed)

    def happens(self, share: float) -> bool:
        return bool(self.random.random() < share)

    def days(self, low: int, high: int) -> int:
        """Any whole number of days, both ends included."""
        return int(self.random.integers(low, high + 1))
