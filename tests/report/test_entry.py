"""What `knowledge show` and `knowledge list` tell."""

import json
from typing import get_args

import pytest

from advisor.knowledge.repair_entries import Role
from advisor.repair import label_of
from advisor.report import Page, entry_lines, known_keys, list_lines, lists_json
from advisor.report.words import steps
from tests.report.results import knowledge, text_of, words_of


def page_of(key: str) -> str:
    return words_of(entry_lines(Page(), knowledge(), key))


def test_every_key_has_a_page_that_fits_60_columns() -> None:
    for key in known_keys(knowledge()):
        lines = entry_lines(Page(60), knowledge(), key)
        assert len(lines) > 2, key
        assert max(len(line.text) for line in lines) <= 60, key


def test_an_unknown_key_has_none() -> None:
    assert entry_lines(Page(), knowledge(), "no-such-key") == []


@pytest.mark.parametrize("key", ["wall-foot-joint", "surface-condensation", "honeycomb"])
def test_a_cause_tells_all_that_its_entry_holds(key: str) -> None:
    cause, words = knowledge().causes[key], page_of(key)
    told = [
        cause.label,
        *cause.also_called,
        knowledge().groups[cause.group].label,
        knowledge().waters[cause.water].label,
        cause.evidence,
        *cause.confirmed_by,
        *cause.confused_with.values(),
        *(knowledge().needs[need].label for need in cause.needs),
        cause.why.because,
        *(knowledge().sources[source].title for source in cause.why.source),
    ]
    for said in told:
        assert " ".join(said.split()) in words


def test_every_family_that_mentions_a_cause_stands_on_its_page() -> None:
    column = list(knowledge().causes).index("wall-foot-joint")
    words = page_of("wall-foot-joint")
    mentioned = [f for f in knowledge().families.values() if f.family.mentioned[column]]
    assert len(mentioned) > 5
    assert all(f.label in words for f in mentioned)
    assert "such leaks" in words
    assert words.index("What speaks for it") < words.index("What speaks against it")


def test_cuts_are_shown() -> None:
    entry = next(f for f in knowledge().families.values() if f.cuts)
    assert page_of(entry.key).count("cut: its word asks for") == len(entry.cuts)
    assert "cut: its word asks for" in page_of(entry.cuts[0].hypothesis)


def test_the_status_of_a_source_is_spelt_out() -> None:
    assert knowledge().say("status-common-practice") in page_of("wall-foot-joint")
    for source in knowledge().sources.values():
        assert knowledge().say(f"status-{source.status}") in page_of(source.key)


def test_a_key_of_two_parts_shows_both() -> None:
    text = text_of(entry_lines(Page(), knowledge(), "unlisted"))
    assert "unlisted, group of causes" in text
    assert "unlisted, water" in text


def test_a_stop_tells_when_what_and_who() -> None:
    stop, words = knowledge().stops["bulging-wall"], page_of("bulging-wall")
    for said in (stop.label, stop.ask, stop.do, stop.released_by, "at the door", "digging"):
        assert " ".join(said.split()) in words


@pytest.mark.parametrize("key", list(knowledge().methods))
def test_a_method_tells_all_that_its_entry_holds(key: str) -> None:
    method, words, ours = knowledge().methods[key], page_of(key), knowledge()
    told = [
        *(method.label, ours.moments[method.moment].label, method.curing, method.fails),
        *(method.accept, method.wet_again, method.shuts_off, *method.standards, *method.conflicts),
        *(one.because for one in method.worse),
        *(step.do for step in method.steps),
        *(label_of(ours, one) for step in method.steps for one in step.quantities),
        *(ours.limits[limit].label for limit in (*method.limits, *method.makes)),
        *(ours.methods[other].label for other in (*method.first, *method.then, *method.fallbacks)),
        *(ours.materials[material].label for material in method.materials),
        *(ours.proofs[proof].label for proof in method.proof),
        f"Cost: {method.cost} of 5",
    ]
    for said in told:
        assert " ".join(said.split()) in words
    for line in method.holds:
        assert f"{line.rate * 100:.3g} times of 100 (worth {line.weight:g} cases)" in words


def test_a_limit_tells_what_must_be_so_and_who_asks_for_it() -> None:
    for limit in knowledge().limits.values():
        words = page_of(limit.key)
        asking = [m.label for m in knowledge().methods.values() if limit.key in m.limits]
        looks = [knowledge().looks[look].label for look in limit.looks]
        for said in (limit.label, f"{limit.usually * 100:.3g} times of 100", *asking, *looks):
            assert said in words


def test_a_caution_tells_its_figures_and_its_permit() -> None:
    for caution in knowledge().cautions.values():
        words = page_of(caution.key)
        told = [caution.label, caution.do, steps(knowledge(), caution.takes)]
        told += [text for f in caution.limits for text in (f.what, f.value, f.where, f.dated)]
        if caution.permit is not None:
            told += [caution.permit.what, caution.permit.issued_by, "This tool issues none."]
        assert all(" ".join(said.split()) in words for said in told)
        assert ("The local limit wins." in words) == bool(caution.limits)


def test_a_quantity_tells_how_it_is_worked_out() -> None:
    words = page_of("hole-length")
    assert "How it is worked out: half the thickness / sine of the angle" in words
    assert "Worked out from: thickness of the part and angle of the holes to the face" in words
    assert "Never more than: length of the drill" in words
    assert "Always" not in words
    assert "always: 45 deg" in page_of("packer-angle")
    assert "Taken where nothing is known: - thickness of the part: 200-400 mm" in page_of(
        "thickness-to-order"
    )


def test_a_material_a_moment_and_a_proof() -> None:
    resin = page_of("elastic-polyurethane-resin")
    assert "Certificate that the crew must hold: diisocyanate training" in resin
    assert knowledge().methods["elastic-resin-injection"].label in resin
    assert "It has come when: always" in page_of("now")
    assert "wetness by test: drops fall" not in page_of("now")
    assert "It has come when: wetness by test: beads" in page_of("while-it-runs")
    assert "Due: 1 to 3 days after the work" in page_of("dry-after-cure")
    assert "Due:" not in page_of("first-high-water")


def test_the_lists_have_the_published_form() -> None:
    lists = json.loads(lists_json(knowledge()))
    assert list(lists) == [
        "format",
        "attributes",
        "causes",
        "groups",
        "waters",
        "looks",
        "methods",
        "stops",
        "contributors",
    ]
    names = {"key", "label", "kind", "unit", "choices", "of", "question", "applies"}
    assert all(set(a) == names for a in lists["attributes"])
    assert {a["key"] for a in lists["attributes"]} == set(knowledge().attributes)
    assert all(set(c) == {"key", "label", "group", "water"} for c in lists["causes"])
    assert all(set(k) == {"key", "attributes", "minutes", "wait_hours"} for k in lists["looks"])
    assert [m["key"] for m in lists["methods"]] == list(knowledge().methods)
    assert all(set(m) == {"key", "label", "role"} for m in lists["methods"])
    assert {m["role"] for m in lists["methods"]} <= set(get_args(Role))
    width = next(a for a in lists["attributes"] if a["key"] == "crack-width")
    assert width["unit"] == "mm"
    assert width["applies"] == {"crack-visible": "yes"}


def test_the_list_for_people_names_every_key() -> None:
    text = text_of(list_lines(Page(60), knowledge()))
    repair = ("methods", "limits", "cautions", "quantities", "materials", "proofs")
    for section in ("causes", "attributes", "families", "looks", "stops", "deductions", *repair):
        assert all(f"  {key}" in text for key in knowledge().sections[section])
    assert max(map(len, text.splitlines())) <= 60
