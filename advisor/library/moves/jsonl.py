"""Cases out to JSON Lines and in again: one case a line, with its checksum. Labels stay here."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from advisor.library.case import KeptCase
from advisor.library.moves.lines import from_line, to_line
from advisor.terms import Faulty, Problem

Refusal = Callable[[KeptCase], Problem | None]


def exported(bodies: Iterable[str]) -> Iterator[str]:
    """The lines of an export, one at a time. bodies: as the library keeps them."""
    for body in bodies:
        yield to_line(without_labels(KeptCase.model_validate_json(body)))


def without_labels(case: KeptCase) -> KeptCase:
    """Coded names of crews, plants and sites could be matched by who knows them: they never
    leave the library."""
    return case.model_copy(update={"labels": {}}) if case.labels else case


def imported(
    lines: Iterable[str], file: str, refusal: Refusal = lambda _: None
) -> Iterator[KeptCase | tuple[Problem, ...]]:
    """For each line that is not empty its case, or what is wrong with it.

    refusal: why a case does not belong here; None where it does.
    """
    seen: dict[str, int] = {}
    for number, line in enumerate(lines, 1):
        if not line.strip():
            continue
        try:
            case = from_line(line)
        except Faulty as faulty:
            yield tuple(replace(p, file=file, line=number) for p in faulty.problems)
            continue
        if case.case in seen:
            told = f"this case stands on line {seen[case.case]} too"
            yield (
                Problem(
                    message=told, file=file, line=number, key="case", expected="each case once"
                ),
            )
            continue
        seen[case.case] = number
        refused = refusal(case)
        yield (
            without_labels(case) if refused is None else (replace(refused, file=file, line=number),)
        )
