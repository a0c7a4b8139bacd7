"""Families: words and numbers become tables."""

from pathlib import Path

import numpy as np
import pytest

from advisor.knowledge import FamilyEntry, open_knowledge
from tests.knowledge.laying import WHY, lay, sign, yes_no_family


def family(tmp_path: Path, text: str, key: str = "own") -> FamilyEntry:
    attributes = sign("own-sign") + sign("own-height", "number", "  unit: m\n  lowest: 0\n")
    return open_knowledge(lay(tmp_path, attributes=attributes, families=text)).families[key]


def column(entry: FamilyEntry, cause: str) -> list[float]:
    hypotheses = [h.key for h in open_knowledge().model.hypotheses]
    return [float(p) for p in entry.family.likelihood[:, hypotheses.index(cause)]]


def test_words_and_what_is_left(tmp_path: Path) -> None:
    entry = family(tmp_path, yes_no_family("own", "own-sign", "{honeycomb: moderate for}"))
    assert column(entry, "honeycomb") == pytest.approx([0.6, 0.4])
    assert column(entry, "wall-foot-joint") == pytest.approx([0.2, 0.8])
    assert entry.said["yes"] == (("honeycomb", "moderate for", None),)
    assert entry.cuts == ()


def test_a_word_that_is_cut_is_named(tmp_path: Path) -> None:
    entry = family(tmp_path, yes_no_family("own", "own-sign", "{honeycomb: strong for}"))
    assert column(entry, "honeycomb") == pytest.approx([0.9, 0.1])
    (cut,) = entry.cuts
    assert (cut.reading, cut.hypothesis, cut.asked) == ("yes", "honeycomb", 10)
    assert cut.given == pytest.approx(4.5)


def test_a_group_speaks_for_its_causes_and_their_own_entry_wins(tmp_path: Path) -> None:
    times = "{settlement-crack: weak against, crack: moderate for}"
    entry = family(tmp_path, yes_no_family("own", "own-sign", times))
    assert column(entry, "early-thermal-crack") == pytest.approx([0.6, 0.4])
    assert column(entry, "drying-shrinkage-crack") == pytest.approx([0.6, 0.4])
    assert column(entry, "settlement-crack") == pytest.approx([0.1, 0.9])


def test_the_own_entry_wins_per_reading_only(tmp_path: Path) -> None:
    """At the other reading the word of the group stands."""
    text = f"lag-after-rain:\n  label: own family\n  reads: rain-delay\n{WHY}" + (
        "  readings:\n    minutes: {share: 0.2, times: {crack: weak for}}\n"
        "    hours: {share: 0.4, times: {settlement-crack: weak against}}\n    days: {share: 0.4}\n"
    )
    entry = family(tmp_path, text, "lag-after-rain")
    assert column(entry, "settlement-crack") == pytest.approx([0.4, 0.2, 0.4])


def test_a_number_is_exact_and_keeps_its_because(tmp_path: Path) -> None:
    times = "{honeycomb: {times: 4.8, because: Counted.}}"
    entry = family(tmp_path, yes_no_family("own", "own-sign", times))
    assert column(entry, "honeycomb") == pytest.approx([0.96, 0.04])
    assert entry.said["yes"] == (("honeycomb", "4.8 times", "Counted."),)


def test_what_is_in_no_list_shows_every_share() -> None:
    knowledge = open_knowledge()
    for entry in knowledge.families.values():
        assert column(entry, "not-in-this-list") == pytest.approx(list(entry.family.shares))


def test_bands_in_any_order_and_unit(tmp_path: Path) -> None:
    text = f"own:\n  label: own\n  reads: own-height\n{WHY}  readings:\n" + (
        "    at least 2 m: {share: 0.5}\n    under 100 cm: {share: 0.2}\n"
        "    1 m to 2 m: {share: 0.3}\n"
    )
    entry = family(tmp_path, text)
    assert entry.family.readings == ("under 100 cm", "1 m to 2 m", "at least 2 m")
    assert entry.family.edges == (1.0, 2.0)
    assert list(entry.family.shares) == pytest.approx([0.2, 0.3, 0.5])


def test_every_shipped_table_is_a_distribution() -> None:
    for entry in open_knowledge().families.values():
        table = entry.family.likelihood
        assert (table > 0).all()
        assert np.allclose(table.sum(axis=0), 1, atol=1e-12)
