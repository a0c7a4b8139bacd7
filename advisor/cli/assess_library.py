"""`advisor assess` with the case library: similar past places, and own history counted in."""

from collections.abc import Callable, Sequence
from pathlib import Path

from advisor.assessment.assemble import Like
from advisor.cli.app_parts import Asked
from advisor.cli.exits import DONE, FAILED, worst
from advisor.cli.library_opening import library_path, named_library, no_library
from advisor.cli.opening import printable
from advisor.cli.similar import finder
from advisor.knowledge import Knowledge
from advisor.library.facts.history import with_history
from advisor.library.store.failures import LibraryFailed
from advisor.library.store.store import open_library
from advisor.terms import Faulty, Problem

Answer = Callable[[Knowledge, Like | None, Sequence[Problem]], int]


def with_own_cases(asked: Asked, knowledge: Knowledge, answer: Answer) -> int:
    """Answer with the library open. Returns the exit code.

    Where it cannot be used, that is told, and the wet place is answered all the same.
    """
    try:
        path = library_path(asked.file)
        if (missing := no_library(path)) is not None:
            told = [missing] if named_library(asked.file) else []
            return answer(knowledge, _none if asked.similar else None, told)
        with open_library(path) as kept:
            like = finder(kept, knowledge) if asked.similar else None
            own = knowledge
            if asked.own_history:
                own = with_history(knowledge, kept.columns(), invented=kept.invented)
            return answer(own, like, ())
    except Faulty as faulty:
        problems, code = faulty.problems, DONE
    except LibraryFailed as failed:
        problems, code = (_without(failed.path, f"{failed.message}; {failed.do}"),), FAILED
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        problems, code = (_without(Path(error.filename or ""), reason),), FAILED
    return worst([code, answer(knowledge, None, problems)])


def _none(*_: object) -> tuple[()]:
    """A firm without a library has no past places."""
    return ()


def _without(path: Path, why: str) -> Problem:
    return Problem(message=f"{why}. Answered without the library.", file=printable(str(path)))
