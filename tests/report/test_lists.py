from advisor.report import Page, list_lines
from tests.report.results import knowledge, text_of, words_of


def test_every_choice_of_what_a_callout_holds_is_listed() -> None:
    listed = words_of(list_lines(Page(), knowledge()))
    for attribute in knowledge().attributes.values():
        assert f"{attribute.key}: {attribute.label}" in listed
        keys = [choice.key for choice in attribute.choices]
        if attribute.kind in ("choice", "several"):
            assert ", ".join(keys) in listed


def test_attributes_stand_under_the_block_of_the_file_they_belong_to() -> None:
    parts = text_of(list_lines(Page(), knowledge())).split("\n\n")
    heads = {part.partition(" (")[0]: part for part in parts}
    assert "  kind: " in heads["ATTRIBUTES OF THE STRUCTURE"]
    assert "  danger-signs: " in heads["ATTRIBUTES OF A VISIT"]
    assert "  wet-zone: " in heads["ATTRIBUTES OF A WET PLACE"]


def test_methods_say_what_they_do_and_quantities_their_unit() -> None:
    listed = words_of(list_lines(Page(), knowledge()))
    label = knowledge().methods["gel-injection"].label
    assert f"gel-injection: {label} (seals the path)" in listed
    assert "hole-length: length of each hole to the crack (number, mm)" in listed
    assert "ultrafine-cement: ultrafine cement (number, kg)" in listed
    for section in ("limits", "cautions", "proofs"):
        for entry in getattr(knowledge(), section).values():
            assert f"{entry.key}: {entry.label}" in listed


def test_a_number_says_its_unit() -> None:
    listed = words_of(list_lines(Page(), knowledge()))
    assert "crack-width: crack width (number, mm)" in listed
    assert "pour-date: date of the pour (date)" in listed
    assert "through-ties: formwork ties through the wall (yes or no)" in listed
