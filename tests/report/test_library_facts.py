"""The facts of a library on the screen and in pictures: their meaning, not their exact words."""

from pathlib import Path

import pytest

from advisor.library.case import KeptCase
from advisor.library.facts.facts import LibraryFacts, facts_of
from advisor.library.facts.supplied import parse_supplied
from advisor.library.plots import bars, plots
from advisor.library.store.columns import Columns
from advisor.report.library_facts import facts_lines
from advisor.report.library_plots import words, write_pictures
from advisor.report.lines import Page
from advisor.terms import Faulty
from tests.library.kept_places import GEL, JOINT, columns_of, kept_case, kept_place
from tests.library.made_columns import made_columns
from tests.report.results import knowledge, text_of

BUILT = "kind,year,metres-of-joint\nall,2016,1200\nall,2017,1500\nbasement,2017,400\nall,2040,3\n"


def made(places: int = 400, *, invented: bool = False) -> tuple[LibraryFacts, Columns]:
    columns = made_columns(knowledge(), places)
    built = parse_supplied(BUILT, "built.csv", knowledge())
    return facts_of(knowledge(), columns, built, invented=invented), columns


def screen(facts: LibraryFacts, width: int = 80) -> str:
    return text_of(facts_lines(Page(width), knowledge(), facts))


def facts_from(cases: list[KeptCase], folder: Path) -> LibraryFacts:
    return facts_of(knowledge(), columns_of(cases, folder))


def test_parts_stand_in_their_order() -> None:
    shown = screen(made()[0])
    parts = [
        "HOW MANY, AND HOW THEY STAND",
        "WHAT HELD",
        "HOW OFTEN THE FIRST BELIEF WAS RIGHT",
        "BY PATH",
        "BY WATER",
        "BY KIND OF STRUCTURE",
        "WHAT IT WAS",
        "LEAKS AND REPAIRS",
    ]
    places = [shown.index(part) for part in parts]
    assert places == sorted(places)


@pytest.mark.parametrize("width", [40, 80, 100])
def test_no_line_is_wider_than_the_page(width: int) -> None:
    lines = facts_lines(Page(width), knowledge(), made(invented=True)[0])
    assert max(len(line.text) for line in lines) <= width


def test_an_invented_library_says_so_at_head_and_foot() -> None:
    lines = screen(made(invented=True)[0]).strip().splitlines()
    assert lines[0].startswith("INVENTED")
    assert lines[-1].startswith("INVENTED")
    assert "INVENTED" not in screen(made()[0])


def test_an_empty_library_says_so_and_what_to_do(tmp_path: Path) -> None:
    assert "advisor library add" in screen(facts_from([], tmp_path))


def test_what_held_is_told_with_bars_intervals_and_numbers(tmp_path: Path) -> None:
    place = kept_place(cause=JOINT, repairs={10: GEL}, looks={100: True, 410: True})
    shown = screen(facts_from([kept_case(n, place) for n in range(6)], tmp_path))
    flat = " ".join(shown.split())
    assert f"({GEL}): 6 repairs, 0 never tested, the others at 6 sites" in flat
    [line] = [line for line in shown.splitlines() if line.startswith("  12 months")][:1]
    assert "████" in line
    assert "100 %" in line
    assert "6 watched" in line
    # After the last look nobody watches.
    assert "0 watched  few" in shown


def test_small_numbers_say_so_in_words(tmp_path: Path) -> None:
    place = kept_place(cause=JOINT, shown={JOINT: 1.0}, repairs={10: GEL}, looks={100: True})
    shown = " ".join(screen(facts_from([kept_case(n, place) for n in range(4)], tmp_path)).split())
    assert "4 wet places in 4 cases" in shown
    assert "fewer than five sites were tested: 1 group with 4 repairs" in shown
    assert "too few to say" in shown


def test_without_repairs_and_beliefs_the_screen_still_stands(tmp_path: Path) -> None:
    shown = screen(facts_from([kept_case(1, kept_place())], tmp_path))
    assert "No repair is kept yet." in shown
    assert "0 wet places in 0 cases" in " ".join(shown.split())


def test_tables_hold_the_counts_of_each_row() -> None:
    facts, _ = made()
    lines = screen(facts, 100).split("BY PATH")[1].split("BY WATER")[0].splitlines()
    for row in facts.standing.by_path:
        if row.key is None:
            continue
        label = knowledge().groups[row.key].label
        (line,) = [line for line in lines if line.endswith(f"  {label}")]
        figures = [0 if word == "." else int(word) for word in line[:35].split()]
        days = row.days_to_close
        told = days is not None and days.of >= 5
        assert figures == [
            row.all.places,
            row.open.places,
            row.closed.places,
            row.reopened.places,
            row.not_through.places,
            row.never_confirmed.places,
            round(days.median) if days is not None and told else 0,
        ]


def test_pictures_and_bars_have_all_their_words() -> None:
    asked = {*bars.WORDS, *(key for keys in plots.WORDS.values() for key in keys)}
    assert set(words(knowledge())) == asked


@pytest.mark.parametrize("ending", ["svg", ".png"])
def test_pictures_are_written_into_a_folder(ending: str, tmp_path: Path) -> None:
    facts, columns = made(150, invented=True)
    folder = tmp_path / "new" / "pictures"
    written = write_pictures(knowledge(), facts, columns, folder, ending=ending)
    assert [path.stem for path in written] == ["survival", "reliability", "causes"]
    for path in written:
        assert path.parent == folder
        assert path.suffix == f".{ending.removeprefix('.')}"
        assert path.stat().st_size > 2000
    if ending == "svg":
        assert "INVENTED" in written[0].read_text(encoding="utf-8")


def test_a_file_name_tells_ending_and_beginning(tmp_path: Path) -> None:
    facts, columns = made(150)
    written = write_pictures(knowledge(), facts, columns, tmp_path / "ours.svg")
    assert [path.name for path in written] == [
        "ours-survival.svg",
        "ours-reliability.svg",
        "ours-causes.svg",
    ]


def test_what_has_nothing_to_show_is_not_drawn(tmp_path: Path) -> None:
    columns = columns_of([kept_case(1, kept_place())], tmp_path)
    facts = facts_of(knowledge(), columns)
    assert write_pictures(knowledge(), facts, columns, tmp_path / "none") == ()


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    facts, columns = made(50)
    (tmp_path / "file").write_text("here", encoding="utf-8")
    with pytest.raises(Faulty, match="cannot be made"):
        write_pictures(knowledge(), facts, columns, tmp_path / "file" / "in")
    with pytest.raises(Faulty, match="no picture can be written"):
        write_pictures(knowledge(), facts, columns, tmp_path / "other", ending="gif")
