"""A record that is refused is told by file, line and key; what stands in it is not. Invented."""

from pathlib import Path

import pytest

from advisor.library.store.store import open_library
from tests.cli.command import run

WHO = ("Novák", "novak", "5550123")
WHOLE = """\
callout: K-117
private:
  owner: {name: Jan Novák, phone: "+49 171 5550123"}
structure: {kind: basement, agreed-scheme: none}
visits:
  - {date: 2031-04-16, not-seen: nothing}
leaks:
  - leak: L1
    where: north wall
    photos: [a.jpg]
    findings:
      crack-width: {value: 0.3 mm, how: measured, note: seen}
      wetness: unknown
  - leak: L2
    same-water: L1
releases:
  - {stop: bulging-wall, role: owner, name: N, date: 2031-04-17, words: propped}
log:
  - {leak: L1, date: 2031-05-01, done: gel-injection, quantities: {epoxy-resin: 3 L},
     water-height: 1 m, packers: [{packer: A, pressure: 20 bar, minutes: 3}]}
  - {leak: L1, date: 2031-05-02, confirmed: cold-joint, how: document, role: owner, present: owner}
  - {leak: L1, date: 2031-06-01, looked: tight, water-up: yes, readings: {crack-width: 0.2 mm}}
  - leak: L1
    date: 2031-07-01
    proposed: {advisor: 0.1.0, knowledge: 12ab34cd56ef, settled-on: cause, causes: {cold-joint: 1}}
truth: {causes: [cold-joint], because: told}
"""
BROKEN = [
    *(("callout: K-117", f"callout: {name}") for name in ("Jan Novák!", "[Jan Novák]", "")),
    ("callout: K-117", "callout: K-117\nJan Novák: 1"),
    ("callout: K-117", "callout: Jan Novák: 5550123"),
    ("callout: K-117", "callout: K-117\ncallout: Novák"),
    ("private:\n  owner: {name: Jan Novák", "private: Jan Novák\nx:\n  owner: {name: Jan Novák"),
    ("private:", "private:\n  - Jan Novák\n  - {a: b}\nprivate:"),
    ("  owner: {", "  Jan Novák: 0171 #5550123\n  Jan Novák: &novak x\n  owner: {"),
    ("  owner: {", "  Jan Novák: 0171 5550123 # office\n  owner: {"),
    ("name: Jan Novák", "name: *novak, also: !novak x"),
    ("name: Jan Novák", 'name: "Jan Novák'),
    ("name: Jan Novák", "name: Jan Novák: Novák"),
    ("name: Jan Novák", "name: Jan, name: Novák"),
    ("kind: basement", "kind: Jan Novák"),
    ("kind: basement", 'kind: "Jan \\"Novák\\" x"'),
    ("kind: basement", "kind: [jan-novak]"),
    ("kind: basement", "kind: basement, jan-novak: yes"),
    ("kind: basement", "kind: basement, Jan Novák: yes"),
    ("kind: basement", "kind: basement, pour-date: Jan Novák"),
    ("kind: basement", "kind: basement, pour-date: 2039-01-01"),
    ("agreed-scheme: none", "agreed-scheme: {value: x, by: Novák, Novák: 1}"),
    ("date: 2031-04-16", "date: Novák 5550123"),
    ("date: 2031-04-16", "date: 2031-04-16, Jan Novák: 1"),
    ("leak: L1\n    where", "leak: Jan_Novák\n    where"),
    ("leak: L2", "leak: Jan-Novák\n  - leak: Jan-Novák"),
    ("same-water: L1", "same-water: Jan Novák"),
    ("where: north wall", "where: [Jan Novák]"),
    ("where: north wall", "where: Jan Novák # 5550123"),
    ("where: north wall", "Jan Novák: north wall"),
    ("photos: [a.jpg]", "photos: Jan Novák.jpg"),
    ("photos: [a.jpg]", "photos: [{Jan Novák: 1}]"),
    ("value: 0.3 mm", "value: Jan Novák"),
    ("value: 0.3 mm", "value: 5550123"),
    ("value: 0.3 mm", "value: 5550123 mm"),
    ("value: 0.3 mm", "value: 0.3 novak"),
    ("how: measured", "how: Jan Novák"),
    ("how: measured", "sure: Jan Novák"),
    ("how: measured", "visit: 5550123"),
    ("how: measured", "visit: Jan Novák"),
    ("how: measured", "corrects: 5550123"),
    ("how: measured", "date: Jan Novák"),
    ("how: measured", "missing: Jan Novák"),
    ("note: seen", "note: [Jan Novák]"),
    ("wetness: unknown", "wetness: Jan Novák or jan-novak"),
    ("wetness: unknown", "wetness: {not: Jan Novák}"),
    ("wetness: unknown", "deposits: [Jan Novák]"),
    ("wetness: unknown", "deposits: {has: lime, Jan Novák: rust}"),
    ("stop: bulging-wall", "stop: Jan Novák"),
    ("role: owner, name: N", "role: owner, leak: Jan-Novák, name: N"),
    ("name: N, date: 2031-04-17", "name: [Novák], date: Novák"),
    ("words: propped", "words: propped, Jan Novák: 1"),
    ("{leak: L1, date: 2031-05-01", "{leak: Jan-Novák, date: 2031-05-01"),
    ("date: 2031-05-01", "date: 0171 5550123"),
    ("done: gel-injection", "done: jan-novak"),
    ("done: gel-injection", "done: Jan Novák"),
    ("done: gel-injection", "Jan Novák: gel-injection"),
    ("done: gel-injection", "done: gel-injection, told: Jan Novák"),
    ("epoxy-resin: 3 L", "jan-novak: 3 L"),
    ("epoxy-resin: 3 L", "Jan Novák: 3 L, epoxy-resin: [Novák]"),
    ("water-height: 1 m", "water-height: Jan Novák"),
    ("water-height: 1 m", "water-height: 5550123 m"),
    ("pressure: 20 bar", "pressure: Jan Novák"),
    ("pressure: 20 bar", "pressure: 5550123 bar, Jan Novák: 1"),
    ("minutes: 3", "minutes: 5550123"),
    ("minutes: 3", "minutes: Jan Novák"),
    ("confirmed: cold-joint", "confirmed: jan-novak"),
    ("confirmed: cold-joint", "confirmed: cold-joint, contributors: [jan-novak]"),
    ("how: document", "how: Jan Novák"),
    ("role: owner, present: owner", "role: Jan Novák, present: [Jan Novák, Novák!]"),
    ("looked: tight", "looked: Jan Novák"),
    ("looked: tight", "looked: tight, proof: jan-novak"),
    ("looked: tight", "looked: tight, within-agreed: Jan Novák"),
    ("water-up: yes", "water-up: Jan Novák"),
    ("crack-width: 0.2 mm", "jan-novak: 2"),
    ("crack-width: 0.2 mm", "Jan Novák: 2"),
    ("crack-width: 0.2 mm", "crack-width: Jan Novák"),
    ("crack-width: 0.2 mm", "kind: jan novak"),
    ("settled-on: cause", "settled-on: Jan Novák"),
    ("cold-joint: 1}", "Jan Novák: 1}"),
    ("cold-joint: 1}", "cold-joint: 5550123}"),
    ("cold-joint: 1}", "cold-joint: Jan Novák}"),
    ("settled-on: cause", "advised: Jan Novák, looks: [Jan Novák], stops: Novák"),
    ("causes: [cold-joint]", "causes: Jan Novák"),
    ("because: told", "because: [Jan Novák], Jan Novák: 1, blind: Novák"),
    ("because: told}", "because: told}\n\tJan Novák: 1"),
    ("because: told}", "because: told}\n---\nJan Novák: 1"),
    ("because: told}", "because: told, Jan Novák\n"),
]


@pytest.fixture
def record(tmp_path: Path) -> Path:
    path = tmp_path / "records" / "record.yaml"
    path.parent.mkdir()
    return path


def test_the_whole_record_is_taken(record: Path, tmp_path: Path) -> None:
    record.write_text(WHOLE)
    done = run(
        "library", "add", record, "--library", tmp_path / "l.sqlite", "--key", tmp_path / "k"
    )
    assert (done.code, done.err) == (0, "")


def test_a_refused_record_tells_no_word_of_it(record: Path, tmp_path: Path) -> None:
    """All at once: each broken in one place, and told by file and line."""
    for number, (there, instead) in enumerate(BROKEN):
        assert WHOLE.count(there) >= 1, there
        record.with_name(f"r{number:02}.yaml").write_text(WHOLE.replace(there, instead, 1))
    library = tmp_path / "l.sqlite"
    done = run("library", "add", record.parent, "--library", library, "--key", tmp_path / "k")
    assert done.code == 2
    for number, broken in enumerate(BROKEN):
        told = [line for line in done.err.splitlines() if f"r{number:02}.yaml:" in line]
        assert told, broken
    said = f"{done.out}\n{done.err}".casefold()
    lines = [line for line in said.splitlines() if any(w.casefold() in line for w in WHO)]
    assert lines == []
    with open_library(library) as kept:
        assert kept.count() == 0


def test_what_is_meant_is_told_all_the_same(record: Path, tmp_path: Path) -> None:
    broken = WHOLE.replace("wetness: unknown", "wetnes: unknown").replace(
        "how: measured", "how: sen"
    )
    record.write_text(broken.replace("done: gel-injection", "done: gel-injektion"))
    words = ("library", "add", record, "--library", tmp_path / "l.sqlite", "--key", tmp_path / "k")
    err = run(*words).err
    first, second = err.splitlines()
    assert first.startswith(f'{record}:12:41: how: "…" is not known here; expected one of seen, ')
    assert first.endswith('did you mean "seen"?')
    assert second.startswith(f"{record}:13:7: there is no such attribute; expected a key that")
    assert second.endswith('did you mean "wetness"?')
    record.write_text(WHOLE.replace("done: gel-injection", "done: gel-injektion"))
    err = run(*words).err
    assert 'log: there is no method "…"; expected a method that' in err
    assert 'did you mean "gel-injection"?' in err


def test_what_the_library_cannot_hold_is_a_problem_of_the_file(
    record: Path, tmp_path: Path
) -> None:
    broken = WHOLE.replace("water-height: 1 m", "water-height: -400 m").replace(
        "water-up: yes", "water-up: yes, water-height: 400 m"
    )
    record.write_text(broken)
    done = run(
        "library", "add", record, "--library", tmp_path / "l.sqlite", "--key", tmp_path / "k"
    )
    assert done.code == 2
    assert done.err == (
        f"{record}: water_above: the library cannot hold this; "
        "expected days, heights and amounts as they can be\n"
    )


PRIVATE_BROKEN = [
    pair for pair in BROKEN if pair[0].startswith(("private", "  owner", "name: Jan"))
]


def test_log_and_due_never_print_the_private_block(record: Path) -> None:
    record.write_text(WHOLE)
    said = []
    for words in (
        ("due", record),
        ("due", record, "--json"),
        ("due", record.parent, "--by", "2040-01-01"),
        *(
            ("log", record, "--leak", "L1", "--set", f"date=2031-08-0{n}", "--set", answer)
            for n, answer in enumerate(("told=owner", "closed=refused", "done=Jan", "x=1"), 1)
        ),
        ("log", record, "--set", "told=owner"),
        ("due", record),
    ):
        done = run(*words)
        assert done.out or done.err
        said += [done.out, done.err]
    text = "\n".join(said).casefold()
    assert "5550123" not in text
    assert "nov" not in text


@pytest.mark.parametrize(("there", "instead"), PRIVATE_BROKEN)
def test_not_even_where_it_is_broken(record: Path, there: str, instead: str) -> None:
    record.write_text(WHOLE.replace(there, instead, 1))
    for words in (("due", record), ("log", record, "--leak", "L1", "--set", "told=owner")):
        done = run(*words)
        assert done.code == 2
        said = f"{done.out}\n{done.err}".casefold()
        assert not [who for who in WHO if who.casefold() in said], said
