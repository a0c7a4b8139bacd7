"""Pictures of what the library tells, and the words that stand in them."""

from collections.abc import Mapping
from pathlib import Path
from typing import Final

from advisor.knowledge import Knowledge
from advisor.library.facts.causes import by_kind
from advisor.library.facts.facts import LibraryFacts
from advisor.library.facts.holding_facts import curves
from advisor.library.facts.survival import MONTHS
from advisor.library.plots import bars, plots
from advisor.library.plots.sheet import ENDINGS
from advisor.library.store.columns import Columns
from advisor.report.labels import cause_label
from advisor.report.lines import counted
from advisor.report.similar import kind_label
from advisor.terms import Faulty, Problem

CURVES: Final = 6
"""More methods than these cannot be told apart in one picture."""
KINDS: Final = 8
CAUSES: Final = 12


def words(knowledge: Knowledge) -> Mapping[str, str]:
    """The words that `plots` and `bars` ask for; those of `bars` with their braces."""
    keys = {*bars.WORDS, *(key for part in plots.WORDS.values() for key in part)}
    return {key: knowledge.phrases[f"facts-{key}"] for key in sorted(keys)}


def method_label(knowledge: Knowledge, key: str) -> str:
    """The label of a method, or its key where there is none."""
    method = knowledge.methods.get(key)
    return method.label if method else key


def write_pictures(
    knowledge: Knowledge,
    facts: LibraryFacts,
    columns: Columns,
    where: Path,
    *,
    ending: str = ".svg",
) -> tuple[Path, ...]:
    """`survival`, `reliability` and `causes` in a folder, which is made where there is none;
    those are left out that have nothing to show. Returns the files.

    where: a name that ends with .svg or .png puts its own name before them and beats `ending`.
    Raises Faulty for another ending, and where nothing can be written.
    """
    ending = f".{ending.removeprefix('.')}"
    ahead = ""
    if where.suffix.lower() in ENDINGS:
        where, ahead, ending = where.parent, f"{where.stem}-", where.suffix
    _make(where)
    drawn = {
        "survival": _survival(knowledge, facts, columns, where / f"{ahead}survival{ending}"),
        "reliability": _reliability(knowledge, facts, where / f"{ahead}reliability{ending}"),
        "causes": _causes(knowledge, facts, where / f"{ahead}causes{ending}"),
    }
    return tuple(where / f"{ahead}{name}{ending}" for name, there in drawn.items() if there)


def _survival(knowledge: Knowledge, facts: LibraryFacts, columns: Columns, path: Path) -> bool:
    """Whether there was anything to draw."""
    shown = sorted(facts.held.by_method, key=lambda one: (-one.repairs, one.method))[:CURVES]
    if not shown:
        return False
    methods = tuple(one.method for one in shown)
    found = curves(knowledge, columns, methods, range(max(MONTHS.values()) + 1))
    every = len(facts.held.by_method) + facts.held.methods_not_shown.groups
    plots.survival_picture(
        {method_label(knowledge, method): found[method] for method in methods},
        knowledge.say("facts-picture-survival"),
        path,
        words(knowledge),
        note=knowledge.say("facts-picture-most-used", shown=len(shown), all=every),
        invented=facts.invented,
    )
    return True


def _reliability(knowledge: Knowledge, facts: LibraryFacts, path: Path) -> bool:
    first = facts.first_beliefs
    if not first.bins:
        return False
    places = counted(knowledge, "facts-places", first.places)
    cases = counted(knowledge, "facts-cases", first.cases)
    note = knowledge.say("facts-picture-first", places=places, cases=cases)
    if first.calibration is None:
        note = knowledge.say("facts-too-few-to-say", cases=cases)
    plots.reliability_picture(
        first.bins,
        knowledge.say("facts-picture-reliability"),
        path,
        words(knowledge),
        note=note,
        invented=facts.invented,
    )
    return True


def _causes(knowledge: Knowledge, facts: LibraryFacts, path: Path) -> bool:
    counts = by_kind(facts.causes)
    if not counts:
        return False
    kept = dict(list(counts.items())[:KINDS])
    named = plots.ordered_causes(kept)[:CAUSES]
    shown = {
        kind_label(knowledge, kind): {
            cause_label(knowledge, cause): found[cause] for cause in named if cause in found
        }
        for kind, found in kept.items()
    }
    every = sum(one.places for one in facts.causes)
    drawn = sum(sum(found.values()) for found in shown.values())
    plots.causes_picture(
        shown,
        knowledge.say("facts-picture-causes"),
        path,
        words(knowledge),
        note=knowledge.say("facts-picture-most-met", shown=drawn, all=every),
        invented=facts.invented,
    )
    return True


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Faulty(
            Problem(
                message=f"this folder cannot be made ({error.strerror or error})",
                file=str(folder),
                expected="a folder that may be written to",
            )
        ) from None
