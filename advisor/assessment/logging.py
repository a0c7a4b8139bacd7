"""An outcome logged: answers in, the text of the record with one entry more out.

Pure: who calls reads and writes the file. What the advisor answers now is written down before the
first other entry of a wet place, and never again changed.
"""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final

from advisor.assessment.assemble import assess_all
from advisor.callout import Callout, Leak
from advisor.callout.log_reader import KINDS, PROPOSED, SHARED
from advisor.callout.log_record import HELD, Closed, Proposed
from advisor.callout.log_writer import LOG, checked, with_entry
from advisor.callout.status import stand
from advisor.diagnosis import stops_now
from advisor.knowledge import Knowledge
from advisor.repair.closing import Gate, gates
from advisor.repair.log_keys import entry_problems, log_problems
from advisor.terms import Faulty, Problem, nearest, one_of
from advisor.version import __version__

LISTS: Final = frozenset({"by", "contributors", "present"})
"""Keys whose answer may name several, with commas between them."""
TABLES: Final = frozenset({"quantities", "readings"})
"""Keys that hold keys of their own: `quantities.acrylate-gel=12 L`."""
LEAST: Final = 0.0005
"""A cause or method that was believed less than this is not written down."""

Answers = Mapping[str, Any]
"""Under the keys of the file form: texts, and lists of mappings for the packers."""


@dataclass(frozen=True, slots=True)
class Logged:
    """The text of the record, and the callout that it says. added: the kinds of what is new."""

    text: str
    callout: Callout
    added: tuple[str, ...]


def logged(knowledge: Knowledge, text: str, file: str, answers: Answers) -> Logged:
    """Raises Faulty with everything that is wrong with the file or the answers; nothing is lost."""
    callout = Callout.parse(text, file, knowledge.attributes)
    entry = _entry(answers, callout)
    leak = callout.leak(entry["leak"])
    if leak is None:
        keys = [place.key for place in callout.leaks]
        told, near = f'there is no wet place "{entry["leak"]}"', nearest(entry["leak"], keys)
        raise Faulty(
            Problem(message=told, file=file, key="leak", expected=one_of(keys), nearest=near)
        )
    added = []
    proposed_before = any(isinstance(e, Proposed) and e.leak == leak.key for e in callout.log)
    if PROPOSED in entry or not proposed_before:
        answer = proposed(knowledge, callout, leak, entry["date"])
        said: dict[str, Any] = {}
        if PROPOSED in entry:
            said = {key: entry[key] for key in ("date", "words") if key in entry}
        text, callout = _added(knowledge, text, callout, {**answer, **said})
        added.append(PROPOSED)
    if PROPOSED not in entry:
        text, callout = _added(knowledge, text, callout, entry)
        added += [key for key in entry if key in KINDS]
    last = callout.log[-1]
    if problems := entry_problems(callout, last):
        raise Faulty(problems)
    if isinstance(last, Closed) and last.because == HELD:
        _check_gates(knowledge, callout, leak, last)
    return Logged(text, callout, tuple(added))


def proposed(
    knowledge: Knowledge, callout: Callout, leak: Leak, day: date | str | None
) -> dict[str, Any]:
    """The entry that says what the advisor answers now."""
    result = assess_all([callout], knowledge, leak=leak.key).leaks[0]
    return {
        "leak": leak.key,
        "date": callout.last_day or day,
        PROPOSED: {
            "advisor": __version__,
            "knowledge": knowledge.fingerprint,
            **({"settled-on": result.settled_on} if result.settled_on else {}),
            "causes": _likely({c.cause: c.confidence for c in result.causes}),
            "methods": _likely({m.method: m.confidence for m in result.methods}),
            **({"advised": result.plan.method} if result.plan.method else {}),
            "looks": [look.look for look in result.next],
            "stops": [stop.stop for stop in result.stops],
        },
    }


def _likely(confidences: Mapping[str, float]) -> dict[str, float]:
    return {key: round(share, 4) for key, share in confidences.items() if share >= LEAST}


def _added(
    knowledge: Knowledge, text: str, callout: Callout, entry: Mapping[str, Any]
) -> tuple[str, Callout]:
    """The text with the entry, and what it says. Raises Faulty with what is wrong with the entry:
    without a line, since it stands nowhere yet."""
    file, before = callout.file, log_problems(knowledge, callout)
    text = checked(with_entry(text, file, entry), file, text)
    try:
        callout = Callout.parse(text, file, knowledge.attributes)
        if problems := [p for p in log_problems(knowledge, callout) if p not in before]:
            raise Faulty(problems)
    except Faulty as faulty:
        raise Faulty(
            replace(problem, file="", line=None, column=None) for problem in faulty.problems
        ) from None
    return text, callout


def _entry(answers: Answers, callout: Callout) -> dict[str, Any]:
    """The answers as an entry: the wet place, the day and the kind first. A callout with one wet
    place needs no name of it. Raises Faulty where a key is none."""
    known = {
        *("leak", "date", "words", PROPOSED),
        *(key for name, kind in KINDS.items() for key in (name, *kind.others)),
    }
    entry: dict[str, Any] = {}
    problems = []
    for key, value in answers.items():
        table, dot, inner = key.partition(".")
        if dot and table in TABLES and inner:
            entry.setdefault(table, {})[inner] = value
        elif key not in known or key in TABLES:
            expected = f"{key}.KEY=VALUE" if key in TABLES else one_of(sorted(known))
            problems.append(
                Problem(
                    message=f'"{key}" is nothing that can be logged',
                    key="--set",
                    expected=expected,
                    nearest=None if key in TABLES else nearest(key, known),
                )
            )
        else:
            entry[key] = _value(key, value)
    kinds = [key for key in entry if key in (*KINDS, PROPOSED)]
    if len(kinds) != 1:
        told = f"{' and '.join(kinds)} in one entry" if kinds else "what is logged is missing"
        problems.append(Problem(message=told, key="--set", expected=one_of((*KINDS, PROPOSED))))
    if kinds == [PROPOSED]:
        expected = f"{PROPOSED} with {one_of(SHARED)}"
        problems += [
            Problem(message="this does not go with it", key=key, expected=expected)
            for key in entry
            if key not in (PROPOSED, *SHARED)
        ]
    if "leak" not in entry and len(callout.leaks) == 1:
        entry["leak"] = callout.leaks[0].key
    if "leak" not in entry:
        told, keys = "the wet place is missing", [place.key for place in callout.leaks]
        problems.append(Problem(message=told, key="--leak", expected=one_of(keys)))
    if "date" not in entry and (kinds != [PROPOSED] or callout.last_day is None):
        problems.append(Problem(message="the day is missing", key="date", expected="YYYY-MM-DD"))
    if problems:
        raise Faulty(problems)
    first = {"leak": entry["leak"], "date": entry.get("date", callout.last_day)}
    return first | {kinds[0]: entry[kinds[0]]} | {k: entry[k] for k in entry if k not in first}


def _value(key: str, value: Any) -> Any:
    """An answer as YAML writes it. A day that is none is left for the reader to tell."""
    if key in LISTS:
        return [word.strip() for word in str(value).split(",") if word.strip()]
    if key == "leak":
        return "-".join(str(value).split())
    if key == "date":
        with suppress(ValueError):
            return date.fromisoformat(value)
    return value


def open_gates(knowledge: Knowledge, callout: Callout, leak: Leak) -> tuple[Gate, ...]:
    """What is not yet met of what a closing as held asks, while a repair is watched."""
    if stand(callout, leak).status not in ("repaired", "watching"):
        return ()
    return _unmet(knowledge, callout, leak)


def _unmet(knowledge: Knowledge, callout: Callout, leak: Leak) -> tuple[Gate, ...]:
    # A stop that is asked before a step has had its say when the step was done.
    stops = [
        knowledge.stops[stop.stop].label
        for stop in stops_now(knowledge, callout, leak)
        if stop.state == "raised" or knowledge.stops[stop.stop].asked == "at-the-door"
    ]
    return tuple(gate for gate in gates(knowledge, callout, leak, stops) if not gate.met)


def _check_gates(knowledge: Knowledge, callout: Callout, leak: Leak, closed: Closed) -> None:
    """Raises Faulty with every gate that was not met on that day."""
    then = replace(callout, log=tuple(e for e in callout.log if e.day <= closed.day))
    if problems := [
        Problem(message="not yet closed as held", file=callout.file, key=LOG, expected=gate.text)
        for gate in _unmet(knowledge, then, leak)
        if not (gate.of_the_cause and closed.never_confirmed)
    ]:
        raise Faulty(problems)
