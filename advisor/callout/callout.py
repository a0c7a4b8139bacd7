"""A callout: one structure, its visits and its wet places, as kept in one file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from advisor import terms
from advisor.callout.log_record import LogEntry
from advisor.callout.reader import KIND, read_fields
from advisor.callout.readings import by_day, effective, latest
from advisor.callout.record import Finding, Leak, Reading, Release, Truth, Visit
from advisor.callout.unspoken import private_unspoken
from advisor.terms import Attribute, Faulty
from advisor.terms.source_file import read_bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """file: its name in messages. private: names and addresses, which never leave it."""

    key: str
    file: str
    private: dict[str, Any]
    structure: dict[str, Finding]
    visits: tuple[Visit, ...]
    leaks: tuple[Leak, ...]
    releases: tuple[Release, ...] = ()
    log: tuple[LogEntry, ...] = ()
    truth: Truth | None = None

    @classmethod
    def read(cls, path: str | Path, attributes: Mapping[str, Attribute] | None = None) -> Callout:
        """The callout in a file. attributes: by key; None for those of the shipped knowledge.

        Raises Faulty with every problem of the file.
        """
        return cls.parse(read_bytes(Path(path), file=str(path)), str(path), attributes)

    @classmethod
    def parse(
        cls, data: bytes | str, file: str, attributes: Mapping[str, Attribute] | None = None
    ) -> Callout:
        """The callout in `data`. Raises as `read` does."""
        known = _shipped() if attributes is None else attributes
        try:
            node = terms.parse(data, file)
        except Faulty as faulty:
            # Nobody knows yet what stands where, so the loader quotes the private block as well.
            raise Faulty(private_unspoken(faulty.problems, data)) from None
        return cls(file=file, **read_fields(node, known))

    @property
    def last_day(self) -> date | None:
        """The day of the last visit; None before the first."""
        return max((visit.day for visit in self.visits), default=None)

    def as_of(self, day: date) -> Callout:
        """What was known at the end of that day. A reading corrected since is as corrected."""

        def then(findings: dict[str, Finding]) -> dict[str, Finding]:
            return {
                key: replace(finding, readings=known)
                for key, finding in findings.items()
                if (known := _until(finding.readings, day))
            }

        return replace(
            self,
            structure=then(self.structure),
            visits=tuple(
                replace(v, findings=then(v.findings)) for v in self.visits if v.day <= day
            ),
            leaks=tuple(replace(leak, findings=then(leak.findings)) for leak in self.leaks),
            releases=tuple(release for release in self.releases if release.day <= day),
            log=tuple(entry for entry in self.log if entry.day <= day),
        )

    def kinds(self, attributes: Mapping[str, Attribute]) -> tuple[str, ...]:
        """The kinds of structure that it can be, as last told and corrected."""
        attribute = attributes[KIND]
        told = latest(by_day(effective(self.structure[KIND].readings), attribute)).value
        mask = told if isinstance(told, int) else attribute.every_choice
        return tuple(c.key for bit, c in enumerate(attribute.choices) if mask >> bit & 1)

    def leak(self, key: str) -> Leak | None:
        """The wet place of that key."""
        return next((leak for leak in self.leaks if leak.key == key), None)

    def findings(self) -> Iterator[Finding]:
        """Every finding of the file, in its order."""
        yield from self.structure.values()
        for visit in self.visits:
            yield from visit.findings.values()
        for leak in self.leaks:
            yield from leak.findings.values()


def _shipped() -> Mapping[str, Attribute]:
    # Reading the knowledge takes time, and a caller that brings its own needs none of it.
    from advisor.knowledge import open_knowledge  # noqa: PLC0415

    return open_knowledge().attributes


def _until(readings: tuple[Reading, ...], day: date) -> tuple[Reading, ...]:
    """Corrections are settled first, since they count the readings of the whole list."""
    return tuple(
        replace(reading, corrects=None)
        for reading in effective(readings)
        if reading.day is None or reading.day <= day
    )
