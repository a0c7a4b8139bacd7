"""Thresholds, permits and words of the cautions, and when a proof counts, as printed elsewhere.

Each line names where the figure was printed, and whether that page was seen (VERIFIED), or the
figure is known from print only (MEMORY), worked out (COMPUTED) or a rule of the trade (PRACTICE).
The figures were typed from there, not from the knowledge.
"""

import re
from math import pi, sqrt

import pytest

from advisor import Callout, open_knowledge
from advisor.callout import resolve
from advisor.diagnosis import table_of
from advisor.knowledge.repair_entries import ACTIVITIES, Caution, Threshold

KNOWLEDGE = open_knowledge()
CAUTIONS = KNOWLEDGE.cautions
VERIFIED, MEMORY, COMPUTED, PRACTICE = "verified", "memory", "computed", "practice"

# caution, figure, place, day, mark and where it was printed
PRINTED = [
    # isocyanates
    ("isocyanates", "0.1 % by weight", "EU", "2023-08-24", VERIFIED, "REACH XVII entry 74"),
    ("isocyanates", "6 µg/m3 (10 µg/m3 until 2028-12-31)", "EU", "2024", VERIFIED, "2024/869"),
    ("isocyanates", "12 µg/m3 (20 µg/m3 until 2028-12-31)", "EU", "2024", VERIFIED, "2024/869"),
    ("isocyanates", "0.02 and 0.07 mg/m3", "United Kingdom", "2020", MEMORY, "EH40/2005"),
    ("isocyanates", "0.02 ppm (0.2 mg/m3)", "OSHA", "1994", VERIFIED, "NIOSH idlh/101688"),
    ("isocyanates", "0.005 ppm", "NIOSH", "1994", VERIFIED, "NIOSH idlh/101688"),
    ("isocyanates", "75 mg/m3", "NIOSH", "1994", VERIFIED, "NIOSH idlh/101688"),
    # epoxy
    ("epoxy", "0.08 mg/m3", "EU", "2004", VERIFIED, "2004/37/EC annex III"),
    # gels
    ("grouting-gels", "0.1 % by weight", "EU", "2012-11-05", MEMORY, "REACH XVII entry 60"),
    ("grouting-gels", "0.1 mg/m3", "EU", "2004", VERIFIED, "2004/37/EC annex III"),
    ("grouting-gels", "0.3 mg/m3", "OSHA", "1994", VERIFIED, "NIOSH idlh/79061"),
    ("grouting-gels", "0.03 and 60 mg/m3", "NIOSH", "1994", VERIFIED, "NIOSH idlh/79061"),
    # cement
    ("chromium-in-cement", "2 ppm", "Great Britain", "2005-01-17", VERIFIED, "COSHH 2004"),
    ("chromium-in-cement", "2 ppm", "EU", "2005", MEMORY, "REACH XVII entry 47"),
    ("chromium-in-cement", "0.005 mg/m3", "EU", "2004", VERIFIED, "2004/37/EC annex III"),
    # silica
    ("silica-dust", "0.1 mg/m3", "EU", "2017-12", VERIFIED, "Directive (EU) 2017/2398"),
    ("silica-dust", "0.1 mg/m3", "United Kingdom", "2020", VERIFIED, "EH40/2005 addendum"),
    ("silica-dust", "0.05 mg/m3, act from 0.025", "OSHA", "2016", VERIFIED, "1926.1153"),
    ("silica-dust", "0.05 mg/m3 (10 h)", "NIOSH", "CPWR", VERIFIED, "CPWR page"),
    ("silica-dust", "99 %", "United States", "2016", VERIFIED, "1926.1153 table 1"),
    # injection pressure
    ("injected-into-skin", "7 bar (100 psi)", "everywhere", "note", VERIFIED, "medical note"),
    ("pressure-on-the-part", "x 10 / 3", "German", "2026", MEMORY, "German practice"),
    ("pressure-behind-the-wall", "1 psi per ft", "United States", "abstract", VERIFIED, "Weaver"),
    ("pressure-behind-the-wall", "1 kg/cm2 per m", "Europe", "abstract", VERIFIED, "Weaver"),
    # electricity
    ("tools-in-the-wet", "110 V (55 V", "United Kingdom", "HSG141", VERIFIED, "BS 7671 s.704"),
    ("tools-in-the-wet", "30 mA", "United Kingdom", "HSG141", VERIFIED, "BS 7671 s.704"),
    ("tools-in-the-wet", "25 V", "United Kingdom", "HSG141", VERIFIED, "BS 7671 s.704"),
    # closed spaces
    ("closed-spaces", "19.5 % and 23.5 %", "OSHA", "1993", VERIFIED, "permit space rule"),
    ("closed-spaces", "10 % of the lower", "OSHA", "1996-08-15", VERIFIED, "interpretation"),
    ("closed-spaces", "10 ppm, 100 ppm", "NIOSH", "1994", VERIFIED, "NIOSH idlh/7783064"),
    ("closed-spaces", "20, 50 and 10 ppm", "OSHA", "PMC5777517", VERIFIED, "its table 3"),
    ("closed-spaces", "5 ppm, 10 ppm", "United Kingdom", "2020", MEMORY, "EH40/2005"),
    ("closed-spaces", "20 ppm", "EU and United Kingdom", "open table", VERIFIED, "secondary page"),
    # engines
    ("engines-below-ground", "50 ppm", "OSHA", "open table", VERIFIED, "secondary page"),
    ("engines-below-ground", "35 ppm, 200 ppm", "NIOSH", "open table", VERIFIED, "secondary page"),
    # heights and trenches
    ("heights", "6 ft (1.8 m)", "United States", "1994", VERIFIED, "29 CFR 1926"),
    ("trenches", "5 ft (1.5 m)", "United States", "1989", VERIFIED, "summaries of 1926.65x"),
    # water
    ("flooded-basement-in-steps", "1 ft (0.3 m)", "United States", "1999", VERIFIED, "FEMA"),
    ("flooded-basement-in-steps", "2 to 3 ft", "United States", "2009", VERIFIED, "FEMA"),
    ("flooded-basement-in-steps", "one third", "United States", "WVU", VERIFIED, "WVU Extension"),
    ("ground-that-comes-along", "about 1", "everywhere", "2026", MEMORY, "soil mechanics"),
    # drinking water
    ("drinking-water", "0.1 µg/L", "EU", "2020/2184", VERIFIED, "article 11"),
    ("drinking-water", "regulation 31", "England and Wales", "2016", VERIFIED, "dwi.gov.uk"),
    # pools
    ("pool-chemicals", "0.5 ppm", "EU", "open table", VERIFIED, "secondary page"),
    ("pool-chemicals", "10 ppm", "United States", "1994", MEMORY, "NIOSH"),
    # discharge and waste
    ("pumped-water", "3 months", "England", "2023-01-06", VERIFIED, "RPS 261"),
    ("pumped-water", "2 years", "England", "2021", VERIFIED, "RPS 261 change note"),
    ("pumped-water", "20 m3/day", "England", "secondary", VERIFIED, "secondary page"),
    ("cement-wash-water", "pH 12; pH 6.5 to 9", "United States", "county", VERIFIED, "counties"),
    ("cement-wash-water", "50 ft (15 m)", "United States", "2011", VERIFIED, "EPA 833-F-11-006"),
    # noise, vibration, weather
    ("noise", "80, 85, 87 dB(A)", "EU", "2003", VERIFIED, "2003/10/EC"),
    ("noise", "135, 137, 140 dB(C)", "EU", "2003", VERIFIED, "2003/10/EC"),
    ("noise", "85, 90 dB(A)", "OSHA", "memory", MEMORY, "29 CFR 1910.95"),
    ("vibration", "2.5, 5.0 m/s2", "EU", "2002", VERIFIED, "2002/44/EC"),
    ("vibration", "100, 400 points", "United Kingdom", "2005", VERIFIED, "HSE points"),
    ("cold-or-hot-work", "40 °F (4 °C)", "United States", "ACI 306", VERIFIED, "summary"),
    ("cold-or-hot-work", "10 °C or more", "United States", "ACI 306", VERIFIED, "summary"),
    ("cold-or-hot-work", "95 °F (35 °C)", "United States", "ACI 305", VERIFIED, "summary"),
    ("cold-or-hot-work", "1 kg/m2 an hour", "United States", "ACI 305", VERIFIED, "summary"),
    ("resin-in-cold", "5 °C", "everywhere", "2026", PRACTICE, "trade"),
    ("resin-in-cold", "3 °C", "everywhere", "2026", PRACTICE, "trade"),
    # old materials, ground gas
    ("asbestos", "before 2000", "United Kingdom", "netregs", VERIFIED, "netregs.org.uk"),
    ("asbestos", "0.01 fibres/cm3", "EU", "2025-12", MEMORY, "2023/2668, start day from memory"),
    ("asbestos", "0.1 fibres/cm3", "United Kingdom and United States", "memory", MEMORY, "trade"),
    ("pcb-in-sealants", "1950s to 1970s", "everywhere", "memory", MEMORY, "trade"),
    ("ground-gas", "50 hours a year", "United Kingdom", "UKHSA", VERIFIED, "UKHSA and HSE"),
    ("ground-gas", "300 Bq/m3", "United Kingdom", "2017", VERIFIED, "UKHSA and HSE"),
]  # fmt: skip


# Figures that are no limits of anybody: sums, customs, and rules named without a number.
OTHERS = [
    ("injected-into-skin", "200 bar", "everywhere", PRACTICE),
    ("water-behind-the-hole", "9.81 kPa", "everywhere", COMPUTED),
    ("water-behind-the-hole", "12 kN", "everywhere", COMPUTED),
    ("water-behind-the-hole", "2.9 L/s", "everywhere", COMPUTED),
    ("emptied-tanks-float", "0.73 m", "everywhere", COMPUTED),
    ("tools-in-the-wet", "ground-fault interrupter", "United States", MEMORY),
    ("hot-work", "10 % of the lower", "OSHA", VERIFIED),
    ("hot-work", "60 minutes", "United States", MEMORY),
    ("solvents", "10 % of the lower", "OSHA", VERIFIED),
    ("rescue", "over 60 %", "United States", MEMORY),
    ("engines-below-ground", "20 ppm", "EU and United Kingdom", VERIFIED),
    ("heights", "any from which", "United Kingdom", VERIFIED),
    ("drinking-water", "UBA criteria", "Germany", VERIFIED),
    ("drinking-water", "NSF/ANSI/CAN 61", "United States", MEMORY),
]


def thresholds() -> list[tuple[str, Threshold]]:
    return [(key, line) for key, caution in CAUTIONS.items() for line in caution.limits]


def words_of(caution: Caution) -> str:
    permit = (caution.permit.what, caution.permit.issued_by) if caution.permit else ()
    lines = (text for t in caution.limits for text in (t.what, t.value, t.where, t.dated))
    return " ".join((caution.label, caution.do, caution.why.because, *permit, *lines))


def marks_of(caution: Caution) -> set[str]:
    return {KNOWLEDGE.sources[key].status for key in caution.why.source}


def begins(value: str, figure: str) -> bool:
    """The figure stands in the value, and no digit runs on from it on either side."""
    return re.search(rf"(?<![\d.]){re.escape(figure)}(?![\d.])", value) is not None


@pytest.mark.parametrize("line", PRINTED, ids=lambda line: f"{line[0]} {line[1]}")
def test_the_printed_figure_stands_there_with_place_and_day(
    line: tuple[str, str, str, str, str, str],
) -> None:
    key, figure, place, day, mark, printed = line
    caution = CAUTIONS[key]
    found = [t for t in caution.limits if begins(t.value, figure) and place in t.where]
    assert len(found) == 1, printed
    assert day in found[0].dated
    assert ("from memory" in found[0].dated) == (mark == MEMORY)
    wanted = {VERIFIED: "verified", MEMORY: "from-memory", PRACTICE: "common-practice"}
    assert wanted[mark] in marks_of(caution)


def test_no_figure_is_in_the_cautions_that_was_not_checked_here() -> None:
    checked = {(key, figure, place) for key, figure, place, *_ in (*PRINTED, *OTHERS)}
    for key, line in thresholds():
        assert any(
            k == key and begins(line.value, figure) and place in line.where
            for k, figure, place in checked
        ), (key, line)


def test_the_sums_in_the_cautions_come_out() -> None:
    head, weight = 5.0, 9.81
    force = weight * head * 0.5 * 0.5
    speed = sqrt(2 * 9.81 * head)
    flow = 0.6 * pi / 4 * 0.025**2 * speed * 1000
    balance = 0.30 * 24 / weight
    assert figure_of("water-behind-the-hole", "kN") == pytest.approx(force, rel=0.05)
    assert figure_of("water-behind-the-hole", "L/s") == pytest.approx(flow, rel=0.02)
    assert figure_of("emptied-tanks-float", "m") == pytest.approx(balance, rel=0.01)


def figure_of(key: str, unit: str) -> float:
    values = (re.match(rf"([\d.]+) {unit}\b", t.value) for t in CAUTIONS[key].limits)
    return next(float(m[1]) for m in values if m and not m.string[m.end() :].startswith(" per"))


def test_each_threshold_has_its_day_or_says_that_it_is_not_known() -> None:
    for key, line in thresholds():
        assert re.search(r"\b(19|20)\d\d\b|day not known", line.dated), (key, line)


def test_a_caution_that_rests_on_memory_says_so_and_the_other_way_round() -> None:
    for key, caution in CAUTIONS.items():
        if "from memory" in words_of(caution):
            assert "from-memory" in marks_of(caution), key
        if any(t.where != "everywhere" and "memory" not in t.dated for t in caution.limits):
            assert "verified" in marks_of(caution), key


def test_every_word_of_work_has_a_caution() -> None:
    covered = {word for caution in CAUTIONS.values() for word in caution.takes}
    assert covered == set(ACTIVITIES)


def test_no_caution_says_that_anything_is_safe() -> None:
    for key, caution in CAUTIONS.items():
        assert not re.search(r"safe(ly|r|st)?\b", words_of(caution), re.IGNORECASE), key


def test_each_permit_is_issued_by_somebody_else() -> None:
    permits = {key: c.permit for key, c in CAUTIONS.items() if c.permit is not None}
    assert permits["hot-work"].issued_by == "the site owner"
    assert permits["closed-spaces"].issued_by == "the operator of the space"
    for key, permit in permits.items():
        assert not re.search(r"\b(tool|program|advisor|technician)\b", permit.issued_by), key


# What must be said, whoever reads: medical, rescue and stop advice of the same pages.
SAID = [
    ("injected-into-skin", "hospital"),  # note of a water-jetting association, VERIFIED
    ("cement-burns", "do not wait for pain"),  # MEMORY
    ("silica-dust", "never with bare compressed air"),  # 1926.1153(f), MEMORY
    ("hidden-in-the-concrete", "No record of a scan: no drilling"),  # own rule
    ("tendons", "written consent of a structural engineer"),  # DMRB CS 465, VERIFIED
    ("rescue", "nobody goes in without breathing apparatus"),  # NIOSH, VERIFIED
    ("closed-spaces", "Smell is no test"),  # OSHA effects table, VERIFIED
    ("engines-below-ground", "No petrol or diesel engine in the room"),  # 96-118a, VERIFIED
    ("grouting-gels", "No acrylamide"),  # Regulation (EU) 366/2011, VERIFIED
    ("monomer-in-the-water", "No gel into fast flow"),  # SJWEH 2001, VERIFIED
    ("flooded-room", "Do not switch while standing in water"),  # Ontario 2013, VERIFIED
    ("foul-water", "tell the doctor"),  # HSE INDG84, VERIFIED
    ("emptied-tanks-float", "checks flotation"),  # bulletin 2013, VERIFIED
    ("drinking-water", "The water supplier returns it to service"),  # PRACTICE
    ("pool-chemicals", "no amine hardener"),  # fire-service journal, VERIFIED
    ("ground-gas", "tell its designer"),  # PRACTICE
]


@pytest.mark.parametrize(("key", "said"), SAID)
def test_what_must_be_said_is_said(key: str, said: str) -> None:
    assert said in CAUTIONS[key].do


NEW = "{kind: basement, pour-date: 2030-04-01, older-building-joined: no}"
NEW_ON_OLD = "{kind: basement, pour-date: 2030-04-01, older-building-joined: yes}"
OLD = "{kind: basement, pour-date: 1975-04-01, older-building-joined: no}"

# Where a caution or a proof belongs to every plan: never dropped for want of an answer.
ASKED = [
    ("cautions drinking-water", "{kind: drinking-water-reservoir}", True),
    ("cautions drinking-water", "{kind: tank}", True),
    ("cautions drinking-water", "{kind: tank, use-now: storage, use-agreed: storage}", False),
    ("cautions drinking-water", "{kind: basement}", False),
    ("cautions pool-chemicals", "{kind: swimming-pool}", True),
    ("cautions pool-chemicals", "{kind: tunnel}", False),
    ("cautions emptied-tanks-float", "{kind: swimming-pool}", True),
    ("cautions emptied-tanks-float", "{kind: basement}", False),
    ("cautions flooded-basement-in-steps", "{kind: basement}", True),
    ("cautions flooded-basement-in-steps", "{kind: tank}", False),
    ("cautions asbestos", "{kind: basement}", True),
    ("cautions asbestos", NEW, False),
    ("cautions asbestos", NEW_ON_OLD, True),
    ("cautions asbestos", OLD, True),
    ("proofs back-to-service-by-the-supplier", "{kind: drinking-water-reservoir}", True),
    ("proofs back-to-service-by-the-supplier", "{kind: tank}", True),
    ("proofs back-to-service-by-the-supplier", "{kind: tank, use-now: holds-drinking-water}", True),
    ("proofs back-to-service-by-the-supplier", "{kind: swimming-pool}", False),
]  # fmt: skip


@pytest.mark.parametrize(("name", "structure", "shown"), ASKED)
def test_it_is_left_out_only_where_it_is_known_not_to_apply(
    name: str, structure: str, shown: bool
) -> None:
    text = f"callout: invented\nstructure: {structure}\nvisits: [{{date: 2031-04-16}}]\n"
    callout = Callout.parse(text + "leaks: [{leak: L1}]\n", "invented.yaml", KNOWLEDGE.attributes)
    facts = resolve(callout, callout.leaks[0], KNOWLEDGE.attributes)
    values = KNOWLEDGE.engine.run(table_of(KNOWLEDGE.engine, [facts])).settled.values
    at = [*KNOWLEDGE.for_repair].index(name)
    assert KNOWLEDGE.repair_circuit.evaluate(values).false[at, 0] != shown


# Proofs. Dry counts only with the water up: C4 of the sheet on safety, PRACTICE.


def test_a_proof_that_says_dry_counts_only_with_the_water_up() -> None:
    for key, proof in KNOWLEDGE.proofs.items():
        if re.search(r"\b(dry|damp)\b", proof.label):
            assert proof.water_up, key
    assert not KNOWLEDGE.proofs["pipe-holds-pressure"].water_up


def test_the_days_of_the_later_looks() -> None:
    days = {key: proof.after_days for key, proof in KNOWLEDGE.proofs.items() if proof.by == "date"}
    assert days["dry-after-cure"] == (1, 3)  # 24 to 72 hours after curing, PRACTICE
    first = {key: span[0] for key, span in days.items() if span is not None}
    assert first.keys() == days.keys()
    assert first["four-weeks-crystals"] == 28  # PRACTICE
    assert first["crack-log"] == 365  # one thermal cycle, page on monitoring, VERIFIED


def test_rain_that_counts_is_within_what_is_advised() -> None:
    label = KNOWLEDGE.proofs["first-high-water"].label
    found = re.search(r"over (\d+) mm", label)
    assert found
    assert 10 <= int(found[1]) <= 20  # 10 to 20 mm, PRACTICE


def test_the_level_test_names_each_rule_and_where_it_comes_from() -> None:
    look = KNOWLEDGE.looks[KNOWLEDGE.proofs["level-test-passed"].look]
    assert "at most 10 mm in 7 days (BS 5337" in look.do  # textbook, VERIFIED
    assert "75 mm of water for 3 days" in look.do  # the same textbook, VERIFIED
    assert "0.05 % of the content in 24 hours" in look.do  # US specification, VERIFIED
    assert "1/500 of the depth (BS 8007, from memory)" in look.do  # MEMORY
    assert "7 to 21 days" in look.do  # MEMORY
    assert {KNOWLEDGE.sources[s].status for s in look.why.source} >= {"verified", "from-memory"}


def test_a_look_that_proves_is_no_evidence_of_the_first_cause() -> None:
    read = {family.variable for family in KNOWLEDGE.model.families}
    shown = {"repaired-place-now", "work-tested"}
    assert not shown & {variable.partition(".")[0] for variable in read}
    for proof in KNOWLEDGE.proofs.values():
        assert set(KNOWLEDGE.looks[proof.look].attributes) <= shown


def test_the_supplier_returns_drinking_water_to_service() -> None:
    proof = KNOWLEDGE.proofs["back-to-service-by-the-supplier"]
    assert proof.label == "the water supplier returns it to service"
    assert KNOWLEDGE.looks[proof.look].who == "water supplier"
