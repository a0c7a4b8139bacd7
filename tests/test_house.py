"""The house stands as it was drawn: floors, file sizes, words, style, public names."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

import advisor
from advisor.water import FORMULAS

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "advisor"

FLOORS = {
    "terms": 1,
    "engine": 2,
    "water": 2,
    "knowledge": 3,
    "callout": 4,
    "diagnosis": 5,
    "repair": 6,
    "library": 7,
    "learning": 8,
    "assessment": 9,
    "report": 10,
    "cli": 10,
}
FACES_IN_ORDER = {"report": {"cli"}}
"""A face may use another: who is used -> by whom."""


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def imports(path: Path) -> set[str]:
    """Packages of the advisor that a module imports, also inside functions."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module]
            if node.module == "advisor":
                names = [f"advisor.{alias.name}" for alias in node.names]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        found |= {name.split(".")[1] for name in names if name.startswith("advisor.")}
    return found & FLOORS.keys()


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_package_imports_only_from_floors_below_its_own(path: Path) -> None:
    package = path.relative_to(PACKAGE).parts[0]
    if package not in FLOORS:  # the lazy names and the entry point stand above the house
        return
    for other in imports(path) - {package}:
        below = FLOORS[other] < FLOORS[package]
        assert below or package in FACES_IN_ORDER.get(other, ()), f"{package} imports {other}"


def test_the_files_of_one_package_import_each_other_without_a_circle() -> None:
    needs: dict[str, set[str]] = {}
    for path in modules():
        name = ".".join(("advisor", *path.relative_to(PACKAGE).with_suffix("").parts))
        tree = ast.parse(path.read_text(encoding="utf-8"))
        needs[name] = {
            node.module
            for node in tree.body
            if isinstance(node, ast.ImportFrom)
            and node.module
            and node.module.startswith("advisor.")
            and node.module.count(".") > 1
        }
    done: set[str] = set()

    def visit(name: str, path: tuple[str, ...]) -> None:
        assert name not in path, " -> ".join((*path, name))
        if name not in done:
            for other in needs.get(name, ()):
                visit(other, (*path, name))
            done.add(name)

    for name in needs:
        visit(name, ())


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_file_has_one_subject(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400
    assert path.stem != "utils"


def test_the_engine_reads_as_a_general_engine() -> None:
    words = re.compile(r"leak|water|concrete|crack|joint\b|wet|damp|callout|technician", re.I)
    for path in [*(PACKAGE / "engine").glob("*.py"), *(ROOT / "tests" / "engine").glob("*.py")]:
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            assert not words.search(line), f"{path.name}:{number}: {line.strip()}"


def test_python_knows_no_cause_method_or_symptom() -> None:
    """Keys of the knowledge stand in knowledge/, never in code; but for the few named ones."""
    knowledge = advisor.open_knowledge()
    keys = {*knowledge.causes, *knowledge.attributes, *knowledge.looks, *knowledge.stops}
    keys |= {*knowledge.methods, *knowledge.limits, *knowledge.quantities}
    # The file form requires `kind` and refuses findings before `pour-date`;
    # `not-in-this-list` is always a cause; a fact worked out by a function of `water`
    # is bound by that function's name, a fact over wet places likewise.
    # What a repair has to reach is what was agreed.
    keys -= {"kind", "pour-date", "not-in-this-list", "regular-pitch", *FORMULAS}
    keys -= {"agreed-tightness"}
    keys = {key for key in keys if "-" in key}
    for path in modules():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                assert node.value not in keys, f"{path.name}:{node.lineno}: {node.value}"


def test_the_public_names_are_complete_and_sorted() -> None:
    assert advisor.__all__ == sorted(advisor.__all__)
    for name in advisor.__all__:
        assert getattr(advisor, name) is not None


def test_the_top_level_holds_what_belongs_there() -> None:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split()
    top = {name.split("/")[0] for name in listed}
    allowed = {
        *("README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE"),
        *("advisor", "knowledge", "tests", "cases"),
    }
    assert {name for name in top if not name.startswith(".")} <= allowed


@pytest.mark.parametrize("module", ["advisor", "advisor.terms", "advisor.water", "advisor.engine"])
def test_a_low_floor_does_not_load_the_heavy_libraries(module: str) -> None:
    heavy = ("pydantic", "typer", "rich", "sklearn")
    code = f"import sys, {module}; print([m for m in {heavy} if m in sys.modules])"
    out = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert out.stdout.strip() == "[]"


@pytest.mark.parametrize(
    "command",
    [("ruff", "check", "."), ("ruff", "format", "--check", "."), ("mypy",)],
    ids=" ".join,
)
def test_style_and_types(command: tuple[str, ...]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
