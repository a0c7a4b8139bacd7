"""A firm of its own, by knowledge/README.md alone: seen, weighed, looked for, barred."""

import pytest

from advisor import Callout, assess, open_knowledge
from advisor.assessment import LeakResult
from advisor.diagnosis import CauseBelief
from advisor.knowledge import Knowledge

ATTRIBUTES = """
stray-current:
  label: stray current on the bars
  of: leak
  kind: choice
  choices:
    none: no current
    steady: a steady current
    with-trains: a current that comes with the trains
  question: Does a current run on the bars here?
  check: Clamp meter, ten minutes, once with a train and once without.
  who: [eyes-here]
  applies: {kind: tunnel or basement}
  because: Invented. Current that leaves a bar eats it, and rust opens the cover.
  source: firm-handbook
"""
FAMILIES = """
current-on-the-bars:
  label: current on the bars
  reads: stray-current
  given: {member: {not: column-or-beam}}
  because: Invented. Only current that comes with the trains is from outside.
  source: [firm-handbook, own-judgement]
  readings:
    none:
      share: 0.8
    steady:
      share: 0.15
      times:
        stray-current-rust:
          times: 2.5
          because: Counted in our own files.
    with-trains:
      share: 0.05
      times:
        stray-current-rust: strong for
"""
CAUSES = """
stray-current-rust:
  label: cover opened by stray current
  also-called: [current rust]
  group: crack
  water: other-side
  base-rate: {tunnel: 0.05, basement: 0.01}
  needs: [rails-near]
  evidence: In rust on one line of bars, near the rails.
  confirmed-by: [clamp meter over a day]
  confused-with:
    drying-shrinkage-crack: Rust on the line and current on the bars.
  because: Invented. Rust takes more room than steel and breaks the cover off.
  source: firm-handbook
"""
NEEDS = """
rails-near:
  label: rails within 50 m
  when: {rails: yes}
  share: 0.1
  because: Invented. No rails, no stray current.
  source: firm-handbook
"""
RAILS = """
rails:
  label: rails within 50 m
  of: structure
  kind: yes-no
  question: Do trains or trams run within 50 m?
  check: Map.
  who: [own-office]
  because: Invented. Stray current needs rails.
  source: firm-handbook

line-closed:
  label: the line is closed
  of: structure
  kind: yes-no
  question: Is the line closed?
  check: Ask the railway.
  who: [own-office]
  because: Invented. No train, no current.
  source: firm-handbook
"""
DEDUCTIONS = """
no-trains-no-current:
  when: {line-closed: yes}
  then: {stray-current: {not: with-trains}}
  because: Invented. No train runs that a current could come with.
  source: firm-handbook
"""
LOOKS = """
clamp-the-bars:
  label: clamp meter on the bars
  do: Lay one bar bare and clamp it. Read it with a train and without.
  attributes: [stray-current]
  minutes: 25
  wait-hours: 1
  needs: [clamp meter]
  damages: yes
  spoils: [foil-test]
  who: own-technician
  answers: 0.9
  only-when: {kind: tunnel or basement}
  because: Invented. The meter tells whether the current knows the timetable.
  source: firm-handbook

ask-the-railway:
  label: map of the rails
  do: Look at the map. Ask the railway whether the line still runs.
  attributes: [rails, line-closed]
  minutes: 10
  who: own-office
  answers: 0.9
  because: Invented. The map tells where the rails lie.
  source: firm-handbook
"""
STOPS = """
current-with-trains:
  label: current from the railway
  when: {stray-current: with-trains}
  asked: when-it-applies
  ask: Does the current come with the trains?
  bars: [drill, break-out]
  do: Call the railway before any bar is cut.
  released-by: railway operator
  because: Invented. A cut bar may spark.
  source: firm-handbook
"""
CONTRIBUTORS = """
bare-rail-bond:
  label: bare rail bond
  shown: {stray-current: with-trains}
  possible: {stray-current: steady}
  because: Invented. Current seeks the short way.
  source: firm-handbook
"""
SOURCES = """
firm-handbook:
  title: An invented handbook of an invented firm
  status: common-practice
"""


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Knowledge:
    folder = tmp_path_factory.mktemp("own")
    for name, text in {
        "attributes/current.yaml": ATTRIBUTES,
        "attributes/place.yaml": RAILS,  # the name of a shipped file: files do not replace
        "families/current.yaml": FAMILIES,
        "causes/current.yaml": CAUSES,
        "needs/rails.yaml": NEEDS,
        "deductions/current.yaml": DEDUCTIONS,
        "looks/current.yaml": LOOKS,
        "stops.yaml": STOPS,
        "contributors/current.yaml": CONTRIBUTORS,
        "sources.yaml": SOURCES,
        "README.md": "# Ours",
    }.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return open_knowledge(folder)


def assessed(
    own: Knowledge, findings: str, structure: str = "kind: tunnel, rails: yes"
) -> LeakResult:
    text = (
        f"callout: OWN\nstructure: {{{structure}}}\nvisits: [{{date: 2031-04-16}}]\n"
        f"leaks: [{{leak: L1, findings: {{{findings}}}}}]\n"
    )
    (leak,) = assess(Callout.parse(text, "own.yaml", own.attributes), own).leaks
    return leak


def rust(leak: LeakResult) -> CauseBelief:
    return next(c for c in leak.causes if c.cause == "stray-current-rust")


def test_nothing_is_odd_about_it_but_what_it_adds(own: Knowledge) -> None:
    odd = [p.message for p in own.remarks if p not in open_knowledge().remarks]
    assert odd == ["is added"] * 12


def test_the_new_cause_stands_among_the_others(own: Knowledge) -> None:
    leak = assessed(own, "")
    assert sum(c.confidence for c in leak.causes) == pytest.approx(1, abs=1e-12)
    assert rust(leak).base_rate == 0.05
    assert [(n.need, n.times) for n in rust(leak).needs] == [("rails-near", 10)]


def test_it_is_out_where_its_kind_or_its_need_says_so(own: Knowledge) -> None:
    no_kind = rust(assessed(own, "", "kind: tank, rails: yes"))
    no_rails = rust(assessed(own, "", "kind: tunnel, rails: no"))
    assert no_kind.ruled_out
    assert no_rails.ruled_out
    assert "rails" in no_rails.ruled_out.lower()
    assert no_kind.confidence == no_rails.confidence == 0


def test_the_reading_of_a_share_of_5_in_100_cut_by_no_ceiling(own: Knowledge) -> None:
    """Strong is ten times the share of 0.05; slips take it to 0.97 x 10 + 0.03."""
    found = rust(assessed(own, "member: wall, stray-current: with-trains"))
    (evidence,) = [e for e in found.for_ if e.attribute == "stray-current"]
    assert evidence.times == pytest.approx(0.97 * 10 + 0.03)
    assert evidence.reading == "with-trains"


def test_the_number_is_exact(own: Knowledge) -> None:
    found = rust(assessed(own, "member: wall, stray-current: steady"))
    (evidence,) = [e for e in found.for_ if e.attribute == "stray-current"]
    assert evidence.times == pytest.approx(0.97 * 2.5 + 0.03)


def test_given_unknown_or_false_the_family_is_silent(own: Knowledge) -> None:
    for findings in ("stray-current: steady", "member: column or beam, stray-current: steady"):
        found = rust(assessed(own, findings))
        assert "stray-current" not in {e.attribute for e in (*found.for_, *found.against)}


def test_the_deduction_leaves_two_readings(own: Knowledge) -> None:
    leak = assessed(own, "member: wall", "kind: tunnel, rails: yes, line-closed: yes")
    (evidence,) = [e for e in rust(leak).against if e.attribute == "stray-current"]
    assert evidence.reading == "none or steady"


def test_the_stop_is_raised_and_the_contributor_shown(own: Knowledge) -> None:
    leak = assessed(own, "member: wall, stray-current: with-trains")
    (stop,) = [s for s in leak.stops if s.stop == "current-with-trains"]
    assert (stop.state, stop.bars) == ("raised", ("drill", "break-out"))
    states = {c.contributor: c.state for c in leak.contributors}
    assert states["bare-rail-bond"] == "shown"
    assert "bare-rail-bond" not in {c.contributor for c in assessed(own, "").contributors}


def test_the_look_is_offered_until_it_is_done(own: Knowledge) -> None:
    crack = (
        "member: wall, crack-visible: yes, relation-to-joint: away from joints, wet-shape: wavy"
        "-line, first-water: crack, step-across-crack: no-step, crack-form: along-bars"
        ", deposits: {has: [rust]}, sounding: solid"
    )
    leak = assessed(own, crack)
    assert leak.causes[0].cause == "stray-current-rust"
    (look,) = [look for look in leak.next if look.look == "clamp-the-bars"]
    assert look.answers == ("none", "steady", "with-trains")
    done = assessed(own, f"{crack}, stray-current: with-trains")
    assert "clamp-the-bars" not in {look.look for look in done.next}
