"""Remarks stop nothing. The separation of causes is checked against plain arithmetic."""

from math import log
from pathlib import Path

import pytest

from advisor.engine import Model, separations
from advisor.knowledge import Knowledge, open_knowledge
from tests.knowledge.laying import WHY, lay, sign, yes_no_family

CAUSE = f"  label: own cause\n  group: own-group\n  water: other-side\n  base-rate: 0.01\n{WHY}"


GROUP = f"own-group:\n  label: own group\n  through: yes\n{WHY}"


def told(knowledge: Knowledge, words: str) -> dict[str, str]:
    found = [p for p in knowledge.remarks if words in p.message]
    assert all(p.line and p.file for p in found)
    return {p.key or "": p.message for p in found}


def decibels(model: Model, one: int, other: int) -> float:
    """10 / ln 10 x the smaller of the two sums, over all families and readings, slips on."""
    there = back = 0.0
    for family in model.families:
        for reading, share in enumerate(family.shares):
            p, q = (
                0.97 * float(family.likelihood[reading, i]) + 0.03 * float(share)
                for i in (one, other)
            )
            there += p * log(p / q)
            back += q * log(q / p)
    return 10 / log(10) * min(there, back)


def test_separations_are_the_sums_worked_out_by_hand() -> None:
    model = open_knowledge().model
    keys = [h.key for h in model.hypotheses]
    found = separations(model)
    assert len(found) > 60
    for pair in found:
        plain = decibels(model, keys.index(pair.one), keys.index(pair.other))
        assert pair.decibels == pytest.approx(plain, rel=1e-9)
    assert [p.decibels for p in found] == sorted(p.decibels for p in found)


def test_a_fault_within_the_other_is_exempt() -> None:
    model = open_knowledge().model
    pairs = {frozenset((pair.one, pair.other)) for pair in separations(model)}
    keys = [h.key for h in model.hypotheses]
    within = {frozenset((h.key, other)) for h in model.hypotheses for other in h.within}
    assert within
    assert len(pairs) == len(keys) * (len(keys) - 1) // 2 - len(within)
    assert not pairs & within


def test_a_cause_no_family_speaks_for_is_named_and_hardly_told_apart(tmp_path: Path) -> None:
    own = open_knowledge(lay(tmp_path, groups=GROUP, causes=f"own-cause:\n{CAUSE}"))
    assert told(own, "no family speaks") == {"own-cause": "no family speaks for this cause"}
    assert "only 0.0 dB apart from own-cause" in told(own, "dB apart")["not-in-this-list"]


def test_what_speaks_against_a_cause_at_one_reading_speaks_for_it_at_the_others(
    tmp_path: Path,
) -> None:
    family = yes_no_family("own", "own-sign", "{own-cause: weak against}")
    causes = f"own-cause:\n{CAUSE}"
    folder = lay(
        tmp_path, groups=GROUP, causes=causes, families=family, attributes=sign("own-sign")
    )
    own = open_knowledge(folder)
    assert told(own, "no family speaks") == {}
    keys = [h.key for h in own.model.hypotheses]
    plain = decibels(own.model, keys.index("not-in-this-list"), keys.index("own-cause"))
    assert 0 < plain < 10
    assert f"only {plain:.1f} dB apart from own-cause" in told(own, "dB apart")["not-in-this-list"]


def test_an_unused_deduction_and_one_that_is_used(tmp_path: Path) -> None:
    attributes = sign("own-sign") + sign("own-second")
    unused = f"own:\n  when: {{repaired-before: yes}}\n  then: {{own-sign: yes}}\n{WHY}"
    assert told(
        open_knowledge(lay(tmp_path / "a", attributes=attributes, deductions=unused)),
        "nothing reads",
    ) == {"own": "nothing reads own-sign"}
    used = f"{unused}next:\n  when: {{own-sign: yes}}\n  then: {{own-second: yes}}\n{WHY}"
    assert told(
        open_knowledge(lay(tmp_path / "b", attributes=attributes, deductions=used)), "nothing reads"
    ) == {"next": "nothing reads own-second"}


def test_every_again_is_named(tmp_path: Path) -> None:
    family = yes_no_family("own", "own-sign").replace(
        "  label", "  again: Asked for a test.\n  label"
    )
    need = (
        "movement-joints-exist:\n  label: joints\n  when: {joint-kind: movement-joint}\n"
        f"  share: 0.35\n  again: Asked for a second test.\n{WHY}"
    )
    folder = lay(tmp_path, attributes=sign("own-sign"), families=family, needs=need)
    own, shipped = open_knowledge(folder), open_knowledge()
    assert told(own, "reads again") == told(shipped, "reads again") | {
        "own": "reads again: Asked for a test.",
        "movement-joints-exist": "reads again: Asked for a second test.",
    }


MEANT = {"age-of-the-concrete", "noticed-in-a-room", "crack-and-flow", "flow-and-head"}
"""Families of the shipped knowledge that read a second time, each with its reason."""


def test_the_shipped_knowledge_has_no_remark_but_what_is_meant_to_read_again() -> None:
    shipped = open_knowledge()
    again = told(shipped, "reads again")
    assert again.keys() == MEANT
    assert len(shipped.remarks) == len(MEANT)
