"""Photos of records: taken into the library after a yes, and written out of it again."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final

from advisor.callout import Callout, Leak
from advisor.knowledge import Knowledge
from advisor.library.scrub.photos import without_metadata
from advisor.library.store.pictures import Pictures, ending_of
from advisor.terms import Faulty, Problem

LARGEST: Final = 100_000_000
"""Bytes of a photo that is looked into."""
SHORT: Final = 8
"""Digits of a case in the name of a file."""

Ask = Callable[[str], bool]


def photos_of(
    knowledge: Knowledge, callout: Callout, ask: Ask
) -> tuple[dict[int, tuple[bytes, ...]], list[Problem]]:
    """The photos that got a yes, by the number of the wet place, as pixels alone; and what is
    wrong with the others. A problem tells no name: the names of photos are names of people too
    often, and it is no answer to a question."""
    found: dict[int, tuple[bytes, ...]] = {}
    problems: list[Problem] = []
    for place, leak in enumerate(callout.leaks, 1):
        for number, name in enumerate(leak.photos, 1):
            try:
                picture = without_metadata(_read(Path(callout.file).parent / name))
            except Faulty as faulty:
                problems += (_told(problem, callout, leak, number) for problem in faulty.problems)
                continue
            size = max(1, round(len(picture) / 1000))
            if ask(knowledge.say("library-photo", name=name, size=size)):
                found[place] = (*found.get(place, ()), picture)
    return found, problems


def _told(problem: Problem, callout: Callout, leak: Leak, number: int) -> Problem:
    return Problem(
        message=f"photo {number} of this wet place: {problem.message}",
        file=callout.file,
        line=leak.place.line,
        key="photos",
        expected=problem.expected,
    )


def _read(path: Path) -> bytes:
    """Raises Faulty where there is no such file, or it cannot be read."""
    try:
        if not path.is_file():
            expected = "the name of a file, from the folder of the record"
            raise Faulty(Problem(message="there is no such file", expected=expected))
        with path.open("rb") as opened:
            data = opened.read(LARGEST + 1)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise Faulty(Problem(message=f"it cannot be read ({reason})")) from None
    if len(data) > LARGEST:
        expected = f"at most {LARGEST // 1_000_000} MB; save a smaller copy"
        raise Faulty(Problem(message="the file is too large", expected=expected))
    return data


def write_photos(folder: Path, case: str, photos: Pictures) -> int:
    """Write them as `CASE-PLACE-N.jpg` or `.png`; the folder is made where there is none. How
    many. Raises OSError."""
    folder.mkdir(parents=True, exist_ok=True)
    for place, pictures in photos.items():
        for number, picture in enumerate(pictures, 1):
            name = f"{case[:SHORT]}-{place}-{number}.{ending_of(picture)}"
            (folder / name).write_bytes(picture)
    return count_of(photos)


def count_of(photos: Mapping[int, tuple[bytes, ...]]) -> int:
    return sum(map(len, photos.values()))
