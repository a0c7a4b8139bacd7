"""The findings of a wet place in few bytes, for looking through many places at once.

A record has ten bytes: the number of the variable's name, and its value in eight. A choice is the
mask of what it can still be; a number its two ends as 32-bit floats, the lower one first. An end
that nobody told is infinite. Records stand in the order of their numbers.
"""

from collections.abc import Mapping
from hashlib import sha256
from math import inf, nextafter
from typing import Final

import numpy as np
import numpy.typing as npt

from advisor.knowledge import Knowledge
from advisor.library.findings import Facts, attribute_of
from advisor.terms import Attribute, Range

Records = npt.NDArray[np.void]
"""(findings,) of RECORD."""

RECORD: Final = np.dtype([("variable", "<u2"), ("value", "<u8")])


def pack(knowledge: Knowledge, facts: Facts, names: Mapping[str, int]) -> bytes:
    """What was found, where it tells anything. What does not apply is not there.

    names: the number of each variable, 0 to 65535, the same for good. Raises KeyError for a
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
