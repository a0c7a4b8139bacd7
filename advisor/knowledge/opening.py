"""Opens the shipped knowledge, with a firm's own folder laid over it."""

from functools import lru_cache
from pathlib import Path

from advisor.knowledge.cache import content_of, remembered
from advisor.knowledge.knowledge import Knowledge


@lru_cache(maxsize=4)
def open_knowledge(path: Path | str | None = None) -> Knowledge:
    """The shipped knowledge, with a firm's own folder `path` laid over it.

    Raises Faulty with every fault found, each with file, line and entry.
    """
    base = shipped("knowledge")
    return open_folder(base) if path is None else open_folder(base, Path(path))


def open_folder(*folders: Path) -> Knowledge:
    """A folder that stands alone, or with another laid over it. Raises Faulty."""
    return remembered(content_of(folders), lambda: _compiled(folders))


def _compiled(folders: tuple[Path, ...]) -> Knowledge:
    # Loaded only where the knowledge has changed: it takes longer than a diagnosis.
    from advisor.knowledge.compiling import compile_folders  # noqa: PLC0415

    knowledge = compile_folders(*folders)
    # Compiled here, so that it is kept with the rest.
    assert knowledge.engine.hypotheses
    assert knowledge.repair_circuit.roots is not None
    return knowledge


def shipped(name: str) -> Path:
    """Where `knowledge` or `cases` stand: inside the installed package, or in the checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "data" / name
    return inside if inside.is_dir() else package.parent / name
