"""`advisor library facts`: what really held, on the screen, as JSON, and as pictures."""

import sys
from pathlib import Path

from advisor.assessment import to_json
from advisor.cli.exits import DONE
from advisor.cli.library_opening import with_library
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.library.facts.facts import facts_of
from advisor.library.facts.supplied import read_supplied
from advisor.library.store.store import Library
from advisor.report.library_facts import facts_lines
from advisor.report.library_plots import write_pictures


def facts(
    *,
    json: bool,
    plots: str | None,
    ending: str,
    supplied: str | None,
    library: str | None,
    folder: str | None,
    screen: Screen,
) -> int:
    """Print the facts of the library. Returns the exit code."""

    def command(kept: Library, knowledge: Knowledge) -> int:
        columns = kept.columns()
        base = None if supplied is None else read_supplied(supplied, knowledge)
        found = facts_of(knowledge, columns, base, invented=kept.invented)
        if json:
            print(to_json(found))
        else:
            screen.show(facts_lines(screen.page, knowledge, found))
        if plots is not None:
            for path in write_pictures(knowledge, found, columns, Path(plots), ending=ending):
                print(path, file=sys.stderr)
        return DONE

    return with_library(library, folder, command, makes=False)
