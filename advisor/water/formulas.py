"""The formulas that knowledge files may bind to attributes, by name.

Each stands at the foot of its module, below the functions it is made of. What it means in
words stands with the attribute that it gives, in `knowledge/attributes/`.
"""

from collections.abc import Mapping
from types import MappingProxyType

from advisor.water import (
    crack,
    crack_width,
    healing,
    moist_air,
    opening,
    plain,
    pores,
    pressure,
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
    moist_air,
    uplift,
)

FORMULAS: Mapping[str, Formula] = MappingProxyType(
    {formula.name: formula for module in _MODULES for formula in module.FORMULAS}
)
