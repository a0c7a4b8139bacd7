"""A fault in something a person wrote: what is wrong, where, and what was meant."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

MOST = 100
"""A collector stops reading at this many faults: nobody mends more in one go."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault. Lines and columns count from 1. `str()` gives one readable line."""

    message: str
    file: str = ""
    line: int | None = None
    column: int | None = None
    key: str | None = None
    expected: str | None = None
    nearest: str | None = None

    def __str__(self) -> str:
        numbers = (str(number) for number in (self.line, self.column) if number is not None)
        place = ":".join(part for part in (self.file, *numbers) if part)
        head = "".join(f"{part}: " for part in (place, self.key) if part)
        tail = f"; expected {self.expected}" if self.expected else ""
        hint = f'; did you mean "{self.nearest}"?' if self.nearest else ""
        return " ".join(f"{head}{self.message}{tail}{hint}".split())


class Faulty(Exception):  # noqa: N818 - what callers say: "it is faulty"
    """Something cannot be used as written. `problems` names every fault found."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = (
            (problems,) if isinstance(problems, Problem) else tuple(problems)
        )
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(str(problem) for problem in self.problems)


class Faults:
    """Gathers faults, so that a reader sees all of them at once.

        faults = Faults()
        for node in nodes:
            with faults.catch():
                names.append(text(node))
        faults.stop()

    Raises Faulty with all it holds once there are `MOST` of them.
    """

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def __bool__(self) -> bool:
        return bool(self.problems)

    def add(self, *problems: Problem) -> None:
        self.problems.extend(problems)
        if len(self.problems) >= MOST:
            self.stop()

    @contextmanager
    def catch(self) -> Iterator[None]:
        """Keep the faults raised inside, and go on after the block."""
        try:
            yield
        except Faulty as faulty:
            caught = faulty.problems
        else:
            return
        self.add(*caught)

    def stop(self) -> None:
        """Raise Faulty when anything was gathered."""
        if self.problems:
            raise Faulty(self.problems)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known spelling closest to `word`, or None when nothing is near.

    Case, hyphens, underscores and spaces are forgiven.
    """
    spelt = _fold(word[:64])
    folded: dict[str, str] = {}
    for name in known:
        folded.setdefault(_fold(name), name)
    if spelt in folded:
        return folded[spelt]
    # Only a misspelling needs it, and it takes time to load.
    from difflib import get_close_matches  # noqa: PLC0415

    close = get_close_matches(spelt, folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else None


def _fold(word: str) -> str:
    return "-".join(word.casefold().replace("-", " ").replace("_", " ").split())
