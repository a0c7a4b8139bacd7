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


def test_a_number_says_its_unit() -> None:
    listed = words_of(list_lines(Page(), knowledge()))
    assert "crack-width: crack width (number, mm)" in listed
    assert "pour-date: date of the pour (date)" in listed
    assert "through-ties: formwork ties through the wall (yes or no)" in listed
