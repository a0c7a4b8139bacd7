"""`advisor library similar`: past places like those of a callout."""

import json as json_of
from collections.abc import Callable
from pathlib import Path

from advisor.assessment import to_json
from advisor.assessment.similar import similar_places
from advisor.assessment.similar_result import SimilarPlace
from advisor.callout import Callout, Leak
from advisor.cli.exits import DONE, WRONG
from advisor.cli.files import no_such_leak, read_files
from advisor.cli.library_opening import key_file, packing, with_library
from advisor.cli.opening import tell
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.library.scrub.keyfile import key_for
from advisor.library.scrub.labels import token
from advisor.library.store.store import Library
from advisor.report.lines import Line
from advisor.report.similar import similar_lines


def similar(
    file: str,
    *,
    leak: str | None,
    json: bool,
    key: str | None,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """Print the nearest past places of each wet place. Returns the exit code."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        callouts, problems = read_files([file], knowledge)
        if leak is not None and callouts and not any(c.leak(leak) for c in callouts):
            problems.append(no_such_leak(leak, callouts))
        like = finder(kept, knowledge, key_file(key))
        found = [
            (callout.file, place.key, like(callout, place))
            for callout in callouts
            for place in callout.leaks
            if leak in (None, place.key)
        ]
        if json:
            told = [
                {"file": f, "leak": k, "similar": json_of.loads(to_json(places))}
                for f, k, places in found
            ]
            print(json_of.dumps(told, ensure_ascii=False))
        else:
            lines: list[Line] = []
            for f, k, places in found:
                head = knowledge.say("wet-place", leak=k, file=f)
                lines += screen.page.wrap(head, rest="  ", style="head")
                lines += [*similar_lines(screen.page, knowledge, places), Line("")]
            screen.show(lines)
        tell(problems)
        return WRONG if problems else DONE

    return with_library(library, folder, command, makes=False)


def finder(
    kept: Library, knowledge: Knowledge, key: Path | None = None
) -> Callable[[Callout, Leak], tuple[SimilarPlace, ...]]:
    """Finds the past places like one, but those of the callout itself."""

    packing(kept, knowledge)

    def like(callout: Callout, leak: Leak) -> tuple[SimilarPlace, ...]:
        own = token(key_for(Path(callout.file), key or key_file(None)), callout.key)
        return similar_places(knowledge, kept, callout, leak, token=own)

    return like
