"""Will it float: weight against water pressure from below.

EN 1997-1, limit state UPL, 2.4.7.4, without anchors and without friction: factor on uplift x
uplift at most factor on weight x weight.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from advisor.water.formula import Formula
from advisor.water.numbers import Floats, Numbers, floats, where

CONCRETE = 24.0
"""kN/m3, reinforced concrete on the low side, so that it floats rather too soon."""

WATER = 9.81
"""kN/m3, fresh water. Sea water weighs 2.5 % more."""


class Factors(NamedTuple):
    """Partial factors on the water that lifts and on the weight that holds."""

    uplift: float
    weight: float
    status: str


FACTORS: Mapping[str, Factors] = MappingProxyType(
    {
        "EN 1997-1, recommended": Factors(1.0, 0.9, "verified: textbook table from annex A"),
        "EN 1997-1, United Kingdom": Factors(1.1, 0.9, "verified: two worked examples"),
    }
)


class Shell(NamedTuple):
    """An open box: inside length, width and depth in m, thickness of walls and base in m."""

    length: Numbers
    width: Numbers
    depth: Numbers
    wall: Numbers
    base: Numbers


def slab_pressure(thickness: Numbers, unit_weight: Numbers = CONCRETE) -> Floats:
    """Head of water in m over its underside that just lifts a loose slab, without any factor.

    thickness: mm, above 0, else NaN; unit_weight: kN/m3.
    """
    t = floats(thickness) / 1000
    return where(t > 0, floats(unit_weight) * t / WATER)


def outer_area(shell: Shell) -> Floats:
    """Area in m2 that the water lifts: inside and walls, no toe."""
    wall = 2 * floats(shell.wall)
    return (floats(shell.length) + wall) * (floats(shell.width) + wall)


def shell_weight(shell: Shell, unit_weight: Numbers = CONCRETE) -> Floats:
    """Weight in kN of the empty box. NaN where a measure is not above 0."""
    parts = [floats(p) for p in (shell.length, shell.width, shell.depth, shell.wall, shell.base)]
    valid = np.all(np.stack(np.broadcast_arrays(*parts)) > 0, axis=0)
    area, inside = outer_area(shell), parts[0] * parts[1]
    volume = (area - inside) * parts[2] + area * parts[4]
    return where(valid, volume * floats(unit_weight))


def uplift_force(shell: Shell, head: Numbers, water_weight: Numbers = WATER) -> Floats:
    """Force in kN with which water lifts the box. head: m over the underside; below 0 none."""
    return floats(water_weight) * outer_area(shell) * np.maximum(floats(head), 0.0)


def floating_head(
    shell: Shell, factors: Factors | None = None, unit_weight: Numbers = CONCRETE
) -> Floats:
    """Head in m over the underside at which the empty box floats; with factors, what is allowed."""
    ratio = 1.0 if factors is None else factors.weight / factors.uplift
    return ratio * shell_weight(shell, unit_weight) / (WATER * outer_area(shell))


def water_to_leave(
    shell: Shell, head: Numbers, factors: Factors, unit_weight: Numbers = CONCRETE
) -> Floats:
    """Depth of water in m that must stay inside so that the box is held, at least 0.

    Its weight counts with the factor of the weight.
    """
    missing = factors.uplift * uplift_force(shell, head) - factors.weight * shell_weight(
        shell, unit_weight
    )
    inside = floats(shell.length) * floats(shell.width)
    return np.maximum(missing / (factors.weight * WATER * inside), 0.0)


_EN, _UNITED_KINGDOM = FACTORS.values()
_BOX = ("m", "m", "m", "mm", "mm")


def _box(length: Numbers, width: Numbers, depth: Numbers, wall: Numbers, base: Numbers) -> Shell:
    """Walls and base in mm, as a technician measures them."""
    return Shell(
        length=length,
        width=width,
        depth=depth,
        wall=floats(wall) / 1000,
        base=floats(base) / 1000,
    )


FORMULAS = (
    Formula(name="slab-lifting-head", reads=("mm",), unit="m", rises="+", point=slab_pressure),
    Formula(
        name="floating-head",
        reads=_BOX,
        unit="m",
        rises="--+++",
        point=lambda *box: floating_head(_box(*box)),
    ),
    Formula(
        name="allowed-head-en-1997",
        reads=_BOX,
        unit="m",
        rises="--+++",
        point=lambda *box: floating_head(_box(*box), _EN),
    ),
    Formula(
        name="allowed-head-united-kingdom",
        reads=_BOX,
        unit="m",
        rises="--+++",
        point=lambda *box: floating_head(_box(*box), _UNITED_KINGDOM),
    ),
    Formula(
        name="water-to-leave",
        reads=(*_BOX, "m"),
        unit="m",
        rises="??-?-+",
        point=lambda *inputs: water_to_leave(_box(*inputs[:5]), inputs[5], _UNITED_KINGDOM),
    ),
)
