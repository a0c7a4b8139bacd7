"""Folders of knowledge written for one test."""

from pathlib import Path

WHY = "  because: Invented for a test.\n  source: common-practice\n"
"""The last two lines of any entry."""


def lay(folder: Path, **files: str) -> Path:
    """A folder with one file for each section named."""
    for section, text in files.items():
        (folder / section).mkdir(parents=True, exist_ok=True)
        (folder / section / "own.yaml").write_text(text, encoding="utf-8")
    return folder


def look(key: str = "own-look", attributes: str = "[wetness]") -> str:
    """A look that has no fault."""
    return (
        f"{key}:\n  label: own look\n  do: Look.\n  attributes: {attributes}\n  minutes: 5\n"
        f"  who: own-technician\n  answers: 0.9\n{WHY}"
    )


def yes_no_family(key: str, reads: str, times: str = "{honeycomb: weak for}") -> str:
    """A family over yes and no, in words at yes."""
    return (
        f"{key}:\n  label: own family\n  reads: {reads}\n{WHY}"
        f"  readings:\n    yes: {{share: 0.2, times: {times}}}\n    no: {{share: 0.8}}\n"
    )


def sign(key: str, kind: str = "yes-no", more: str = "") -> str:
    """An attribute of a wet place."""
    return (
        f"{key}:\n  label: own sign\n  of: leak\n  kind: {kind}\n{more}"
        f"  question: Is it there?\n  check: Look.\n  who: [eyes-here]\n{WHY}"
    )
