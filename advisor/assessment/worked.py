"""Worked cases scored: how well callouts are answered whose cause was found out later.

A file counts once, however many wet places it has: they share its weight.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import log
from pathlib import Path
from typing import Final, Literal

from advisor.assessment.cases import Case, read_cases
from advisor.assessment.result import FORMAT, to_json
from advisor.callout import Truth, resolve
from advisor.diagnosis import CauseBelief, Place, table_of
from advisor.diagnosis.causes import cause_beliefs, group_beliefs, settled_on, through_belief
from advisor.knowledge import Knowledge
from advisor.repair import lasting_repairs, method_beliefs, weighed
from advisor.terms import Problem, mapping, number, only_keys, read, text

__all__ = [
    "Case",
    "CaseReport",
    "Half",
    "Miss",
    "Verdict",
    "below_floor",
    "judge",
    "read_cases",
    "score",
]

LEAST: Final = 1e-9
"""A cause that is out counts as believed this much, so that one miss is not an endless loss."""


@dataclass(frozen=True, kw_only=True)
class Half:
    """Shares from 0 to 1 of the cases of one half. log_loss: mean of -ln(belief in the truth).

    settled: clear enough to act on; right_when_settled: null where nothing was settled.
    with_methods: cases that say which methods would do; of these, acceptable: the lasting repair
    that is advised is one of them; forbidden: it is one that would not do. Null where there is no
    such case.
    """

    cases: int
    top_1: float
    top_3: float
    group_top_1: float
    through: float
    log_loss: float
    settled: float
    right_when_settled: float | None
    with_methods: int
    acceptable: float | None
    forbidden: float | None


@dataclass(frozen=True, kw_only=True)
class Miss:
    """A wet place where none of the true causes leads. confidence: of the truth, summed."""

    file: str
    leak: str
    blind: bool
    truth: tuple[str, ...]
    led: str
    led_confidence: float
    confidence: float


@dataclass(frozen=True, kw_only=True)
class CaseReport:
    """The score of each half and of all; null where a half has no case."""

    format: Literal[1] = FORMAT
    knowledge: str
    blind: Half | None
    seen: Half | None
    together: Half | None
    misses: tuple[Miss, ...]
    problems: tuple[Problem, ...] = ()

    def to_json(self) -> str:
        """The report as one JSON document; figures unrounded."""
        return to_json(self)


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """How one wet place was answered. right: what it settled on is so; None: not settled.

    acceptable, forbidden: None where the case says nothing about methods.
    """

    top_1: bool
    top_3: bool
    group_top_1: bool
    through: bool
    log_loss: float
    right: bool | None
    acceptable: bool | None
    forbidden: bool | None


def score(
    cases: Sequence[Case], knowledge: Knowledge, problems: Iterable[Problem] = ()
) -> CaseReport:
    """How well the cases are answered: one run over all their wet places.

    problems: of the files that could not be read, to stand in the report.
    """
    places = [(case, leak) for case in cases for leak in case.callout.leaks]
    facts = [resolve(case.callout, leak, knowledge.attributes) for case, leak in places]
    run = knowledge.engine.run(table_of(knowledge.engine, facts))
    answered: list[tuple[Case, Verdict]] = []
    misses = []
    for row, (case, leak) in enumerate(places):
        causes = cause_beliefs(knowledge, run, row)
        place = Place(knowledge=knowledge, run=run, row=row, facts=facts[row])
        acceptable, forbidden = _of_methods(case.truth, place)
        verdict = replace(
            judge(knowledge, case.truth.causes, causes), acceptable=acceptable, forbidden=forbidden
        )
        answered.append((case, verdict))
        if not verdict.top_1:
            misses.append(
                Miss(
                    file=case.callout.file,
                    leak=leak.key,
                    blind=case.truth.blind,
                    truth=case.truth.causes,
                    led=causes[0].cause,
                    led_confidence=causes[0].confidence,
                    confidence=_belief(case.truth.causes, causes),
                )
            )
    return CaseReport(
        knowledge=knowledge.fingerprint,
        blind=_half([(case, v) for case, v in answered if case.truth.blind]),
        seen=_half([(case, v) for case, v in answered if not case.truth.blind]),
        together=_half(answered),
        misses=tuple(misses),
        problems=tuple(problems),
    )


def judge(knowledge: Knowledge, truth: Sequence[str], causes: tuple[CauseBelief, ...]) -> Verdict:
    """causes: all of them, most believed first.

    Of several true causes any may lead, and all stand in the first three. A fault within
    another is hit by itself only; the group of either counts.
    """
    ranked = [belief.cause for belief in causes]
    within = [key for cause in truth for key in knowledge.causes[cause].within]
    groups = {knowledge.causes[key].group for key in (*truth, *within)}
    ways = {knowledge.groups[knowledge.causes[cause].group].through for cause in truth}
    group_sums = group_beliefs(knowledge, causes)
    through = vars(through_belief(knowledge, causes))
    settled = settled_on(knowledge, causes, group_sums)
    top_1, group_top_1 = ranked[0] in truth, group_sums[0].group in groups
    return Verdict(
        top_1=top_1,
        top_3=set(truth) <= set(ranked[:3]),
        group_top_1=group_top_1,
        through=max(through, key=lambda way: through[way]) in ways,
        log_loss=-log(max(_belief(truth, causes), LEAST)),
        right={None: None, "cause": top_1, "group": group_top_1}[settled],
        acceptable=None,
        forbidden=None,
    )


def _of_methods(truth: Truth, place: Place) -> tuple[bool | None, bool | None]:
    """Whether the lasting repair that is advised would do, and whether it is one that would not.

    Where none would do, none may be advised. None each where the case says nothing of methods.
    """
    if not truth.acceptable and not truth.forbidden:
        return None, None
    knowledge = place.knowledge
    bench = weighed(place)
    front = lasting_repairs(knowledge, method_beliefs(bench))
    leads = front[0].method if front else None
    acceptable = leads in truth.acceptable if truth.acceptable else leads is None
    return acceptable, leads in truth.forbidden


def _belief(truth: Sequence[str], causes: Iterable[CauseBelief]) -> float:
    return sum(belief.confidence for belief in causes if belief.cause in truth)


def _half(answered: Sequence[tuple[Case, Verdict]]) -> Half | None:
    """Means over the cases, each wet place with the weight 1 / (wet places of its file)."""
    weighted = [(1 / len(case.callout.leaks), verdict) for case, verdict in answered]
    cases = sum(weight for weight, _ in weighted)
    settled = sum(weight for weight, verdict in weighted if verdict.right is not None)
    if not cases:
        return None

    def mean(name: str) -> float:
        return float(sum(weight * getattr(verdict, name) for weight, verdict in weighted) / cases)

    right = sum(weight for weight, verdict in weighted if verdict.right)
    judged = sum(weight for weight, verdict in weighted if verdict.acceptable is not None)
    return Half(
        cases=round(cases),
        top_1=mean("top_1"),
        top_3=mean("top_3"),
        group_top_1=mean("group_top_1"),
        through=mean("through"),
        log_loss=mean("log_loss"),
        settled=settled / cases,
        right_when_settled=right / settled if settled else None,
        with_methods=round(judged),
        acceptable=_share(weighted, "acceptable", judged),
        forbidden=_share(weighted, "forbidden", judged),
    )


def _share(weighted: Sequence[tuple[float, Verdict]], name: str, judged: float) -> float | None:
    found = sum(weight for weight, verdict in weighted if getattr(verdict, name))
    return found / judged if judged else None


METHODS = ("acceptable", "forbidden")
"""What a floor may also say: of the methods that lead, at least and at most."""


def below_floor(report: CaseReport, floor: Path) -> tuple[str, ...]:
    """What is worse than the floor file records, in words.

    `half: {top-1, top-3: at least, log-loss: at most, because}` for blind, seen or both; also
    `acceptable` at least and `forbidden` at most, of the methods that lead.
    Raises Faulty when the file cannot be used.
    """
    document = mapping(read(floor))
    only_keys(document, ("blind", "seen"))
    found: list[str] = []
    for name, node in document.entries:
        keys = ("top-1", "top-3", "log-loss", "because")
        limits = mapping(node, name.text)
        only_keys(limits, (*keys, *METHODS), keys)
        values = dict(zip(limits.keys(), (entry for _, entry in limits.entries), strict=True))
        text(values["because"], "because")
        half = report.blind if name.text == "blind" else report.seen
        if half is None:
            found.append(f"{name.text}: no case was read")
            continue
        for key, value in (("top-1", half.top_1), ("top-3", half.top_3)):
            if value < (least := number(values[key], key)):
                found.append(f"{name.text}: {key} is {value:.3f}, at least {least:g} is recorded")
        if "acceptable" in values and (half.acceptable or 0.0) < (
            least := number(values["acceptable"], "acceptable")
        ):
            told = f"acceptable methods lead in {half.acceptable or 0:.3f}"
            found.append(f"{name.text}: {told}, at least {least:g} is recorded")
        if "forbidden" in values and (half.forbidden or 0.0) > (
            most := number(values["forbidden"], "forbidden")
        ):
            told = f"forbidden methods lead in {half.forbidden or 0:.3f}"
            found.append(f"{name.text}: {told}, at most {most:g} is recorded")
        if half.log_loss > (most := number(values["log-loss"], "log-loss")):
            found.append(
                f"{name.text}: log-loss is {half.log_loss:.3f}, at most {most:g} is recorded"
            )
    return tuple(found)
