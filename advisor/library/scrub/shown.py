"""What the advisor answered at the time, as it is kept: words of the knowledge, and no others."""

import re
from collections.abc import Collection, Iterable, Mapping
from typing import Final

from advisor.callout import Finding, Resolved
from advisor.callout.log_record import Proposed
from advisor.knowledge import Knowledge
from advisor.library.case import Shown

UNKNOWN: Final = "unknown"
_VERSION: Final = re.compile(r"\d{1,3}\.\d{1,3}(\.\d{1,3})?(\.?(a|b|rc|dev|post)\d{1,3})?")
_FINGERPRINT: Final = re.compile(r"(?=.*[a-f])[0-9a-f]{12}")


def shown(
    knowledge: Knowledge, entry: Proposed, day: int, answered: Collection[str]
) -> tuple[Shown, int]:
    """The answer, and how many of its words were left out: what the knowledge does not have may
    be a name. day: from the first visit. answered: attributes that are known by now.

    A look was suggested for what was not known then: what is known now was looked at.
    """
    causes, methods, looks, advised = (
        tuple(word for word in named if word in known) for named, known in _words(knowledge, entry)
    )
    version, fingerprint = (
        written if form.fullmatch(written) else UNKNOWN
        for form, written in ((_VERSION, entry.advisor), (_FINGERPRINT, entry.knowledge))
    )
    kept = Shown(
        day=day,
        advisor=version,
        knowledge=fingerprint,
        settled_on=entry.settled_on,
        causes={cause: entry.causes[cause] for cause in causes},
        methods={method: entry.methods[method] for method in methods},
        advised=advised[0] if advised else None,
        looks=looks,
        taken=tuple(k for k in looks if any(a in answered for a in knowledge.looks[k].attributes)),
    )
    left_out = sum(word not in known for named, known in _words(knowledge, entry) for word in named)
    return kept, left_out + (version, fingerprint).count(UNKNOWN)


def answered_in(facts: Mapping[str, Resolved], *parts: Mapping[str, Finding]) -> frozenset[str]:
    """The attributes that somebody answered; dates and texts too, which are no facts."""
    found = {name.partition(".")[0] for name in facts}
    for findings in parts:
        found |= {k for k, f in findings.items() if any(r.value is not None for r in f.readings)}
    return frozenset(found)


def _words(
    knowledge: Knowledge, entry: Proposed
) -> tuple[tuple[Iterable[str], Collection[str]], ...]:
    """What is named, and what may be."""
    return (
        (entry.causes, knowledge.causes),
        (entry.methods, knowledge.methods),
        (entry.looks, knowledge.looks),
        ((entry.advised,) if entry.advised else (), knowledge.methods),
    )
