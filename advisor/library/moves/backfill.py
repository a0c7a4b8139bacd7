"""An old case in a few answers: from the files, or from memory. It weighs less than one logged."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from pydantic import ValidationError

from advisor.callout import Resolved
from advisor.callout.log_record import HOWS, STATES, WATER_UP
from advisor.knowledge import Knowledge
from advisor.library import case as kept
from advisor.library.alike.findings import say_findings
from advisor.library.case import KeptCase
from advisor.library.scrub.banding import banded
from advisor.terms import Faults, Place, Problem, Range, Scalar, nearest, one_of, read_value

ALWAYS: Final = ("quarter", "kind")
OUTCOME: Final = ("cause", "how", "method", "months", "state", "water-up")
MUSTS: Final = ("kind",)
KEYS: Final = ("kind", "cause", "method", "how", "state", "water-up")
QUARTER: Final = r"[0-9]{4}-Q[1-4]"
MONTH: Final = 30.4
_HERE: Final = Place("", 1, 1)


def fields(knowledge: Knowledge) -> tuple[str, ...]:
    """What is asked, in order: the findings that the knowledge names stand in the middle."""
    asked = [key for key, rule in knowledge.keeping.items() if rule.backfill]
    return (*ALWAYS, *asked, *OUTCOME)


def _spelt(key: str, said: str) -> str:
    """Keys as they are written: with hyphens for blanks; a quarter with a large Q."""
    if key == "quarter":
        return said.upper()
    return "-".join(said.split()) if key in KEYS else said


def choices(knowledge: Knowledge, field: str) -> tuple[str, ...]:
    """What may be answered; () where it is no choice, or one of very many."""
    if field in knowledge.attributes:
        return tuple(choice.key for choice in knowledge.attributes[field].choices)
    return {
        "how": HOWS,
        "state": STATES,
        "water-up": WATER_UP,
    }.get(field, ())


def backfilled(
    knowledge: Knowledge, answers: Mapping[str, str], token: str, origin: kept.Origin
) -> KeptCase:
    """The case. Raises Faulty with everything that is wrong with the answers."""
    faults = Faults()
    known = fields(knowledge)
    answers = {key: _spelt(key, said) for key, said in answers.items()}
    for key in answers:
        if key not in known:
            told, near = f'"{key}" is not asked of an old case', nearest(key, known)
            faults.add(Problem(message=told, key="--set", expected=one_of(known), nearest=near))
    for key in MUSTS:
        if key not in answers:
            told, expected = "this is missing", one_of(choices(knowledge, key))
            faults.add(Problem(message=told, key=key, expected=expected))
    for key, table in (("cause", knowledge.causes), ("method", knowledge.methods)):
        if key in answers and answers[key] not in table:
            told = f'there is no {key} "{answers[key]}"'
            expected = f"a {key} that `advisor knowledge list` shows"
            near = nearest(answers[key], table)
            faults.add(Problem(message=told, key=key, expected=expected, nearest=near))
    quarter = answers.get("quarter")
    if quarter is not None and not re.fullmatch(QUARTER, quarter):
        told = f'"{quarter}" is no quarter'
        faults.add(Problem(message=told, key="quarter", expected="such as 2029-Q3"))
    kinds = knowledge.kinds
    if (kind := answers.get("kind")) is not None and kind not in kinds:
        told, near = f'there is no kind "{kind}"', nearest(kind, kinds)
        faults.add(Problem(message=told, key="kind", expected=one_of(kinds), nearest=near))
    facts = _facts(knowledge, answers, faults)
    told_outcome = _outcome(answers, faults)
    faults.stop()
    place = {
        "place": 1,
        "status": _status(answers),
        "findings": say_findings(knowledge, banded(knowledge, facts)[0]),
        **told_outcome,
    }
    try:
        return KeptCase.model_validate(
            {
                "case": token,
                "origin": origin,
                "quarter": answers.get("quarter"),
                "kind": answers["kind"],
                "places": [place],
            }
        )
    except ValidationError as error:
        for one in error.errors(include_url=False):
            key = str(one["loc"][-1]) if one["loc"] else ""
            faults.add(Problem(message=f"{key}: {one['msg']}", key="--set"))
        faults.stop()
        raise


def _facts(knowledge: Knowledge, answers: Mapping[str, str], faults: Faults) -> dict[str, Resolved]:
    """The findings, as unsure as all that is written up later."""
    facts: dict[str, Resolved] = {}
    for key, written in answers.items():
        attribute = knowledge.attributes.get(key)
        if attribute is None or (key in MUSTS and written not in choices(knowledge, key)):
            continue  # a must is one of them and no `a or b`: that was told before
        before = len(faults.problems)
        with faults.catch():
            value = read_value(Scalar(written, False, False, _HERE), attribute)
            if isinstance(value, int | Range):
                facts[key] = Resolved(value, sure=False)
        faults.problems[before:] = [
            replace(problem, line=None, column=None) for problem in faults.problems[before:]
        ]
    return facts


def _outcome(answers: Mapping[str, str], faults: Faults) -> dict[str, Any]:
    """What was confirmed, done and seen later."""
    found: dict[str, Any] = {}
    if "cause" in answers:
        found["confirmed"] = {
            "day": 0,
            "cause": answers["cause"],
            "how": _one("how", answers, HOWS, faults),
        }
    elif "how" in answers:
        told, expected = "what was confirmed is missing", "cause=KEY"
        faults.add(Problem(message=told, key="how", expected=expected))
    if "method" not in answers:
        for key in ("months", "state", "water-up"):
            if key in answers:
                told, expected = "a later look needs its repair", "method=KEY"
                faults.add(Problem(message=told, key=key, expected=expected))
        return found
    found["done"] = [{"day": 0, "method": answers["method"]}]
    if "state" in answers or "months" in answers:
        state = _one("state", answers, STATES, faults)
        up = _one("water-up", answers, WATER_UP, faults)
        months = _months(answers, faults)
        found["looked"] = [{"day": round(months * MONTH), "state": state, "water_up": up}]
    return found


def _one(
    key: str, answers: Mapping[str, str], words: tuple[str, ...], faults: Faults
) -> str | None:
    said = answers.get(key, "")
    if said in words:
        return said
    told = f'"{said}" is none of them' if said else "this is missing"
    faults.add(Problem(message=told, key=key, expected=one_of(words), nearest=nearest(said, words)))
    return None


def _months(answers: Mapping[str, str], faults: Faults) -> float:
    try:
        months = float(answers.get("months", "").removesuffix("months").strip().replace(",", "."))
    except ValueError:
        months = 0.0
    if not 0 < months <= 1200:
        told, expected = "no number of months", "months after the repair, such as 24"
        faults.add(Problem(message=told, key="months", expected=expected))
        return 1.0
    return months


def _status(answers: Mapping[str, str]) -> str:
    for key, status in (
        ("state", "watching"),
        ("method", "repaired"),
        ("cause", "cause-confirmed"),
    ):
        if key in answers:
            return status
    return "looked-at"
