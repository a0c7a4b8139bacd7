"""Files and folders: what belongs, what an own folder adds and replaces, the fingerprint."""

import shutil
from pathlib import Path

import pytest

from advisor.knowledge import open_folder, open_knowledge, shipped
from advisor.terms import Faulty, Problem
from tests.knowledge.laying import WHY, lay, look


def problems_of(folder: Path) -> tuple[Problem, ...]:
    with pytest.raises(Faulty) as caught:
        open_knowledge(folder)
    return caught.value.problems


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """The shipped folder, to be cut about."""
    return Path(shutil.copytree(shipped("knowledge"), tmp_path / "knowledge"))


def test_the_shipped_folder_stands_alone(copied: Path) -> None:
    assert open_folder(copied).fingerprint == open_knowledge().fingerprint
    assert open_knowledge().differences == ()


def test_an_own_folder_with_one_file_adds_and_replaces(tmp_path: Path) -> None:
    lay(tmp_path, looks=look("own-look") + look("dry-and-watch"))
    own, plain = open_knowledge(tmp_path), open_knowledge()
    assert own.looks.keys() - plain.looks.keys() == {"own-look"}
    assert own.looks["dry-and-watch"].label == "own look"
    assert [(p.key, p.message.partition(":")[0]) for p in own.differences] == [
        ("looks own-look", "is added"),
        ("looks dry-and-watch", "replaces the shipped entry"),
    ]
    assert own.differences[1].file == str(tmp_path / "looks" / "own.yaml")
    assert own.remarks[:2] == own.differences
    untouched = plain.looks.keys() - {"dry-and-watch"}
    assert all(own.looks[key] == plain.looks[key] for key in untouched)


def test_an_entry_repeated_word_for_word_is_no_difference(tmp_path: Path) -> None:
    shutil.copytree(shipped("knowledge") / "looks", tmp_path / "looks")
    own = open_knowledge(tmp_path)
    assert own.differences == ()
    assert own.fingerprint == open_knowledge().fingerprint


def test_an_empty_own_folder_changes_nothing(tmp_path: Path) -> None:
    (tmp_path / "README.md").write_text("# Ours\n")
    (tmp_path / ".notes").write_text("not read\n")
    assert open_knowledge(tmp_path).fingerprint == open_knowledge().fingerprint


def test_a_replaced_structure_kind_is_a_choice_too(tmp_path: Path) -> None:
    text = f"basement:\n  label: cellar\n{WHY}"
    (tmp_path / "structures.yaml").write_text(text)
    own, plain = (
        {c.key: c.label for c in knowledge.attributes["kind"].choices}
        for knowledge in (open_knowledge(tmp_path), open_knowledge())
    )
    assert own == plain | {"basement": "cellar"}


def test_a_new_structure_kind_needs_a_rate_for_what_is_in_no_list(tmp_path: Path) -> None:
    """Else a callout there would be left without any cause."""
    (tmp_path / "structures.yaml").write_text(f"silo:\n  label: silo\n{WHY}")
    (problem,) = problems_of(tmp_path)
    assert "not-in-this-list: base-rate: no rate for silo" in str(problem)


def test_no_such_folder(tmp_path: Path) -> None:
    (problem,) = problems_of(tmp_path / "none")
    assert problem.message == "there is no such folder"
    assert problem.file == str(tmp_path / "none")


def test_a_file_for_a_folder(tmp_path: Path) -> None:
    path = tmp_path / "looks.yaml"
    path.write_text(look())
    (problem,) = problems_of(path)
    assert problem.message == "this is a file"


@pytest.mark.parametrize(
    ("name", "expected", "nearest"),
    [
        ("cause/own.yaml", "one of attributes", "causes"),
        ("zebra.yaml", "one of attributes", None),
        ("causes.yml", "one of attributes", "causes"),
        ("causes/own.yml", "a file causes/NAME.yaml", None),
        ("causes/deep/own.yaml", "a file causes/NAME.yaml", None),
        ("causes/own.yaml.txt", "a file causes/NAME.yaml", None),
    ],
)
def test_what_does_not_belong_is_not_passed_over(
    name: str, expected: str, nearest: str | None, tmp_path: Path
) -> None:
    path = tmp_path / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(look())
    (problem,) = problems_of(tmp_path)
    assert problem.message == "this does not belong to the knowledge"
    assert (problem.expected or "").startswith(expected)
    assert problem.nearest == nearest


def test_a_key_in_two_files(tmp_path: Path) -> None:
    lay(tmp_path, looks=look())
    (tmp_path / "looks" / "second.yaml").write_text(f"# twice\n{look()}")
    (problem,) = problems_of(tmp_path)
    assert (problem.file, problem.line) == (str(tmp_path / "looks" / "second.yaml"), 2)
    assert f"stands already in {tmp_path / 'looks' / 'own.yaml'}, line 1" in problem.message


def test_a_folder_without_the_cause_that_is_always_one(copied: Path) -> None:
    path = copied / "causes" / "not-through.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text[: text.index("not-in-this-list:")], encoding="utf-8")
    with pytest.raises(Faulty) as caught:
        open_folder(copied)
    (problem,) = caught.value.problems
    assert problem.message == 'the cause "not-in-this-list" is missing'


def test_a_folder_without_a_part_of_the_weights(copied: Path) -> None:
    path = copied / "weights.yaml"
    lines = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(line for line in lines if not line.startswith("marks:")))
    with pytest.raises(Faulty) as caught:
        open_folder(copied)
    (problem,) = caught.value.problems
    assert (problem.file, problem.message) == ("weights.yaml", '"marks" is missing')


def test_the_fingerprint_does_not_know_how_files_are_cut(copied: Path) -> None:
    """All looks in one file, their order turned round."""
    files = sorted((copied / "looks").glob("*.yaml"))
    entries: list[str] = []
    for path in files:
        for line in path.read_text(encoding="utf-8").splitlines():
            if line.startswith("#") or not line:
                continue
            if line[0] != " ":
                entries.append("")
            entries[-1] += f"{line}\n"
        path.unlink()
    (copied / "looks" / "all.yaml").write_text("# other words\n" + "\n".join(reversed(entries)))
    assert open_folder(copied).fingerprint == open_knowledge().fingerprint


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("looks/first-looks.yaml", "minutes: 30", "minutes: 31"),
        ("weights.yaml", "hangs-on: 0.6667", "hangs-on: 0.6668"),
        ("sources.yaml", "status: verified", "status: from-memory"),
        ("families/body.yaml", "{honeycomb: strong for}", "{honeycomb: weak for}"),
        ("structures.yaml", "label: basement", "label: cellar"),
        ("looks/safety.yaml", "needs: [strong lamp]", "needs: [strong, lamp]"),
        ("looks/safety.yaml", "needs: [strong lamp]", "needs: strong lamp"),
    ],
)
def test_the_fingerprint_knows_every_entry(file: str, old: str, new: str, copied: Path) -> None:
    path = copied / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    assert open_folder(copied).fingerprint != open_knowledge().fingerprint
