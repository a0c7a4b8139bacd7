"""`advisor library import FILE.csv`: rows of a firm's own table, or of an export."""

from dataclasses import dataclass
from pathlib import Path

from advisor.cli.exits import DONE, WRONG
from advisor.cli.library_opening import key_file, packing
from advisor.cli.opening import printable, tell
from advisor.cli.screen import Screen
from advisor.knowledge import Knowledge
from advisor.library.case import KeptCase, Origin
from advisor.library.moves.csv_in import read_csv
from advisor.library.moves.csv_rows import read_sheet
from advisor.library.moves.mapping import read_mapping
from advisor.library.moves.mapping_draft import mapping_draft
from advisor.library.scrub.keyfile import key_for
from advisor.library.store.store import Library
from advisor.report.library import added_lines, unmatched_lines
from advisor.terms import Faulty, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """How a table is to be read. draft: only print a mapping that is to be filled in."""

    mapping: str | None
    draft: bool
    origin: Origin
    key: str | None
    all_or_nothing: bool


def load_csv(
    kept: Library, knowledge: Knowledge, path: Path, wanted: Wanted, screen: Screen
) -> int:
    """Take in the rows that fit. Returns the exit code."""
    file = printable(str(path))
    if not path.is_file():
        told, expected = "there is no such file", "cases as .jsonl or .csv"
        raise Faulty(Problem(message=told, file=file, expected=expected))
    data = path.read_bytes()
    mapping = None if wanted.mapping is None else read_mapping(Path(wanted.mapping), knowledge)
    if wanted.draft:
        print(mapping_draft(read_sheet(data, file), knowledge, mapping), end="")
        return DONE
    key = key_for(path, key_file(wanted.key))
    read = read_csv(data, file, knowledge, mapping, key=key, origin=wanted.origin)
    refusals = {case.case: _refusal(kept, case, file) for case in read.cases}
    refused = [*read.refused, *filter(None, refusals.values())]
    if wanted.all_or_nothing and refused:
        raise Faulty(refused)
    fitting = [case for case in read.cases if refusals[case.case] is None]
    done = kept.add(fitting, packing(kept, knowledge))
    screen.show(screen.page.wrap(knowledge.say("import-taken", taken=read.taken, rows=read.rows)))
    screen.show(added_lines(screen.page, knowledge, done, kept))
    screen.show(unmatched_lines(screen.page, knowledge, read.unmatched))
    tell(refused)
    return WRONG if refused else DONE


def _refusal(kept: Library, case: KeptCase, file: str) -> Problem | None:
    """Why a case is not taken: it belongs elsewhere, or there is more of it here already."""
    if (refused := kept.refusal(case)) is not None:
        return refused
    if kept.origin_of(case.case) == "own":
        told = "this case was logged as it went, and a table carries less of it"
        return Problem(message=told, file=file, key=case.case, expected="`library add` to renew it")
    return None
