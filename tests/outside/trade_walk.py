"""The trade's tables, walked against the knowledge.

A table is a list of rows, each a list of statements. A statement says one thing of causes or of
waters at a reading: `direction` for, against, neither or at-most, with a `word`. Each alternative
of `any-of` is a reading by itself; the findings of one reading are made together.

What the engine makes of a reading alone, in a structure of which nothing else is known, is asked
of the compiled families, whatever their `given`: so a sign counts on whatever it leads to.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from pathlib import Path
from typing import Any

import numpy as np
import yaml

from advisor.engine import Family, Run, Table
from advisor.engine.model import Bools, Floats
from advisor.knowledge import Knowledge
from advisor.terms import read_quantity

TABLES = Path(__file__).parent / "trade_tables"
NAMES = ("signs_of_causes", "crack_decoder", "look_alikes", "timing", "chemistry", "tank_tests")
NEAR = 1e-9

Reading = Mapping[str, str]
Saying = Mapping[str, Any]
"""A statement as written, with the `cause` of its row where it names none."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What one family says of a cause at a reading: P(reading | cause), and the share."""

    family: str
    p: float
    share: float

    @property
    def times(self) -> float:
        return self.p / self.share

    def __str__(self) -> str:
        return f"×{self.times:.2g} in {self.family}"


@dataclass(frozen=True, slots=True)
class Walk:
    """All readings of the tables, one a row of `run`; the first row is nothing found.

    left: family -> (rows, readings), what each row leaves of the family's readings.
    """

    knowledge: Knowledge
    rows: Mapping[str, int]
    run: Run
    left: Mapping[str, Bools]


def read_table(name: str) -> list[dict[str, Any]]:
    """Every scalar a text, so that yes stays a word."""
    path = TABLES / f"{name}.yaml"
    rows: list[dict[str, Any]] = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
    return rows


def sayings(name: str) -> Iterator[tuple[str, Saying]]:
    """Each statement of a table with the name of its row."""
    for row in read_table(name):
        for saying in row["says"]:
            yield row["row"], {"cause": row.get("cause", [])} | saying


def not_carried(knowledge: Knowledge) -> list[str]:
    """One line for each statement, cause by cause, that the knowledge does not carry."""
    said = [(name, *both) for name in NAMES for both in sayings(name)]
    walk = _walk(knowledge, [r for _, _, saying in said for r in _readings(saying)])
    return [
        f"not carried: {name.replace('_', ' ')}, {row}: {saying['says']}: {problem}"
        for name, row, saying in said
        for problem in _problems(walk, saying)
    ]


def _problems(walk: Walk, saying: Saying) -> Iterator[str]:
    knowledge = walk.knowledge
    if "look-at" in saying:
        yielded = {a for look in knowledge.looks.values() for a in look.attributes}
        missing = [a for a in saying["look-at"] if a not in yielded]
        if missing:
            yield f"no look yields {', '.join(missing)}"
    elif "leaves-open" in saying:
        yield from (
            f"{a} is settled by it" for a in saying["leaves-open"] if _settled(walk, saying, a)
        )
    elif "deduces" in saying:
        for attribute, choice in saying["deduces"].items():
            if _settled(walk, saying, attribute) != (choice,):
                yield f"{_told(saying)} does not settle {attribute}: {choice}"
    elif "water" in saying:
        for water in listed(saying["water"]):
            if not _water_carries(walk, saying, water):
                struck = _all_struck(walk, saying)
                yield f"{_told(saying)} {_weight(saying)} {water}; it strikes {struck}"
    else:
        for cause in listed(saying["cause"]):
            found = _cause_lacks(walk, saying, cause)
            if found:
                yield f"{_told(saying)} {_weight(saying)} {cause}; {found}"


def _cause_lacks(walk: Walk, saying: Saying, cause: str) -> str:
    """What was found instead; empty where the statement is carried."""
    if "structure" in saying:
        times = _kind_times(walk.knowledge, cause, saying["structure"])
        enough = times >= walk.knowledge.weights.words[saying["word"]].times
        return "" if enough else f"found ×{times:.2g} of the mean base rate"
    rows = [walk.rows[str(r)] for r in _readings(saying)]
    wanted = saying["direction"]
    needs = walk.knowledge.causes[cause].needs
    if "need" in saying or wanted == "against":
        truth = walk.run.needs.true if wanted == "for" else walk.run.needs.false
        order = list(walk.knowledge.needs)
        if any(truth[order.index(need), row] for need in needs for row in rows):
            return ""
    if "need" in saying:
        return f"no need of it becomes {'true' if wanted == 'for' else 'false'}"
    seen = [each for row in rows for each in _seen(walk, row, cause)]
    judged = [carries(walk.knowledge, each, saying) for each in seen]
    if all(judged) if wanted in ("neither", "at-most") else any(judged):
        return ""
    return f"found {', '.join(map(str, seen))}" if seen else "no family reads it"


def carries(knowledge: Knowledge, seen: Seen, saying: Saying) -> bool:
    """A word lifts a reading by its times, or up to its ceiling: either is all it can say."""
    if saying["direction"] == "neither":
        weak = knowledge.weights.words["weak"].times
        return 1 / weak + NEAR < seen.times < weak - NEAR
    word = knowledge.weights.words[saying["word"]]
    if saying["direction"] == "against":
        return seen.times <= 1 / word.times + NEAR
    if saying["direction"] == "at-most":
        return 1 / word.times - NEAR <= seen.times <= word.times + NEAR
    lifted = seen.times >= word.times - NEAR or seen.p >= word.at_most - NEAR
    return seen.times > 1 + NEAR and lifted


def _water_carries(walk: Walk, saying: Saying, water: str) -> bool:
    """For: it is left while another is struck out. Against: struck out. Neither: not struck out.

    Or a cause of that very water carries it.
    """
    wanted = saying["direction"]
    for row in (walk.rows[str(r)] for r in _readings(saying)):
        struck = _struck(walk, row)
        if wanted == "against" and water in struck:
            return True
        if water not in struck and (wanted == "neither" or (wanted == "for" and struck)):
            return True
    own = [c.key for c in walk.knowledge.causes.values() if c.water == water]
    return wanted != "neither" and any(not _cause_lacks(walk, saying, cause) for cause in own)


def _struck(walk: Walk, row: int) -> set[str]:
    names = list(walk.knowledge.model.watched)
    return {w for w in walk.knowledge.waters if f"waters {w}" in names
            and walk.run.watched.false[names.index(f"waters {w}"), row]}  # fmt: skip


def _all_struck(walk: Walk, saying: Saying) -> str:
    struck = [_struck(walk, walk.rows[str(r)]) for r in _readings(saying)]
    return ", ".join(sorted(set().union(*struck))) or "no water out"


def _seen(walk: Walk, row: int, cause: str) -> list[Seen]:
    """All families that the row tells something."""
    column, seen = list(walk.knowledge.causes).index(cause), []
    for key, entry in walk.knowledge.families.items():
        left, family = walk.left[key][row], entry.family
        if left.any() and not left.all():
            p, share = family.likelihood[left, column].sum(), family.shares[left].sum()
            seen.append(Seen(key, float(p), float(share)))
    return seen


def _kind_times(knowledge: Knowledge, cause: str, kind: str) -> float:
    """The base rate in this kind of structure over the mean of all kinds; not named: none."""
    rate = knowledge.causes[cause].base_rate
    if isinstance(rate, float | int):
        return 1.0
    return rate.get(kind, 0.0) * len(knowledge.attributes["kind"].choices) / sum(rate.values())


def _settled(walk: Walk, saying: Saying, attribute: str) -> tuple[str, ...]:
    """The choices that are left where some are struck out, else nothing; a number: its key."""
    layout, values = walk.knowledge.engine.layout, walk.run.settled.values
    row = walk.rows[str(_readings(saying)[0])]
    if attribute in layout.number_row:
        at = layout.number_row[attribute]
        open_ = values.lo[at, row] == layout.lowest[at] and values.hi[at, row] == layout.highest[at]
        return () if open_ else (attribute,)
    at = layout.choice_row[attribute]
    mask = int(values.masks[at, row])
    return () if mask == int(layout.full[at]) else layout.choices(attribute, mask)


def _walk(knowledge: Knowledge, readings: Sequence[Reading]) -> Walk:
    distinct = {str(r): r for r in ({}, *readings)}
    run = knowledge.engine.run(_table(knowledge, [*distinct.values()]))
    return Walk(
        knowledge=knowledge,
        rows={text: i for i, text in enumerate(distinct)},
        run=run,
        left={key: _left(knowledge, f.family, run) for key, f in knowledge.families.items()},
    )


def _table(knowledge: Knowledge, readings: Sequence[Reading]) -> Table:
    """One row a reading, each of its findings sure. Raises KeyError or ValueError for no name."""
    layout = knowledge.engine.layout
    table = knowledge.engine.blank(len(readings))
    for row, reading in enumerate(readings):
        for name, text in reading.items():
            variable = layout.variables[layout.row[name]]
            table.sure[layout.row[name], row] = True
            if variable.is_choice:
                choices = frozenset(text.split(" or "))
                table.masks[layout.choice_row[name], row] = layout.mask(name, choices)
                continue
            unit = knowledge.attributes[name.partition(".")[0]].unit or ""
            found = read_quantity(text, unit)
            at = layout.number_row[name]
            table.lo[at, row], table.hi[at, row] = found.lo, found.hi
    return table


def _left(knowledge: Knowledge, family: Family, run: Run) -> Bools:
    """(rows, readings): which readings of the family each row leaves possible."""
    layout, values = knowledge.engine.layout, run.settled.values
    if not family.edges:
        bits = np.arange(len(family.readings), dtype=np.uint64)
        masks = values.masks[layout.choice_row[family.variable]].astype(np.uint64)
        choices: Bools = (masks[:, None] >> bits) & np.uint64(1) == 1
        return choices
    at = layout.number_row[family.variable]
    lower: Floats = np.array([-inf, *family.edges])
    upper: Floats = np.array([*family.edges, inf])
    bands: Bools = (values.lo[at][:, None] < upper) & (values.hi[at][:, None] > lower)
    return bands


def _readings(saying: Saying) -> list[Reading]:
    alone = [saying[key] for key in ("reading", "need") if key in saying]
    return [*saying.get("any-of", ()), *alone]


def listed(one_or_more: str | list[str]) -> list[str]:
    return [one_or_more] if isinstance(one_or_more, str) else one_or_more


def _told(saying: Saying) -> str:
    told = [" with ".join(f"{k}: {v}" for k, v in reading.items()) for reading in _readings(saying)]
    return "(" + (" / ".join(told) or saying.get("structure", "")) + ")"


def _weight(saying: Saying) -> str:
    return " ".join(saying[key] for key in ("word", "direction") if key in saying)
