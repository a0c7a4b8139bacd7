"""`advisor assess` with the case library: similar past places, and own history counted in."""

from collections.abc import Callable

from advisor.assessment.assemble import Like
from advisor.cli.app_parts import Asked
from advisor.cli.library import with_library
from advisor.cli.similar import finder
from advisor.knowledge import Knowledge
from advisor.library.history import with_history
from advisor.library.store import Library

Answer = Callable[[Knowledge, Like | None], int]


def with_own_cases(asked: Asked, folder: str | None, answer: Answer) -> int:
    """Answer with the library open. Returns the exit code."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        like = finder(kept, knowledge) if asked.similar else None
        if asked.own_history:
            knowledge = with_history(knowledge, kept.columns(), invented=kept.invented)
        return answer(knowledge, like)

    return with_library(asked.file, folder, command)
