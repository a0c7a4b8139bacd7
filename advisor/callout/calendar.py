"""The days of a file's visits, and what may be dated when."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from advisor.callout.ages import in_unit
from advisor.callout.log_record import LogEntry
from advisor.callout.readings import by_day, effective, latest
from advisor.callout.record import Finding
from advisor.terms import Attribute, Place, Problem, problem_at, say_range

POUR = "pour-date"
"""The attribute before whose day nothing can be found."""


@dataclass(frozen=True, slots=True)
class Calendar:
    """days: one for each visit of the file in its order, None where it cannot be read.

    readable: false when the visits themselves could not be read, so that no finding is
    blamed for it.
    """

    days: tuple[date | None, ...]
    readable: bool = True

    @property
    def last_day(self) -> date | None:
        return max((day for day in self.days if day), default=None)

    @property
    def last(self) -> int:
        """The visit of the last day, counted from 1; 0 when there is none."""
        return self.visit_for(self.last_day) if self.last_day else 0

    def visit_for(self, day: date) -> int:
        """The first visit on that day or after it; 0 when there is none."""
        later = [(known, number) for number, known in enumerate(self.days, 1) if known]
        return min((pair for pair in later if pair[0] >= day), default=(day, 0))[1]

    def day_of(self, visit: int) -> date | None:
        return self.days[visit - 1] if 0 < visit <= len(self.days) else None


def date_problems(
    findings: Iterable[Finding],
    *,
    structure: Mapping[str, Finding],
    calendar: Calendar,
    attributes: Mapping[str, Attribute],
) -> list[Problem]:
    """Findings made, or days found, after the last visit or before the pour."""
    last = calendar.last_day
    pour = _day_of(structure.get(POUR), attributes)
    if pour and last and pour > last:
        # The rest would be said of every finding.
        return [
            _dated(
                structure[POUR],
                structure[POUR].place,
                f"{pour} is after the last visit",
                f"a day up to {last}",
            )
        ]
    problems = []
    told: set[date | None] = set()
    for finding in findings:
        earliest = pour if finding.attribute != POUR else None
        for reading in finding.readings:
            wrong = _outside(reading.day, earliest, last)
            if wrong and reading.day and reading.day not in told:
                # A visit is told once, a day written beside a reading each time.
                told |= {reading.day} & set(calendar.days)
                problems.append(
                    _dated(finding, reading.place, f"made on {reading.day}, {wrong[0]}", wrong[1])
                )
        # A corrected reading stays in the file, but what it says no longer counts.
        for reading in effective(finding.readings):
            said = reading.value if isinstance(reading.value, date) else None
            if wrong := _outside(said, earliest, last):
                problems.append(_dated(finding, reading.place, f"{said} is {wrong[0]}", wrong[1]))
    return problems


def log_problems(
    log: Iterable[LogEntry],
    *,
    structure: Mapping[str, Finding],
    attributes: Mapping[str, Attribute],
) -> list[Problem]:
    """Entries of the log on a day before the pour. They may well be after the last visit."""
    pour = _day_of(structure.get(POUR), attributes)
    return [
        problem_at(
            entry.place,
            f"{entry.day} is before the pour",
            key="date",
            expected=f"a day from {pour} on",
        )
        for entry in log
        if pour and entry.day < pour
    ]


def _outside(day: date | None, earliest: date | None, last: date | None) -> tuple[str, str] | None:
    """What is wrong with a day, and what was expected."""
    if day and last and day > last:
        return "after the last visit", f"a day up to {last}"
    if day and earliest and day < earliest:
        return "before the pour", f"a day from {earliest} on"
    return None


def _dated(finding: Finding, place: Place, message: str, expected: str) -> Problem:
    return problem_at(place, message, key=finding.attribute, expected=expected)


def age_problems(
    findings: Mapping[str, Finding], *, calendar: Calendar, attributes: Mapping[str, Attribute]
) -> list[Problem]:
    """Ages, worked out from the dates of one wet place, that cannot be."""
    problems = []
    for attribute in attributes.values():
        if attribute.from_dates is None or attribute.key in findings:
            continue
        start, end = attribute.from_dates
        first = _day_of(findings.get(start), attributes)
        final = calendar.last_day if end == "visit" else _day_of(findings.get(end), attributes)
        if first is None or final is None or final < first:
            continue
        age = in_unit((final - first).days, attribute)
        if not attribute.lowest <= age.lo <= attribute.highest:
            words = say_range(age, attribute.unit or "days")
            problems.append(
                problem_at(
                    findings[start].place,
                    f"{attribute.label} would be {words}",
                    key=start,
                    expected="a later day",
                )
            )
    return problems


def _day_of(finding: Finding | None, attributes: Mapping[str, Attribute]) -> date | None:
    if finding is None:
        return None
    days = by_day(effective(finding.readings), attributes[finding.attribute])
    value = latest(days).value
    return value if isinstance(value, date) else None
