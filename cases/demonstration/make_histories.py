"""Makes the demonstration library anew: `python -m cases.demonstration.make_histories`.

Everything in it is invented. The same world and the same knowledge give the same lines.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeVar

import numpy as np

from advisor import open_knowledge
from advisor.diagnosis import Place, table_of
from advisor.diagnosis.causes import cause_beliefs, group_beliefs, settled_on
from advisor.knowledge import Knowledge
from advisor.library.alike.findings import say_findings
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
from advisor.library.moves.lines import to_line
from advisor.repair import lasting_repairs, method_beliefs, weighed
from cases.demonstration.lives import life
from cases.demonstration.seen import Facts, Spot, found_at
from cases.demonstration.steps import Step, stand
from cases.demonstration.world import World, cause_rates, pick, read_world

HISTORIES: Final = Path(__file__).with_name("histories.jsonl")

BY: Final = "demonstration"
"""Stands for the version and the knowledge, which change more often than what was shown."""
LEAST_CAUSE: Final = 0.01
LEAST_METHOD: Final = 0.02
QUARTER: Final = 91
"""Days."""

T = TypeVar("T", Done, Confirmed, Looked, Closed)


@dataclass(frozen=True, slots=True)
class Head:
    """What is so of a case before anybody looks. days: from its first visit to the end of the
    record; spots: its wet places."""

    number: int
    token: str
    kind: str
    origin: Origin
    quarter: str
    days: int
    labels: dict[str, str]
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Known:
    """A wet place: what was found at the first visit, how it stood before any step, and its steps
    up to the end of the record."""

    facts: Facts
    first: Status
    steps: tuple[Step, ...]

    @property
    def asked(self) -> bool:
        """Whether the advisor was asked."""
        return any(step.to == "cause-proposed" for step in self.steps)


def histories(
    world: World, knowledge: Knowledge, answered: int | None = None
) -> Iterator[KeptCase]:
    """The cases, in their order. answered: how many of them with what the advisor said; None: all.

    That takes most of the time.
    """
    all_heads = list(heads(world, knowledge))
    spots = [spot for head in all_heads for spot in head.spots]
    found = iter(found_at(world, knowledge, spots))
    told = [
        (
            head,
            tuple(_known(world, knowledge, head, n, next(found)) for n in range(len(head.spots))),
        )
        for head in all_heads
    ]
    asked = [one.facts for _, places in told[:answered] for one in places if one.asked]
    answers = iter(shown(knowledge, asked))
    for head, places in told:
        yield _case(knowledge, head, places, answers)


def heads(world: World, knowledge: Knowledge) -> Iterator[Head]:
    """Each case with its site; a site keeps its kind of structure and those who built it."""
    random = np.random.default_rng([world.seed, 0])
    sites = [
        (
            pick(random, world.kinds),
            {
                label: f"{label}-{random.integers(1, count + 1)}"
                for label, count in world.labels.items()
                if label != "crew"
            },
        )
        for _ in range(world.sites)
    ]
    first, last = _quarter(world.first_quarter), _quarter(world.last_quarter)
    for number in range(world.cases):
        site = int(random.integers(world.sites))
        kind, labels = sites[site]
        crew = f"crew-{random.integers(1, world.labels['crew'] + 1)}"
        quarter = int(random.integers(first, last + 1))
        rates = cause_rates(world, knowledge, kind)
        origin = pick(random, world.origins)
        causes = [pick(random, rates) for _ in range(pick(random, world.places))]
        yield Head(
            number=number,
            token=random.bytes(16).hex(),
            kind=kind,
            origin=origin,
            quarter=f"{quarter // 4}-Q{quarter % 4 + 1}",
            days=(last - quarter) * QUARTER + int(random.integers(QUARTER)),
            labels={**labels, "crew": crew, "site": f"site-{site + 1}"},
            spots=tuple(Spot(number, kind, cause, old=origin != "own") for cause in causes),
        )


def shown(knowledge: Knowledge, places: Sequence[Facts]) -> list[Shown]:
    """What the advisor says of each place, in one run of the engine."""
    run = knowledge.engine.run(table_of(knowledge.engine, places))
    found = []
    for row, facts in enumerate(places):
        place = Place(knowledge=knowledge, run=run, row=row, facts=facts)
        causes = cause_beliefs(knowledge, run, row)
        methods = method_beliefs(weighed(place))
        lasting = lasting_repairs(knowledge, methods)
        found.append(
            Shown(
                day=0,
                advisor=BY,
                knowledge=BY,
                settled_on=settled_on(knowledge, causes, group_beliefs(knowledge, causes)),
                causes={
                    one.cause: round(one.confidence, 3)
                    for one in causes
                    if one.confidence >= LEAST_CAUSE
                },
                methods={
                    one.method: round(one.confidence, 3)
                    for one in methods
                    if one.confidence >= LEAST_METHOD
                },
                advised=lasting[0].method if lasting else None,
            )
        )
    return found


def _known(world: World, knowledge: Knowledge, head: Head, number: int, facts: Facts) -> Known:
    """What was written up years later never saw the advisor."""
    spot = head.spots[number]
    first, steps = life(world, knowledge, spot, [world.seed, 1, head.number, number])
    there = (step for step in steps if step.day <= head.days)
    kept = tuple(step for step in there if not (spot.old and step.to == "cause-proposed"))
    if first == "reported":
        facts = {
            key: fact
            for key, fact in facts.items()
            if knowledge.attributes[key.partition(".")[0]].of == "structure"
        }
    return Known(facts, first, kept)


def _case(
    knowledge: Knowledge, head: Head, places: Sequence[Known], answers: Iterator[Shown]
) -> KeptCase:
    days = {step.day for one in places for step in one.steps}
    been = any(one.first != "reported" for one in places)
    return KeptCase(
        case=head.token,
        origin=head.origin,
        invented=True,
        quarter=head.quarter,
        kind=head.kind,
        visits=len(days | {0}) if been else 0,
        labels=head.labels,
        places=tuple(
            _place(knowledge, number, known, next(answers, None) if known.asked else None)
            for number, known in enumerate(places, 1)
        ),
    )


def _place(knowledge: Knowledge, number: int, known: Known, answer: Shown | None) -> KeptPlace:
    status, reopened = stand(known.steps, known.first)
    agreed = [step.told for step in known.steps if step.to == "repair-agreed"]
    supported = [step.told for step in known.steps if step.to is None]
    return KeptPlace.model_validate(
        {
            "place": number,
            "status": status,
            "reopened": reopened,
            "findings": say_findings(knowledge, known.facts),
            "shown": answer,
            "secured": tuple(step.told for step in known.steps if step.to == "secured"),
            "agreed": agreed[-1] if agreed else None,
            "done": _told(known, Done),
            "confirmed": next(iter(_told(known, Confirmed)), None),
            "supported": supported[-1] if supported else None,
            "looked": _told(known, Looked),
            "closed": _told(known, Closed)[-1] if status == "closed" else None,
        }
    )


def _told(known: Known, entry: type[T]) -> tuple[T, ...]:
    return tuple(step.told for step in known.steps if isinstance(step.told, entry))


def _quarter(text: str) -> int:
    """`2019-Q1` as a number that counts on by one."""
    year, quarter = text.split("-Q")
    return int(year) * 4 + int(quarter) - 1


def main() -> None:
    """Write the library beside this file."""
    lines = [to_line(case) for case in histories(read_world(), open_knowledge())]
    HISTORIES.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8", newline="\n")
    print(f"{len(lines)} invented cases in {HISTORIES}")


if __name__ == "__main__":
    main()
