"""Facts over the set of wet places of one callout.

An attribute names its function and, in order, the attributes that the function reads.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from advisor.callout.callout import Callout
from advisor.callout.readings import UNKNOWN, Resolved
from advisor.terms import Attribute, Faulty, Problem, Range, nearest, one_of

Places = Sequence[tuple[Resolved, ...]]
"""For each wet place what is known of the attributes that are read."""

PITCH = (0.3, 4.0)
"""Metres. Closer than formwork ties are set, and further apart than anyone sets them."""
FIT = 0.1
"""How far off a spacing may be, in pitches: tape over a rough wall."""
SAME = 0.1
"""Metres. Marks this close are one line of the grid, or one place measured twice."""
WIDEST = 0.2
"""Metres. A position known less closely says nothing about a pitch."""

_YES, _NO = 1, 2


def count(places: Places) -> Resolved:
    """The number of wet places."""
    return Resolved(Range.point(float(len(places))))


def regular_pitch(places: Places) -> Resolved:
    """Whether the wet places lie on a grid: yes 1, no 2. Each input is an axis, in metres.

    Needs three known positions, and three different ones along one axis. Along each axis
    the smallest spacing between neighbours is the pitch, and every other spacing must be
    a multiple of it within a tenth. Yes when every axis fits. Unknown when only half the
    smallest spacing fits: dry points may lie between. Else no. An axis that is not known
    at every known position is passed over.
    """
    answer = _pitch(_positions(places, only_sure=False))
    sure = _pitch(_positions(places, only_sure=True)) == answer
    return UNKNOWN if answer is None else Resolved(answer, sure=sure)


BY_NAME: dict[str, Callable[[Places], Resolved]] = {
    "count": count,
    "regular-pitch": regular_pitch,
}


def over_places(attribute: Attribute, places: Places) -> Resolved:
    """The fact that `attribute.over_places` names.

    Raises Faulty when there is no such function.
    """
    if attribute.over_places is None:
        return UNKNOWN
    name, _ = attribute.over_places
    if name not in BY_NAME:
        raise Faulty(
            Problem(
                message=f'there is no fact over wet places "{name}"',
                key=attribute.key,
                expected=one_of(BY_NAME),
                nearest=nearest(name, BY_NAME),
            )
        )
    return BY_NAME[name](places)


def waters(callout: Callout) -> tuple[tuple[str, ...], ...]:
    """The wet places, grouped by the water that feeds them, in the order of the file."""
    group = {leak.key: leak.key for leak in callout.leaks}
    for leak in callout.leaks:
        if leak.same_water is not None:
            old, new = group[leak.key], group[leak.same_water]
            group = {key: new if root == old else root for key, root in group.items()}
    roots = dict.fromkeys(group.values())
    groups = (tuple(key for key in group if group[key] == root) for root in roots)
    return tuple(sorted(groups, key=lambda keys: list(group).index(keys[0])))


def _positions(places: Places, *, only_sure: bool) -> list[tuple[float | None, ...]]:
    """The places whose first axis is known."""
    metres = [tuple(_metres(axis, only_sure=only_sure) for axis in place) for place in places]
    return [place for place in metres if place and place[0] is not None]


def _metres(axis: Resolved, *, only_sure: bool) -> float | None:
    if not isinstance(axis.value, Range) or (only_sure and not axis.sure):
        return None
    width = axis.value.hi - axis.value.lo
    return axis.value.lo + width / 2 if width <= WIDEST else None


def _pitch(positions: list[tuple[float | None, ...]]) -> int | None:
    if len(positions) < 3:
        return None
    axes = [[x for x in axis if x is not None] for axis in zip(*positions, strict=True)]
    spacings = [_spacings(axis) for axis in axes if len(axis) == len(positions)]
    if max(map(len, spacings)) < 2:
        return None
    fits = [_fits(axis) for axis in spacings if axis]
    if _NO in fits:
        return _NO
    return None if None in fits else _YES


def _spacings(axis: list[float]) -> list[float]:
    """Between neighbours, as far as they are different places."""
    steps = []
    last = min(axis)
    for x in sorted(axis):
        if x - last > SAME:
            steps.append(x - last)
            last = x
    return steps


def _fits(spacings: list[float]) -> int | None:
    least = min(spacings)
    if _on_grid(spacings, least):
        return _YES
    return None if _on_grid(spacings, least / 2) else _NO


def _on_grid(spacings: list[float], pitch: float) -> bool:
    if not PITCH[0] <= round(pitch, 6) <= PITCH[1]:
        return False
    return all(abs(step - round(step / pitch) * pitch) <= FIT * pitch for step in spacings)
