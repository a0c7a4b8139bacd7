"""The formulas that knowledge files may bind to attributes, by name.

Each stands at the foot of its module, below the functions it is made of. What it means in
words stands with the attribute that it gives, in `knowledge/attributes/`.
"""

from collections.abc import Mapping
from types import MappingProxyType

from advisor.water import (
    chemistry,
    covering,
    crack,
    crack_limits,
    crack_width,
    dosing,
    filling,
    healing,
    leak_classes,
    level_tests,
    moist_air,
    movement,
    opening,
    packers,
    pipe_tests,
    plain,
    pores,
    pressure,
    restraint,
    sealant,
    shrinkage,
    uplift,
)
from advisor.water.formula import Formula

_MODULES = (
    plain,
    pressure,
    crack,
    crack_width,
    opening,
    pores,
    healing,
    crack_limits,
    moist_air,
    uplift,
    level_tests,
    pipe_tests,
    leak_classes,
    movement,
    restraint,
    shrinkage,
    chemistry,
    dosing,
    packers,
    filling,
    covering,
    sealant,
)

FORMULAS: Mapping[str, Formula] = MappingProxyType(
    {formula.name: formula for module in _MODULES for formula in module.FORMULAS}
)
