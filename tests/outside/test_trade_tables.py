"""The tables of the trade, transcribed, against the shipped knowledge.

Source: the project's own fact sheet on causes, its tables of crack courses, look-alikes, timing,
water chemistry, tank tests and cause cards. Their letters are the words strong, moderate and weak.
The list of what is not carried yet: `python -m tests.outside.test_trade_tables`.
"""

import numpy as np
import pytest

from advisor import open_knowledge
from advisor.knowledge import Knowledge
from tests.outside.trade_walk import NEAR, Seen, carries, listed, not_carried, read_table, sayings

KNOWLEDGE = open_knowledge()
PAIR_RATIO = 5.0


def close_pairs(knowledge: Knowledge) -> list[str]:
    """Each pair that its observation does not tell apart by a factor of five."""
    causes, close = list(knowledge.causes), []
    for pair in read_table("pairs"):
        families = [
            f.family for f in knowledge.families.values() if f.family.variable in pair["by"]
        ]
        for one, other in ((a, b) for a in listed(pair["one"]) for b in listed(pair["other"])):
            here, there = causes.index(one), causes.index(other)
            ratios = [f.likelihood[:, here] / f.likelihood[:, there] for f in families]
            most = max((float(np.maximum(r, 1 / r).max()) for r in ratios), default=1.0)
            if most < PAIR_RATIO - NEAR:
                close.append(f"{one} and {other} by {', '.join(pair['by'])}: ×{most:.2g}")
    return close


def test_every_statement_of_the_tables_is_carried() -> None:
    lines = not_carried(KNOWLEDGE)
    assert not lines, "\n" + "\n".join(lines)


def test_every_pair_is_told_apart_by_its_observation() -> None:
    """Some reading is five times as likely under the one as under the other, before slips."""
    close = close_pairs(KNOWLEDGE)
    assert not close, "\n" + "\n".join(close)


@pytest.mark.parametrize(
    ("p", "share", "direction", "word", "carried"),
    [
        (0.5, 0.05, "for", "strong", True),
        (0.4, 0.05, "for", "strong", False),
        (0.9, 0.6, "for", "strong", True),  # as far as the word may lift it
        (0.9, 0.95, "for", "strong", False),  # often met, but less than elsewhere
        (0.15, 0.05, "for", "moderate", True),
        (0.05, 0.5, "for", "weak", False),
        (0.05, 0.5, "against", "strong", True),
        (0.06, 0.5, "against", "strong", False),
        (0.06, 0.5, "against", "moderate", True),
        (0.25, 0.5, "at-most", "weak", True),
        (0.2, 0.5, "at-most", "weak", False),
        (0.3, 0.5, "neither", None, True),
        (0.1, 0.5, "neither", None, False),
    ],
)
def test_what_counts_as_carried(
    p: float, share: float, direction: str, word: str | None, carried: bool
) -> None:
    seen = Seen("invented", p, share)
    assert carries(KNOWLEDGE, seen, {"direction": direction, "word": word}) is carried


@pytest.mark.parametrize(
    ("table", "rows", "statements"),
    [
        ("signs_of_causes", 36, 222),
        ("crack_decoder", 16, 68),
        ("look_alikes", 12, 90),
        ("timing", 9, 19),
        ("chemistry", 19, 64),
        ("tank_tests", 4, 12),
    ],
)
def test_no_row_of_a_table_is_lost(table: str, rows: int, statements: int) -> None:
    """Rows as counted in the sheet; of the chemistry nine lines of figures and ten rules."""
    assert len({row["row"] for row in read_table(table)}) == rows
    assert len(list(sayings(table))) == statements
    assert all(row["says"] for row in read_table(table))


def test_no_pair_is_lost() -> None:
    """As counted in the sheet."""
    assert len(read_table("pairs")) == 14


if __name__ == "__main__":
    found = [
        *not_carried(KNOWLEDGE),
        *(f"not told apart: {line}" for line in close_pairs(KNOWLEDGE)),
    ]
    print("\n".join(found) or "every statement is carried, every pair told apart")
    print(f"{len(found)} to do")
