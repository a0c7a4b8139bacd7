"""Opens the knowledge a command needs, and says on standard error what is wrong."""

import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from advisor.cli.exits import FAULTY, WRONG
from advisor.knowledge import Knowledge, open_knowledge
from advisor.terms import Faulty, Problem


class Refused(Exception):  # noqa: N818 - what happened: the command is refused
    """A command that cannot be done, why, and how it ends."""

    def __init__(self, code: int, problems: Iterable[Problem]) -> None:
        self.code = code
        self.problems = tuple(problems)
        super().__init__(code)


def ended(command: Callable[[], int]) -> int:
    """Run a command and say what is wrong with what it was given. Returns the exit code."""
    try:
        return command()
    except Refused as refused:
        tell(refused.problems)
        return refused.code
    except Faulty as faulty:
        tell(faulty.problems)
        return WRONG


def opened(folder: str | None) -> Knowledge:
    """The shipped knowledge, with a folder laid over it. Raises Refused."""
    if folder is not None and (problem := _no_folder(folder)):
        raise Refused(WRONG, [problem])
    try:
        return open_knowledge(folder)
    except Faulty as faulty:
        raise Refused(FAULTY, faulty.problems) from None


def _no_folder(folder: str) -> Problem | None:
    message, expected = "there is no such folder", "a folder of knowledge"
    try:
        if Path(folder).is_dir():
            if any(_files(Path(folder))):
                return None
            # Passed over in silence it would look as if the firm's own knowledge were in use.
            message, expected = "nothing stands in this folder", "such as causes/NAME.yaml in it"
        elif Path(folder).exists():
            message = "this is a file"
    except OSError as error:
        message = f"cannot be read ({(error.strerror or 'unknown reason').lower()})"
    return Problem(message=message, file=printable(folder), key="--knowledge", expected=expected)


def _files(folder: Path) -> Iterator[Path]:
    """Files that may be knowledge, or belong nowhere: neither hidden nor `.md`, two levels deep."""
    for path in folder.iterdir():
        if path.name.startswith(".") or path.suffix == ".md":
            continue
        if path.is_dir():
            yield from (
                p for p in path.iterdir() if not p.name.startswith(".") and p.suffix != ".md"
            )
        else:
            yield path


def tell(problems: Iterable[Problem]) -> None:
    """One line a problem, on standard error."""
    for problem in problems:
        print(problem, file=sys.stderr)


def printable(text: str) -> str:
    """The text with what is no letter replaced: names of files may hold any byte."""
    return text.encode("utf-8", "replace").decode("utf-8")
