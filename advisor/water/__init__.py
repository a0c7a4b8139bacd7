"""Physics of water and limits of standards: plain vectorised functions of numbers.

Each module is one subject. `FORMULAS` names those that knowledge files may bind to attributes.
Nothing here loads more than numpy.
"""

from advisor.water.formula import SAME, Check, Formula, Level
from advisor.water.formulas import FORMULAS
from advisor.water.numbers import Band, Range

__all__ = ["FORMULAS", "SAME", "Band", "Check", "Formula", "Level", "Range"]
