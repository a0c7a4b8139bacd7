"""Simulated leaks: drawn from the knowledge's own tables, or from a perturbed copy, then diagnosed.

Not an outside check: it says how good the calculus is where the world is as the tables say,
and how it bears a world that is somewhat different. `python -m tests.bench.simulation` prints
the report. Seeded throughout.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from advisor import open_knowledge
from advisor.engine import Engine, Family, Table
from advisor.knowledge import Knowledge

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]
Bools = npt.NDArray[np.bool_]

LEAKS = 5_000
KEPT: tuple[int | None, ...] = (15, 30, None)
COPYING = (0.0, 0.5, 0.9)
PERTURBED = 3.0
BINS = 15

KINDS: Mapping[str, float] = {
    "basement": 0.24,
    "underground-car-park": 0.17,
    "lift-pit": 0.07,
    "raft": 0.04,
    "ramp": 0.03,
    "light-well": 0.03,
    "retaining-wall": 0.04,
    "diaphragm-or-secant-wall": 0.04,
    "podium-deck": 0.05,
    "planter-or-fountain": 0.01,
    "industrial-floor": 0.03,
    "tank": 0.02,
    "drinking-water-reservoir": 0.03,
    "waste-water-tank": 0.04,
    "digester-or-silo": 0.01,
    "swimming-pool": 0.04,
    "sprinkler-or-heat-tank": 0.02,
    "containment-bund": 0.01,
    "manhole-or-pump-station": 0.03,
    "tunnel": 0.03,
    "culvert": 0.01,
    "dam": 0.01,
}
"""Share of each kind among the callouts: the project's own guess, nobody has counted."""


@dataclass(frozen=True, slots=True)
class Leaks:
    """kind, truth: (leaks,); reading, read: (families, leaks), what each family shows, and if."""

    kind: Ints
    truth: Ints
    reading: Ints
    read: Bools


@dataclass(frozen=True, slots=True)
class Score:
    top_1: float
    top_3: float
    ece: float


def tables_of(knowledge: Knowledge, *, perturbed: float, seed: int) -> list[Floats]:
    """P(reading | cause) of each family, slips of sure findings in it.

    perturbed: each figure is multiplied by up to this, either way (log-uniform), and the
    column made to sum to 1 again.
    """
    random, model = np.random.default_rng(seed), knowledge.model
    tables = []
    for family in model.families:
        most = np.log(perturbed)
        table = family.likelihood * np.exp(random.uniform(-most, most, family.likelihood.shape))
        table /= table.sum(axis=0)
        right = model.right_sure
        tables.append(right * table + (1 - right) * family.shares[:, None])
    return tables


def draw(
    knowledge: Knowledge, tables: Sequence[Floats], *, copying: float, seed: int, leaks: int
) -> Leaks:
    """Kind by its share, cause by base rate, each family its reading.

    copying: chance that a family of a story repeats what the first of it told: it takes the
    same quantile, its readings ordered by how much they speak for the true cause.
    """
    random, engine = np.random.default_rng(seed), knowledge.engine
    rates = engine.calculus.base_rates
    kinds = next(v for v in knowledge.model.variables if v.key == "kind").choices
    shares = np.array([KINDS.get(kind, 0.0) for kind in kinds])
    kind = random.choice(len(kinds), leaks, p=shares / shares.sum())
    steps = (rates / rates.sum(axis=1, keepdims=True)).cumsum(axis=1)[kind]
    truth = (random.random(leaks)[:, None] > steps).sum(axis=1).clip(max=rates.shape[1] - 1)
    reading = np.empty((len(tables), leaks), dtype=np.intp)
    told: dict[str, Floats] = {}
    for i, (family, table) in enumerate(zip(knowledge.model.families, tables, strict=True)):
        quantile = random.random(leaks)
        if family.story is not None:
            first = told.setdefault(family.story, quantile)
            quantile = np.where(random.random(leaks) < copying, first, quantile)
        reading[i] = _at(family, table, truth, quantile)
    return Leaks(kind, truth, reading, _which_are_read(engine, kind, reading))


def _at(family: Family, table: Floats, truth: Ints, quantile: Floats) -> Ints:
    """The reading at a quantile, readings in the order in which they speak for the cause."""
    speaks = table / family.shares[:, None]
    order = np.argsort(-speaks, axis=0)[:, truth]
    steps = np.take_along_axis(table[:, truth], order, axis=0).cumsum(axis=0)
    place = (quantile > steps).sum(axis=0).clip(max=len(family.readings) - 1)
    found: Ints = np.take_along_axis(order, place[None], axis=0)[0]
    return found


def _which_are_read(engine: Engine, kind: Ints, reading: Ints) -> Bools:
    """Where a family's attribute applies and its `given` holds, from what the others show."""
    read = np.zeros(reading.shape, dtype=np.bool_)
    while True:
        table = table_of(engine, kind, reading, read)
        settled = engine.settler.settle(table)
        answers = engine.questions.evaluate(settled.both).rows(slice(0, kind.size))
        needs = len(engine.model.needs)
        now = settled.values.applies[engine.reader.rows]
        now[engine.reader.with_given] &= answers.true[needs + engine.reader.given]
        if not (now & ~read).any():
            return read
        read |= now


def table_of(engine: Engine, kind: Ints, reading: Ints, known: Bools) -> Table:
    """The engine's table: each known reading set on the attribute that its family reads."""
    layout, table = engine.layout, engine.blank(kind.size)
    one = layout.full.dtype.type(1)
    table.masks[layout.choice_row["kind"]] = one << kind.astype(layout.full.dtype)
    for family, found, here in zip(engine.model.families, reading, known, strict=True):
        if family.edges:
            row = layout.number_row[family.variable]
            edges = np.array([layout.lowest[row], *family.edges, layout.highest[row]])
            table.lo[row, here] = edges[found[here]]
            table.hi[row, here] = edges[found[here] + 1]
        else:
            row = layout.choice_row[family.variable]
            table.masks[row, here] = one << found[here].astype(layout.full.dtype)
    return table


def kept(leaks: Leaks, readings: int | None, seed: int) -> Leaks:
    """Only so many readings a leak, at random; None: all."""
    if readings is None:
        return leaks
    order = np.random.default_rng(seed).random(leaks.read.shape)
    order[~leaks.read] = 2.0
    rank = order.argsort(axis=0).argsort(axis=0)
    return replace(leaks, read=leaks.read & (rank < readings))


def score(engine: Engine, leaks: Leaks) -> Score:
    """Top-1, top-3, and the expected calibration error of the leader in equal bins."""
    beliefs = engine.beliefs(table_of(engine, leaks.kind, leaks.reading, leaks.read))
    order = np.argsort(-beliefs, axis=1)
    right = order[:, 0] == leaks.truth
    sure = beliefs.max(axis=1)
    bins = (sure * BINS).astype(np.intp).clip(max=BINS - 1)
    ece = sum(
        abs(right[bins == b].mean() - sure[bins == b].mean()) * (bins == b).mean()
        for b in np.unique(bins)
    )
    in_three = (order[:, :3] == leaks.truth[:, None]).any(axis=1)
    return Score(float(right.mean()), float(in_three.mean()), float(ece))


def report(knowledge: Knowledge, *, leaks: int = LEAKS, seed: int = 1) -> list[str]:
    """A line for each world, copying and number of readings."""
    lines = []
    for perturbed in (1.0, PERTURBED):
        tables = tables_of(knowledge, perturbed=perturbed, seed=seed)
        for copying in COPYING:
            drawn = draw(knowledge, tables, copying=copying, seed=seed + 1, leaks=leaks)
            for n in KEPT:
                found = score(knowledge.engine, kept(drawn, n, seed + 2))
                lines.append(
                    f"tables times {perturbed:g}, copying {copying:.1f}, "
                    f"{n if n is not None else f'all ({drawn.read.sum(axis=0).mean():.0f})'}"
                    f" readings: top-1 {found.top_1:.3f}, top-3 {found.top_3:.3f}, "
                    f"ECE {found.ece:.3f}"
                )
    return lines


if __name__ == "__main__":
    print("\n".join(report(open_knowledge())))
