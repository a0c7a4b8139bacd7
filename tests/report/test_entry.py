"""What `knowledge show` and `knowledge list` tell."""

import json

import pytest

from advisor.report import Page, entry_lines, known_keys, list_lines, lists_json
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
    width = next(a for a in lists["attributes"] if a["key"] == "crack-width")
    assert width["unit"] == "mm"
    assert width["applies"] == {"crack-visible": "yes"}


def test_the_list_for_people_names_every_key() -> None:
    text = text_of(list_lines(Page(60), knowledge()))
    for section in ("causes", "attributes", "families", "looks", "stops", "deductions"):
        assert all(f"  {key}" in text for key in knowledge().sections[section])
    assert max(map(len, text.splitlines())) <= 60
