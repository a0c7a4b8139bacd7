"""The knowledge and the cases are found from a wheel, an editable install and a checkout alike."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
CASE = "cases/worked/seen/lift-pit-that-sweats-in-august.yaml"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Wheels by kind, built by the project's own backend from a clean copy of the checkout."""
    folder = tmp_path_factory.mktemp("built")
    copy = folder / "checkout"
    subprocess.run(["git", "clone", "-q", str(ROOT), str(copy)], check=True)
    wheels = {}
    for kind, build in (("wheel", "build_wheel"), ("editable", "build_editable")):
        code = f"from hatchling.build import {build}; print({build}({str(folder / kind)!r}))"
        (folder / kind).mkdir()
        out = subprocess.run(
            [sys.executable, "-c", code], cwd=copy, capture_output=True, text=True, check=True
        )
        wheels[kind] = folder / kind / out.stdout.split()[-1]
    left = subprocess.run(
        ["git", "status", "--porcelain", "--ignored"],
        cwd=copy,
        capture_output=True,
        text=True,
        check=True,
    )
    assert not left.stdout, f"the build leaves things in the checkout: {left.stdout}"
    return wheels


def ask(path: Path, tmp_path: Path) -> str:
    """What `advisor knowledge check` prints from another folder, with only `path` to import."""
    code = (
        f"import sys; sys.path.insert(0, {str(path)!r});"
        "import advisor; print(advisor.__file__);"
        "from advisor.knowledge import shipped; print(shipped('knowledge'), shipped('cases'));"
        "from advisor.cli import main;"
        f"print(main(['assess', str(shipped('cases').parent / {CASE!r})]))"
    )
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONPATH"}
    done = subprocess.run(
        [sys.executable, "-I", "-c", code],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def test_from_a_wheel(built: dict[str, Path], tmp_path: Path) -> None:
    unpacked = tmp_path / "site"
    zipfile.ZipFile(built["wheel"]).extractall(unpacked)
    shown = ask(unpacked, tmp_path)
    assert str(unpacked / "advisor" / "data" / "knowledge") in shown
    assert "condensation on the surface" in shown
    assert shown.endswith("0\n")


def test_from_an_editable_install(built: dict[str, Path], tmp_path: Path) -> None:
    unpacked = tmp_path / "site"
    zipfile.ZipFile(built["editable"]).extractall(unpacked)
    (points_to,) = unpacked.glob("*.pth")
    shown = ask(Path(points_to.read_text().split()[-1]), tmp_path)
    assert "condensation on the surface" in shown


def test_from_the_checkout(tmp_path: Path) -> None:
    assert str(ROOT / "knowledge") in ask(ROOT, tmp_path)
