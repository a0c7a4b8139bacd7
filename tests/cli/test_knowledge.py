import json
from pathlib import Path

from tests.cli.command import CASE, run


def overlay(folder: Path, **files: str) -> Path:
    """A folder of knowledge of one's own."""
    for name, text in files.items():
        (folder / name).mkdir()
        (folder / name / "own.yaml").write_text(text)
    return folder


GROUNDED = "  because: Invented for a test.\n  source: common-practice\n"


def test_the_shipped_knowledge_has_no_faults() -> None:
    ended = run("knowledge", "check")
    assert (ended.code, ended.err) == (0, "")
    assert "No faults." in ended.out


def test_separation_lists_every_pair_weakest_first() -> None:
    out = run("knowledge", "check", "--separation").out
    decibels = [float(line.split(" dB")[0]) for line in out.splitlines() if " dB  " in line]
    assert len(decibels) > 50
    assert decibels == sorted(decibels)


def test_all_faults_of_a_folder_at_once(tmp_path: Path) -> None:
    folder = overlay(
        tmp_path,
        stops=f"one-stop:\n  label: x\n  when: {{membr: wall}}\n{GROUNDED}",
        looks=f"one-look:\n  label: x\n  do: y\n{GROUNDED}",
    )
    ended = run("knowledge", "check", "--knowledge", folder)
    assert ended.code == 1
    words = "".join(ended.out.split())  # a long folder name may be wrapped anywhere
    assert "stops/own.yaml:" in words
    assert "looks/own.yaml:" in words
    assert '"member"' in words or "missing" in words


def test_an_overlay_that_is_sound_is_used_and_told(tmp_path: Path) -> None:
    contributor = f"leaky-gutter:\n  label: a leaky gutter\n  shown: {{member: wall}}\n{GROUNDED}"
    folder = overlay(tmp_path, contributors=contributor)
    ended = run("knowledge", "check", "--knowledge", folder)
    assert ended.code == 0
    assert "is added" in ended.out
    assert "leaky gutter" in run("knowledge", "show", "leaky-gutter", "--knowledge", folder).out
    result = run("assess", CASE, "--knowledge", folder)
    assert "a leaky gutter" in result.out
    assert "1 entry of your own folder" in " ".join(result.out.split())


def test_faulty_knowledge_yields_no_leaks_but_a_whole_document(tmp_path: Path) -> None:
    folder = overlay(tmp_path, stops="one-stop: {label: x}\n")
    ended = run("assess", CASE, "--json", "--knowledge", folder)
    assert ended.code == 1
    document = json.loads(ended.out)
    assert document["leaks"] == []
    assert document["problems"]
    assert "stops/own.yaml" in ended.err


def test_a_folder_that_is_not_there_is_a_wrong_option(tmp_path: Path) -> None:
    for command in (("knowledge", "check"), ("knowledge", "list"), ("schema",), ("assess", CASE)):
        ended = run(*command, "--knowledge", tmp_path / "none")
        assert ended.code == 2
        assert "there is no such folder" in ended.err


def test_a_folder_without_knowledge_is_not_passed_over(tmp_path: Path) -> None:
    (tmp_path / "README.md").write_text("Not knowledge.")
    (tmp_path / ".hidden.yaml").write_text("")
    (tmp_path / "causes").mkdir()
    for command in (["assess", CASE], ["knowledge", "check"], ["schema"]):
        ended = run(*command, "--knowledge", tmp_path)
        assert ended.code == 2
        assert "--knowledge: nothing stands in this folder" in ended.err


def test_show_knows_what_people_call_it() -> None:
    assert 'did you mean "wall-foot-joint"' in run("knowledge", "show", "kicker").err
    assert 'did you mean "honeycomb"' in run("knowledge", "show", "Gravel nest").err
    assert 'did you mean "honeycomb"' in run("knowledge", "show", "honeycom").err


def test_show_forgives_spaces_and_parts() -> None:
    assert run("knowledge", "show", "wall foot joint").out.startswith("wall-foot-joint, cause")
    assert run("knowledge", "show", "deposits.lime").out.startswith("deposits, attribute")


def test_show_knows_the_parts_of_repair() -> None:
    for key, kind in (
        ("gel-injection", "method of repair"),
        ("no-running-water", "limit of a method"),
        ("isocyanates", "caution"),
        ("hole-length", "quantity of a repair"),
        ("epoxy-resin", "material"),
        ("while-it-runs", "moment for a repair"),
        ("dry-after-cure", "proof of a repair"),
    ):
        assert run("knowledge", "show", key).out.startswith(f"{key}, {kind} (")


def test_show_answers_an_unknown_key_with_the_nearest() -> None:
    ended = run("knowledge", "show", "wall-fot-joint")
    assert (ended.code, ended.out) == (2, "")
    assert 'did you mean "wall-foot-joint"?' in ended.err


def test_list_json_is_one_document() -> None:
    lists = json.loads(run("knowledge", "list", "--json").out)
    assert lists["format"] == 1
    assert "wall-foot-joint" in {cause["key"] for cause in lists["causes"]}
    assert "gel-injection" in {method["key"] for method in lists["methods"]}


def test_list_for_people_fits_60_columns() -> None:
    out = run("knowledge", "list", COLUMNS="60").out
    assert max(map(len, out.splitlines())) <= 60
    assert "  wall-foot-joint:" in out
