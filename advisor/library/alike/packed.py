"""The findings of a wet place in few bytes, for looking through many places at once.

A record has ten bytes: the number of the variable's name, and its value in eight. A choice is the
mask of what it can still be; a number its two ends as 32-bit floats, the lower one first. An end
that nobody told is infinite. Records stand in the order of their numbers.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from math import inf, nextafter
from typing import Final

import numpy as np
import numpy.typing as npt

from advisor.knowledge import Knowledge
from advisor.library.alike.findings import Facts, attribute_of, read_findings
from advisor.library.case import KeptFinding, KeptPlace
from advisor.terms import Attribute, Range

Records = npt.NDArray[np.void]
"""(findings,) of RECORD."""

RECORD: Final = np.dtype([("variable", "<u2"), ("value", "<u8")])


START_NUMBER: Final = 65535
START: Final = np.array([(START_NUMBER, 0)], dtype=RECORD).tobytes()
"""A record of no variable: a place begins."""


def pack(knowledge: Knowledge, facts: Facts, names: Mapping[str, int]) -> bytes:
    """What was found, where it tells anything. What does not apply is not there.

    names: the number of each variable, 0 to 65534, the same for good. Raises KeyError for a
    finding without a number.
    """
    found = []
    for key, fact in facts.items():
        attribute = attribute_of(knowledge, key)
        if attribute is None or fact.not_applicable:
            continue
        value = _packed(fact.value, attribute)
        if value is not None:
            found.append((names[key], value))
    return np.array(sorted(found), dtype=RECORD).tobytes()


@dataclass(frozen=True, slots=True)
class PackedPlaces:
    """The findings of many places. counts: (places,) records of each; joined: all of them.

    ids: (places,) the `place_id` of each, where they come out of a library.
    """

    counts: npt.NDArray[np.int64]
    joined: bytes
    ids: npt.NDArray[np.int64]

    def __len__(self) -> int:
        return int(self.counts.size)


def split(joined: bytes, ids: npt.NDArray[np.int64]) -> PackedPlaces:
    """Places as `packer` made them, one behind the other in the order of their ids."""
    variables = unpack(joined)["variable"]
    starts = np.flatnonzero(variables == START_NUMBER)
    counts = np.diff(np.append(starts, variables.size))
    return PackedPlaces(counts.astype(np.int64), joined, ids)


def together(places: Sequence[bytes]) -> PackedPlaces:
    """Places that were packed one by one."""
    counts = np.fromiter(map(len, places), np.int64, len(places)) // RECORD.itemsize
    return PackedPlaces(counts, b"".join(places), np.arange(len(places)))


def packer(
    knowledge: Knowledge, numbers: Callable[[Sequence[str]], Mapping[str, int]]
) -> Callable[[KeptPlace], bytes]:
    """Packs places as they are kept, each behind START, so that many can be read as one.

    numbers: of the names of variables, new ones too.

    The same finding stands in thousands of cases: each is read once.
    """
    read: dict[tuple[str, str | None], int | None] = {}

    def packed(place: KeptPlace) -> bytes:
        found = []
        for key, finding in place.findings.items():
            said = key, finding.value
            if said not in read:
                read[said] = _value_of(knowledge, key, finding)
            if (value := read[said]) is not None:
                found.append((key, value))
        number = numbers([key for key, _ in found])
        records = sorted((number[key], value) for key, value in found)
        return START + np.array(records, dtype=RECORD).tobytes()

    return packed


def _value_of(knowledge: Knowledge, key: str, finding: KeptFinding) -> int | None:
    fact = read_findings(knowledge, {key: finding})[0].get(key)
    attribute = attribute_of(knowledge, key)
    if fact is None or attribute is None or fact.not_applicable:
        return None
    return _packed(fact.value, attribute)


def form_of(knowledge: Knowledge) -> str:
    """A name for how findings are packed: it changes with the choices and units of attributes."""
    told = [
        (a.key, a.kind, a.unit, [choice.key for choice in a.choices])
        for a in knowledge.attributes.values()
    ]
    return sha256(repr(told).encode()).hexdigest()[:16]


def unpack(packed: bytes) -> Records:
    """The records of one place, or of many joined."""
    return np.frombuffer(packed, dtype=RECORD)


def ends(values: npt.NDArray[np.uint64]) -> tuple[npt.NDArray[np.float64], ...]:
    """The lower and upper ends of packed numbers, each (findings,)."""
    both = np.ascontiguousarray(values).view("<f4").reshape(-1, 2).astype(np.float64)
    return both[:, 0], both[:, 1]


def _packed(value: object, attribute: Attribute) -> int | None:
    """The value in eight bytes; None where it says nothing."""
    if isinstance(value, Range):
        if (told := _told(value, attribute)) == (-inf, inf):
            return None
        return int(np.array(told, dtype="<f4").view("<u8")[0])
    if isinstance(value, int) and value != attribute.every_choice:
        return value
    return None


def _told(value: Range, attribute: Attribute) -> tuple[float, float]:
    """The ends that somebody told: those at the limits of what can be are nobody's."""
    if value.is_point:
        return value.lo, value.lo
    top = nextafter(attribute.highest, inf)
    return (
        value.lo if value.lo > attribute.lowest else -inf,
        value.hi if value.hi < top else inf,
    )
